import { ZERO_CELSIUS_IN_KELVIN } from '../quantity/units.ts'
import { chemicalPotentials, copperByMass, copperByMole, type SolutionPhase } from './silver-copper-gibbs.ts'

/**
 * Two-phase equilibria of silver and copper: pairs of compositions with equal chemical potentials, followed
 * from each metal's melting point to the eutectic, and the solid's splitting from there down to 298 K.
 * Solved once when this file is loaded (a few milliseconds) into constant tables; single points are then
 * polished by Newton's method from the nearest entries, to about 1e-10 in composition.
 */
export interface TieLine {
  /** K */
  readonly temperature: number
  /** mass fraction of copper in the first phase: the solid, or the silver-rich solid */
  readonly first: number
  /** mass fraction of copper in the second phase: the liquid, or the copper-rich solid */
  readonly second: number
}

/** The solid's composition against the liquid's, from pure metal (index 0) to the eutectic (last). */
export type Side = 'silver' | 'copper'

export const SILVER_MELTING = 961.78 + ZERO_CELSIUS_IN_KELVIN // K, ITS-90
export const COPPER_MELTING = 1084.62 + ZERO_CELSIUS_IN_KELVIN // K, ITS-90

const NODES = 96
const LOWEST = 298.15

interface MolePair {
  readonly first: number
  readonly second: number
}

const inside = (from: number, step: number): number => {
  const to = from + step
  // a step past an end goes half the way there instead, so that the logarithms stay real
  return to <= 0 ? from / 2 : to >= 1 ? (1 + from) / 2 : to
}

/** Equal chemical potentials of both metals in both phases at T [K], by Newton's method from `start`. */
function balance(phases: readonly [SolutionPhase, SolutionPhase], T: number, start: MolePair): MolePair {
  let { first, second } = start
  for (let step = 0; step < 40; step++) {
    const p = chemicalPotentials(phases[0], first, T)
    const q = chemicalPotentials(phases[1], second, T)
    const silver = q.silver - p.silver
    const copper = q.copper - p.copper
    const determinant = q.silverSlope * p.copperSlope - q.copperSlope * p.silverSlope
    const dFirst = (silver * q.copperSlope - copper * q.silverSlope) / determinant
    const dSecond = (silver * p.copperSlope - copper * p.silverSlope) / determinant
    const nextFirst = inside(first, -dFirst)
    const nextSecond = inside(second, -dSecond)
    const moved =
      Math.abs(nextFirst - first) / (first * (1 - first)) +
      Math.abs(nextSecond - second) / (second * (1 - second))
    first = nextFirst
    second = nextSecond
    if (moved < 1e-12) break
  }
  return { first, second }
}

const byMass = (temperature: number, pair: MolePair): TieLine => ({
  temperature,
  first: copperByMass(pair.first),
  second: copperByMass(pair.second),
})

const MELT = ['solid', 'liquid'] as const
const SPLIT = ['solid', 'solid'] as const

// Rough compositions about 1050 K, close enough for Newton's method; any start in their basin serves.
const SILVER_START: MolePair = { first: 0.13, second: 0.4 }
const COPPER_START: MolePair = { first: 0.95, second: 0.4 }

/** Where both sides ask for the same liquid: the secant method on the difference of the two liquids. */
function solveEutectic() {
  const at = (T: number) => {
    const silver = balance(MELT, T, SILVER_START)
    const copper = balance(MELT, T, COPPER_START)
    return { T, silver, copper, gap: silver.second - copper.second }
  }
  let older = at(1050)
  let newer = at(1054)
  for (let step = 0; step < 30 && Math.abs(newer.T - older.T) > 1e-10; step++) {
    const T = newer.T - (newer.gap * (newer.T - older.T)) / (newer.gap - older.gap)
    older = newer
    newer = at(T)
  }
  return newer
}

const solved = solveEutectic()

/**
 * The eutectic of the assessment: temperature [K] and mass fractions of copper in its three phases.
 * A second published assessment puts it at 779.9 C and 28.44 % copper.
 */
export const EUTECTIC = {
  temperature: solved.T,
  liquid: copperByMass(solved.silver.second),
  silverSolid: copperByMass(solved.silver.first),
  copperSolid: copperByMass(solved.copper.first),
} as const

