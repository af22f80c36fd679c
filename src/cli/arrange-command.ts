import { parseArgs } from 'node:util'
import { badArguments, type ExitStatus, refuse, type Shell } from './command.ts'
import { Refusal } from './refusal.ts'

export const summary =
  'where each wax and sprue goes, in the smallest flask that does, every clearance measured'

export const usage = `pourwright arrange POUR.json [--body FILE.stl] [--cavity FILE.stl] [--drawing FILE.svg] [--page N] [--units mm|in] [--length mm|in] [--effort N] [--json]

  --body FILE       writes the metal, pieces and sprues joined, as binary STL in the flask's own mm
  --cavity FILE     writes the investment in the same way
  --drawing FILE    writes the dimensioned sheet as SVG: the tree, each wax by itself, and the tables, its pages one below the other
  --page N          only this page of the drawing, as large as a sheet of A4 or Letter holds
  --units mm|in     what the drawing’s lengths are written in; as --length, and mm when both are left out
  --length mm|in    what the answer’s lengths are written in; as --units when left out. JSON is in mm, as its keys say
  --effort N        how long to look for a smaller flask: 0 takes the first found, 1 is usual, 10 looks ten times as long
  --shop FILE       the shop, for a pour that does not hold its own
  --json            the answer as JSON, each key with its unit

Exit status 1 when nothing fits, a clearance is broken, or the plan stops for these pieces and sprues.`

const isUnit = (asked: string | undefined): asked is 'mm' | 'in' | undefined =>
  asked === undefined || asked === 'mm' || asked === 'in'

const MOST_EFFORT = 1000

const parse = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      shop: { type: 'string' },
      body: { type: 'string' },
      cavity: { type: 'string' },
      drawing: { type: 'string' },
      units: { type: 'string' },
      page: { type: 'string' },
      length: { type: 'string' },
      effort: { type: 'string' },
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
  const [path, ...others] = positionals
  if (path === undefined || others.length > 0)
    return refuse(shell, values.json, [
      {
        where: '',
        what: path === undefined ? 'no pour was named' : 'more than one pour was named',
        remedy: 'give the path of one pour’s JSON file',
      },
    ])
  const { units, length } = values
  if (!isUnit(units))
    return refuse(shell, values.json, [
      { where: '--units', what: `"${units}" is no unit for this drawing`, remedy: 'say mm or in' },
    ])
  if (!isUnit(length))
    return refuse(shell, values.json, [
      { where: '--length', what: `"${length}" is none of the choices`, remedy: 'say mm or in' },
    ])
  const page = values.page === undefined ? undefined : Number(values.page)
  if (page !== undefined && !(Number.isInteger(page) && page >= 1))
    return refuse(shell, values.json, [
      {
        where: '--page',
        what: `"${values.page}" is no page of a drawing`,
        remedy: 'give a whole number from 1',
      },
    ])
  const effort = values.effort === undefined ? undefined : Number(values.effort)
  if (effort !== undefined && !(effort >= 0 && effort <= MOST_EFFORT && values.effort?.trim() !== ''))
    return refuse(shell, values.json, [
      {
        where: '--effort',
        what: `"${values.effort}" is no measure of how long to look`,
        remedy: `give a number from 0 to ${MOST_EFFORT}; 1 is usual`,
      },
    ])
  try {
    const { runArrange } = await import('./arrange.ts')
    const { out, exitStatus } = await runArrange(path, { ...values, units, length, page, effort })
    shell.write(out.endsWith('\n') ? out : `${out}\n`)
    return exitStatus
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    return refuse(shell, values.json, error.problems)
  }
}
