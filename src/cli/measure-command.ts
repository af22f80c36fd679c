import { readFile } from 'node:fs/promises'
import { parseArgs } from 'node:util'
import { readStated } from '../engine/documents/index.ts'
import { USUAL_ALLOYS } from '../engine/materials/index.ts'
import type { Solids } from '../engine/piece/mesh/index.ts'
import { badArguments, type ExitStatus, refuse, type Shell } from './command.ts'
import { type MeasuredFile, runMeasure } from './measure.ts'

export const summary = 'volume, surface, size and mass of models, and whether they can be trusted'

export const usage = `pourwright measure FILE... [--units mm|in] [--accept-repair] [--json]

  FILE              STL, OBJ, PLY, 3MF or GLB
  --units           for files that do not say their unit; millimetres otherwise
  --accept-repair   use the repair that an earlier call has shown
  --json            the answer as JSON, each key with its unit`

const read = async (path: string): Promise<MeasuredFile> => {
  try {
    return { path, bytes: await readFile(path) }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') return { path, unreadable: 'there is no such file' }
    if (code === 'EISDIR') return { path, unreadable: 'this is a folder' }
    return { path, unreadable: `it could not be read: ${error instanceof Error ? error.message : code}` }
  }
}

/** Without the modeller, overlapping bodies are not measured, and the answer says so. */
const solidsOrNone = async (): Promise<Solids | null> => {
  try {
    return await (await import('../solids/manifold.ts')).loadSolids()
  } catch {
    return null
  }
}

const parse = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      units: { type: 'string' },
      'accept-repair': { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
    },
  })

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  let parsed: ReturnType<typeof parse>
  try {
    parsed = parse(args)
  } catch (error) {
    return badArguments(shell, args, error, usage)
  }
  const { values, positionals } = parsed
  const { units } = values
  if (positionals.length === 0)
    return refuse(shell, values.json, [
      { where: '', what: 'no model was named', remedy: 'name one file or more' },
    ])
  if (units !== undefined && units !== 'mm' && units !== 'in')
    return refuse(shell, values.json, [
      { where: '--units', what: `"${units}" is not a unit for models`, remedy: 'say mm or in' },
    ])
  const [files, solids] = await Promise.all([Promise.all(positionals.map(read)), solidsOrNone()])
  const answer = runMeasure(files, {
    units,
    acceptRepair: values['accept-repair'],
    alloys: USUAL_ALLOYS.map(({ id, density_g_cm3 }) => ({
      id,
      density_g_cm3: readStated(density_g_cm3).value,
    })),
    solids,
  })
  shell.write(values.json ? `${JSON.stringify(answer.json, undefined, 2)}\n` : `${answer.text}\n`)
  if (answer.reason !== null) shell.tell(`pourwright: ${answer.reason}`)
  return answer.exitStatus
}
