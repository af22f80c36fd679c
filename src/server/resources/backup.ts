import { randomUUID } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { rm, stat } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream as NodeReadable } from 'node:stream/web'
import { Hono } from 'hono'
import type { Store } from '../../store/index.ts'
import { Refusal, refuse } from '../answers.ts'

/** @param scratch a folder on the store's own disk, for files on their way in or out */
export const backupRoutes = (store: Store, scratch: string, now: () => Date): Hono =>
  new Hono()
    .get('/backup', async (context) => {
      const file = join(scratch, `backup-${randomUUID()}`)
      await store.backup(file)
      const { size } = await stat(file)
      const reading = createReadStream(file)
      // gone as soon as it is sent, or the download is broken off
      reading.once('close', () => void rm(file, { force: true }))
      const name = `pourwright-${now().toISOString().slice(0, 10)}.backup`
      return context.body(Readable.toWeb(reading) as ReadableStream<Uint8Array>, 200, {
        'content-type': 'application/octet-stream',
        'content-length': String(size),
        'content-disposition': `attachment; filename="${name}"`,
        'cache-control': 'no-store',
      })
    })
    .post('/restore', async (context) => {
      const { body } = context.req.raw
      if (body === null) throw refuse(400, '', 'no backup came with this', 'choose a backup file')
      const file = join(scratch, `upload-${randomUUID()}`)
      try {
        await pipeline(Readable.fromWeb(body as NodeReadable), createWriteStream(file, { flags: 'wx' }))
        const restored = await store.restore(file)
        if (restored.kind === 'refused')
          throw new Refusal(400, [{ ...restored.problem, where: 'the backup file' }])
        return context.json({ restored: true, before: basename(restored.before) })
      } finally {
        await rm(file, { force: true })
      }
    })
