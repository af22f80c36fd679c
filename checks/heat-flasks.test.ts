import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readHeatCase } from '../src/engine/documents/index.ts'
import { solveHeat } from '../src/engine/physics/conduct/index.ts'

/**
 * Two flasks against an independent, general-purpose stiff solver: other nodes, other time stepping, another
 * reading of the enthalpy. heat-flasks/solve.py made the stored answers, which name its version.
 */
const folder = new URL('./heat-flasks/', import.meta.url)
const json = (name: string) => JSON.parse(readFileSync(new URL(name, folder), 'utf8'))

interface Solved {
  readonly by: string
  readonly input: string
  readonly probes: readonly { at_mm: number[]; series: [number, number][] }[]
}

const caseNamed = (name: string) => {
  const reading = readHeatCase(json(`${name}.json`))
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems))
  return reading.value
}

test.each([
  // the wet core's curve is nearly upright where its last water leaves: half a per cent of the span there
  ['wet', 704 - 20],
  ['hot', 650 - 20],
])('the %s flask is as scipy has it, within half a per cent of its span', (name, span) => {
  const solved: Solved = json(`${name}.solved.json`)
  expect(solved.by).toMatch(/^scipy \d/)
  const { probes, energyError } = solveHeat(caseNamed(name))
  const worst = Math.max(
    ...solved.probes.flatMap(({ series }, index) =>
      series.map(([, kelvins], at) => Math.abs((probes[index]?.series[at]?.[1] ?? Number.NaN) - kelvins)),
    ),
  )
  expect(worst / span).toBeLessThan(0.005)
  expect(energyError).toBeLessThan(1e-6)
})
