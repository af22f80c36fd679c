import { copperByMole, molarEnthalpy, molarMass, type SolutionPhase } from './silver-copper-gibbs.ts'
import {
  EUTECTIC,
  MELTING,
  meltingAt,
  type Side,
  splittingAt,
  type TieLine,
  temperatureWhere,
} from './silver-copper-tie-lines.ts'

/**
 * How silver-copper alloys melt and freeze. Everywhere `copper` is a mass fraction (0.075 for sterling) and
 * temperatures are kelvin. Input outside 0 to 1 gives NaN, never a number.
 *
 * From the assessment in silver-copper-gibbs.ts. Its spread, judged by a second published assessment and by
 * the handbooks: about 1 K on the liquidus, up to 8 K on the solidus. Other metals in the alloy (germanium,
 * zinc, tin, solder) are not in it and lower both.
 */
const side = (copper: number): Side => (copper <= EUTECTIC.liquid ? 'silver' : 'copper')

/** Temperature [K] above which the alloy is wholly liquid. */
export const liquidus = (copper: number): number =>
  temperatureWhere(side(copper), 'second', copper) ?? Number.NaN

/**
 * Temperature [K] below which the alloy is wholly solid when it cools slowly enough for the solid to stay
 * even. Real castings of sterling go on freezing down to the eutectic: see `scheilEutecticFraction`.
 * In this assessment copper takes up most silver some 54 K above the eutectic, so alloys of 92.2 to 92.5 % copper freeze whole,
 * melt a little again as they cool further, and are wholly solid for good only at the eutectic.
 */
export function solidus(copper: number): number {
  if (copper >= EUTECTIC.silverSolid && copper <= EUTECTIC.copperSolid) return EUTECTIC.temperature
  return temperatureWhere(side(copper), 'first', copper) ?? Number.NaN
}

/**
 * Lever rule: mass fraction of the second phase of a two-phase alloy.
 * @param whole, first, second compositions (any one component, mass fractions) of alloy and its two phases
 */
export const leverRule = (whole: number, first: number, second: number): number =>
  (whole - first) / (second - first)

interface PhaseShare {
  readonly phase: SolutionPhase
  readonly copper: number
  readonly share: number
}

/** The phases at equilibrium at T [K], with their copper and their share of the mass. */
export function phasesAt(copper: number, T: number): readonly PhaseShare[] {
  if (!(copper >= 0 && copper <= 1 && T > 0)) return []
  if (T >= liquidus(copper)) return [{ phase: 'liquid', copper, share: 1 }]
  if (T > solidus(copper)) return shared(copper, meltingAt(side(copper), T), ['solid', 'liquid'])
  const split = T < EUTECTIC.temperature ? splittingAt(T) : null
  if (split && copper > split.first && copper < split.second) return shared(copper, split, ['solid', 'solid'])
  return [{ phase: 'solid', copper, share: 1 }]
}

function shared(
  copper: number,
  line: TieLine | null,
  phases: readonly [SolutionPhase, SolutionPhase],
): readonly PhaseShare[] {
  if (!line) return []
  const second = leverRule(copper, line.first, line.second)
  // beside the bulge of copper's solidus an alloy between solidus and liquidus may still be all solid
  if (second <= 0) return [{ phase: phases[0], copper, share: 1 }]
  return [
    { phase: phases[0], copper: line.first, share: 1 - second },
    { phase: phases[1], copper: line.second, share: second },
  ]
}

/** Mass fraction liquid at T [K], 0 to 1, at equilibrium. */
export function liquidFraction(copper: number, T: number): number {
  const phases = phasesAt(copper, T)
  if (phases.length === 0) return Number.NaN
  return phases.reduce((sum, { phase, share }) => sum + (phase === 'liquid' ? share : 0), 0)
}

/** Enthalpy [J/kg] of one phase of that composition, over the pure metals at 298.15 K. */
export function phaseEnthalpy(phase: SolutionPhase, copper: number, T: number): number {
  const x = copperByMole(copper)
  return molarEnthalpy(phase, x, T) / molarMass(x)
}

/**
 * Heat [J/kg] to bring pure silver and pure copper from 25 C to the alloy at T [K], at equilibrium: solid,
 * part-liquid or liquid. Differences of it are the heat an alloy takes up or gives off. The melt's heat
 * only: no crucible, no losses. Valid 298 to about 1500 K; below the eutectic the solid is taken as split
 * as far as equilibrium would split it, which a quench prevents (sterling then keeps some 35 kJ/kg of mixing heat).
 */
export function alloyEnthalpy(copper: number, T: number): number {
  const phases = phasesAt(copper, T)
  if (phases.length === 0) return Number.NaN
  return phases.reduce((sum, part) => sum + part.share * phaseEnthalpy(part.phase, part.copper, T), 0)
}

/**
 * Latent heat [J/kg]: liquid less solid of the same composition, half-way between solidus and liquidus.
 * Less than the mass-average of the pure metals, because mixing takes more heat in the solid.
 */