/** Follows an equilibrium downward or upward in equal steps, each start being the last answer. */
function follow(
  phases: readonly [SolutionPhase, SolutionPhase],
  from: TieLine,
  to: number,
  start: MolePair,
): readonly TieLine[] {
  const lines = [from]
  let pair = start
  for (let node = 1; node <= NODES; node++) {
    const T = from.temperature + ((to - from.temperature) * node) / NODES
    pair = balance(phases, T, pair)
    lines.push(byMass(T, pair))
  }
  return lines
}

const fromEutectic = (to: number, start: MolePair, pure: number): readonly TieLine[] => {
  const lines = follow(MELT, byMass(EUTECTIC.temperature, start), to, start).slice(0, -1)
  // the last node is the melting point itself, where a logarithm of nothing would be asked for
  return [...lines, { temperature: to, first: pure, second: pure }].reverse()
}

/** Solid (first) and liquid (second) from the pure metal to the eutectic. */
export const MELTING: Record<Side, readonly TieLine[]> = {
  silver: fromEutectic(SILVER_MELTING, solved.silver, 0),
  copper: fromEutectic(COPPER_MELTING, solved.copper, 1),
}

/** Silver-rich (first) and copper-rich (second) solid from the eutectic down to 298 K. */
const SPLITTING: readonly TieLine[] = follow(
  SPLIT,
  { temperature: EUTECTIC.temperature, first: EUTECTIC.silverSolid, second: EUTECTIC.copperSolid },
  LOWEST,
  { first: solved.silver.first, second: solved.copper.first },
)

type Column = 'temperature' | 'first' | 'second'

/** Line of the table at `value` of one column, straight between nodes; null outside the table. */
function between(lines: readonly TieLine[], column: Column, value: number) {
  const first = lines[0] as TieLine
  const last = lines[lines.length - 1] as TieLine
  const rising = last[column] > first[column]
  const isBefore = (line: TieLine) => (rising ? line[column] < value : line[column] > value)
  if (!(value >= Math.min(first[column], last[column]) && value <= Math.max(first[column], last[column]))) {
    return null
  }
  let low = 0
  let high = lines.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (isBefore(lines[middle] as TieLine)) low = middle
    else high = middle
  }
  const a = lines[low] as TieLine
  const b = lines[high] as TieLine
  const share = (value - a[column]) / (b[column] - a[column])
  const mix = (of: Column) => a[of] + share * (b[of] - a[of])
  return {
    line: { temperature: mix('temperature'), first: mix('first'), second: mix('second') },
    /** K per unit of the two compositions, along this piece of the table */
    slope: (of: 'first' | 'second') => (b.temperature - a.temperature) / (b[of] - a[of]),
    isPureEnd: low === 0 && (a.first === 0 || a.first === 1),
  }
}

const polish = (phases: readonly [SolutionPhase, SolutionPhase], near: TieLine, T: number): TieLine =>
  byMass(T, balance(phases, T, { first: copperByMole(near.first), second: copperByMole(near.second) }))

/**
 * Solid and liquid in equilibrium at T on one side of the eutectic.
 * @param T K, from the eutectic to that metal's melting point; outside it null
 */
export function meltingAt(side: Side, T: number): TieLine | null {
  const found = between(MELTING[side], 'temperature', T)
  if (!found) return null
  return found.isPureEnd ? found.line : polish(MELT, found.line, T)
}

/** The two solids in equilibrium at T [K], from 298.15 K to the eutectic; outside it null. */
export function splittingAt(T: number): TieLine | null {
  const found = between(SPLITTING, 'temperature', T)
  return found && polish(SPLIT, found.line, T)
}

/**
 * Temperature [K] at which the solid (first) or liquid (second) of one side has the composition w (mass
 * fraction of copper); null where that phase never has it.
 */
export function temperatureWhere(side: Side, phase: 'first' | 'second', w: number): number | null {
  const found = between(MELTING[side], phase, w)
  if (!found) return null
  if (found.isPureEnd) return found.line.temperature
  const slope = found.slope(phase)
  let line = found.line
  for (let step = 0; step < 12; step++) {
    const exact = polish(MELT, line, line.temperature)
    const correction = (w - exact[phase]) * slope
    if (Math.abs(correction) < 1e-9) break
    line = { ...exact, temperature: line.temperature + correction }
  }
  return line.temperature
}
