import { readHeatCase } from '../engine/documents/index.ts'
import { type HeatOptions, type HeatSolution, solveHeat } from '../engine/physics/conduct/index.ts'
import { newerThanKnown, readJson } from './read-json.ts'
import { Refusal, refuse } from './refusal.ts'

/** What `heat --json` writes; keys are part of the published contract, more may come, none may go. */
interface HeatJson {
  readonly kind: 'heat'
  readonly version: 1
  readonly probes: HeatSolution['probes']
  readonly energyError: number
  readonly steps: number
  readonly cells: number
}

const inText = (name: string | undefined, { probes, energyError, steps, cells }: HeatSolution): string => {
  const columns = probes.map(({ at_mm }) => `at ${at_mm.join(', ')} mm`)
  const widths = columns.map((column) => Math.max(column.length, 10))
  const times = probes[0]?.series.map(([s]) => s) ?? []
  return [
    ...(name === undefined ? [] : [name]),
    ['time s'.padStart(10), ...columns.map((column, index) => column.padStart(widths[index] ?? 0))].join(
      '  ',
    ),
    ...times.map((s, row) =>
      [
        String(s).padStart(10),
        ...probes.map(({ series }, index) =>
          (series[row]?.[1] ?? Number.NaN).toFixed(2).padStart(widths[index] ?? 0),
        ),
      ].join('  '),
    ),
    `Degrees Celsius; ${cells} cells, ${steps} steps; heat kept to ${energyError.toExponential(1)} of what was exchanged.`,
  ].join('\n')
}

/** `heat CASE.json`: the case solved. @throws Refusal naming every fault with its place */
export const runHeat = async (path: string, options: HeatOptions & { json: boolean }): Promise<string> => {
  const value = await readJson(path)
  newerThanKnown(path, value, 'heat-case')
  const reading = readHeatCase(value)
  if (!reading.ok) throw new Refusal(reading.problems)
  const solution = solveHeat(reading.value, options)
  if (!solution.finished)
    return refuse(
      '/times_s',
      'the case takes far more work than it is worth: heat crosses the body many thousand times over',
      'ask for earlier times, thicker layers, or fewer cells with --cells',
    )
  const { probes, energyError, steps, cells } = solution
  const json: HeatJson = { kind: 'heat', version: 1, probes, energyError, steps, cells }
  return options.json ? JSON.stringify(json) : inText(reading.value.name, solution)
}