export function latentHeat(copper: number): number {
  const T = (liquidus(copper) + solidus(copper)) / 2
  return phaseEnthalpy('liquid', copper, T) - phaseEnthalpy('solid', copper, T)
}

/** Heat [J/kg] given off from the liquidus to the solidus: latent heat with the sensible heat between. */
export const freezingHeat = (copper: number): number =>
  alloyEnthalpy(copper, liquidus(copper)) - alloyEnthalpy(copper, solidus(copper))

// --- Freezing without diffusion in the solid ------------------------------------------------------------
// df/f = -dC/(C_liquid - C_solid) along the liquidus. `solute` is the metal in the smaller part on that side.
// With weight = C_liquid/(C_liquid - C_solid) this is -ln f = the sum of weight over ln(solute), and weight
// runs nearly straight with solute, so between nodes it is taken as a + b * solute and summed exactly.

interface ScheilPiece {
  /** solute at which the piece begins, and the sum up to there */
  readonly from: number
  readonly sum: number
  readonly a: number
  readonly b: number
}

const soluteOf = (where: Side, copper: number): number => (where === 'silver' ? copper : 1 - copper)

const sumWithin = ({ from, sum, a, b }: ScheilPiece, solute: number): number =>
  sum + a * Math.log(solute / from) + b * (solute - from)

function scheilPieces(where: Side): readonly ScheilPiece[] {
  const nodes = MELTING[where].slice(1).map((line) => {
    const solute = soluteOf(where, line.second)
    return { solute, weight: solute / (solute - soluteOf(where, line.first)) }
  })
  const pieces: ScheilPiece[] = []
  nodes.slice(1).forEach((to, index) => {
    const from = nodes[index] as (typeof nodes)[number]
    const b = (to.weight - from.weight) / (to.solute - from.solute)
    const last = pieces[pieces.length - 1]
    const sum = last ? sumWithin(last, from.solute) : 0
    pieces.push({ from: from.solute, sum, a: from.weight - b * from.solute, b })
  })
  return pieces
}

const SCHEIL: Record<Side, readonly ScheilPiece[]> = {
  silver: scheilPieces('silver'),
  copper: scheilPieces('copper'),
}

/** The last piece that begins before; the first one also serves everything nearer the pure metal. */
const pieceBefore = (where: Side, begins: (piece: ScheilPiece) => boolean): ScheilPiece =>
  SCHEIL[where].findLast(begins) ?? (SCHEIL[where][0] as ScheilPiece)

/** -ln of the liquid fraction, up to a constant, when the liquid holds this much solute. */
const scheilSum = (where: Side, solute: number): number =>
  sumWithin(
    pieceBefore(where, ({ from }) => from <= solute),
    solute,
  )

const eutecticSum = (where: Side): number => scheilSum(where, soluteOf(where, EUTECTIC.liquid))

/**
 * Mass fraction that freezes last, as eutectic, when nothing diffuses in the solid (Gulliver and Scheil).
 * The most that can be expected; slow cooling of heavy work leaves less. 0 for a pure metal.
 */
export function scheilEutecticFraction(copper: number): number {
  if (copper === 0 || copper === 1) return 0
  const where = side(copper)
  return Math.exp(scheilSum(where, soluteOf(where, copper)) - eutecticSum(where))
}

/** Mass fraction still liquid at T [K] when nothing diffuses in the solid; 0 below the eutectic. */
export function scheilLiquidFraction(copper: number, T: number): number {
  if (!(copper >= 0 && copper <= 1)) return Number.NaN
  if (T >= liquidus(copper)) return 1
  if (T < EUTECTIC.temperature) return 0
  const where = side(copper)
  const line = meltingAt(where, T)
  if (!line) return Number.NaN
  return Math.exp(scheilSum(where, soluteOf(where, copper)) - scheilSum(where, soluteOf(where, line.second)))
}

/**
 * Temperature [K] at which this mass fraction is still liquid when nothing diffuses in the solid; the
 * eutectic's where less than the last-freezing fraction is asked for.
 * @param fraction above 0, up to 1
 */
export function scheilTemperature(copper: number, fraction: number): number {
  const where = side(copper)
  const sum = scheilSum(where, soluteOf(where, copper)) - Math.log(fraction)
  if (sum >= eutecticSum(where)) return EUTECTIC.temperature
  const piece = pieceBefore(where, (candidate) => candidate.sum <= sum)
  // Newton's method over ln(solute), whose slope is the weight itself
  let solute = piece.from
  for (let step = 0; step < 6; step++) {
    solute *= Math.exp((sum - sumWithin(piece, solute)) / (piece.a + piece.b * solute))
  }
  return temperatureWhere(where, 'second', where === 'silver' ? solute : 1 - solute) ?? Number.NaN
}

export { EUTECTIC } from './silver-copper-tie-lines.ts'
