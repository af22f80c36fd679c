import { parseArgs } from 'node:util'
import { badArguments, type ExitStatus, refuse, type Shell } from './command.ts'
import { runHeat } from './heat.ts'
import { Refusal } from './refusal.ts'

export const summary = 'heat through a slab, a round body or a ball in time: a textbook case, solved'

export const usage = `pourwright heat CASE.json [--cells N] [--tolerance K] [--json]

  CASE.json       geometry, materials, boundary, probes and times; its form is in schemas/heat-case.schema.json
  --cells N       along the shortest half of the body, 4 to 2000; 12 to 640 otherwise, by the case
  --tolerance K   error allowed in each step; a small share of the temperatures’ span otherwise
  --json          the answer as JSON, each key with its unit`

const parse = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      cells: { type: 'string' },
      tolerance: { type: 'string' },
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
  if (path === undefined)
    return refuse(shell, values.json, [
      { where: '', what: 'no case was named', remedy: 'give the path of a heat case’s JSON file' },
    ])
  if (others.length > 0)
    return refuse(shell, values.json, [
      { where: '', what: 'more than one case was named', remedy: 'solve them one by one' },
    ])
  const cells = values.cells === undefined ? undefined : Number(values.cells)
  if (cells !== undefined && !(Number.isInteger(cells) && cells >= 4 && cells <= 2000))
    return refuse(shell, values.json, [
      {
        where: '--cells',
        what: `"${values.cells}" is no count of cells`,
        remedy: 'give a whole number from 4 to 2000',
      },
    ])
  const tolerance_K = values.tolerance === undefined ? undefined : Number(values.tolerance)
  if (tolerance_K !== undefined && !(tolerance_K >= 1e-9 && tolerance_K <= 100))
    return refuse(shell, values.json, [
      {
        where: '--tolerance',
        what: `"${values.tolerance}" is no tolerance`,
        remedy: 'give kelvins, from 1e-9 to 100',
      },
    ])
  try {
    shell.write(`${await runHeat(path, { cells, tolerance_K, json: values.json })}\n`)
    return 0
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    return refuse(shell, values.json, error.problems)
  }
}
