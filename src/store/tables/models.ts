import { createHash } from 'node:crypto'
import { open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { ModelAdded, ModelLine, ModelShelf } from '../store.ts'
import type { Database, Given } from './schema.ts'

/** Bytes of one row: large files stay out of memory, and far under what one row may hold. */
const partSize = 1024 * 1024

interface Spooled {
  readonly sha256: string
  readonly size: number
}

const spool = async (
  file: string,
  bytes: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  most: number,
): Promise<Spooled | undefined> => {
  const hash = createHash('sha256')
  const handle = await open(file, 'wx')
  let size = 0
  try {
    for await (const chunk of bytes) {
      size += chunk.byteLength
      if (size > most) return undefined
      hash.update(chunk)
      await handle.writeFile(chunk)
    }
    return { sha256: hash.digest('hex'), size }
  } finally {
    await handle.close()
  }
}

/** @param incoming a folder for files on their way in, emptied at every start */
export const modelShelf = (database: Database, { now, newId }: Given, incoming: string): ModelShelf => {
  const find = async (from: Database, sha256: string): Promise<ModelLine | undefined> =>
    from.selectFrom('model').selectAll().where('sha256', '=', sha256).executeTakeFirst()

  async function* parts(sha256: string): AsyncGenerator<Uint8Array> {
    for (let part = 0; ; part += 1) {
      const row = await database
        .selectFrom('model_part')
        .select('bytes')
        .where('sha256', '=', sha256)
        .where('part', '=', part)
        .executeTakeFirst()
      if (row === undefined) return
      yield row.bytes
    }
  }

  const keep = (file: string, name: string, { sha256, size }: Spooled): Promise<ModelLine> =>
    database.transaction().execute(async (transaction) => {
      const known = await find(transaction, sha256)
      if (known !== undefined) return known
      const model = { sha256, name, size, added: now().toISOString() }
      await transaction.insertInto('model').values(model).execute()
      const handle = await open(file, 'r')
      try {
        for (let part = 0; part * partSize < size; part += 1) {
          const bytes = new Uint8Array(Math.min(partSize, size - part * partSize))
          const { bytesRead } = await handle.read(bytes, 0, bytes.length, part * partSize)
          if (bytesRead !== bytes.length)
            throw new Error(`a spooled model lost bytes: got ${bytesRead}, expected ${bytes.length}`)
          await transaction.insertInto('model_part').values({ sha256, part, bytes }).execute()
        }
      } finally {
        await handle.close()
      }
      return model
    })

  return {
    add: async (name, bytes, most): Promise<ModelAdded> => {
      const file = join(incoming, `model-${newId()}`)
      try {
        const spooled = await spool(file, bytes, most)
        if (spooled === undefined) return { kind: 'too-large', most }
        if (spooled.size === 0) return { kind: 'empty' }
        return { kind: 'kept', model: await keep(file, name, spooled) }
      } finally {
        await rm(file, { force: true })
      }
    },
    find: (sha256) => find(database, sha256),
    read: async (sha256) => {
      const model = await find(database, sha256)
      if (model === undefined) return undefined
      const whole = new Uint8Array(model.size)
      let at = 0
      for await (const part of parts(sha256)) {
        whole.set(part, at)
        at += part.length
      }
      return whole
    },
    parts,
  }
}
