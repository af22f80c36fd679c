import { solveBetween, whenFallen } from './root-finding.ts'
import { besselJ } from './special-functions.ts'

/**
 * Heat soaking into a slab, long rod or ball that starts even and meets a new surrounding temperature.
 * All answers are shares of the first difference still left: 1 at the start, 0 when through.
 *
 *   share = sum over n of C_n exp(-zeta_n² Fo) f(zeta_n * position)
 *
 * with Biot number h L/k and Fourier number alpha t/L², L the half thickness or radius. Biot may be
 * Infinity: the face then takes the new temperature at once. Constant properties, no water, no source.
 * Source: Carslaw and Jaeger 1959; Incropera table 5.1 tabulates the first term.
 */
export type SoakingShape = 'slab' | 'rod' | 'ball'

export interface SeriesTerm {
  readonly zeta: number
  readonly coefficient: number
}

/** The condition whose n-th root lies between (n-1) pi and n pi, arranged without poles. */
const CONDITION: Record<SoakingShape, (zeta: number, biot: number) => number> = {
  slab: (z, biot) => z * Math.sin(z) - biot * Math.cos(z),
  rod: (z, biot) => z * besselJ(1, z) - biot * besselJ(0, z),
  ball: (z, biot) => (1 - biot) * Math.sin(z) - z * Math.cos(z),
}

/** The same with the face held at its temperature: zeros of the profile at the face. */
const HELD_CONDITION: Record<SoakingShape, (zeta: number) => number> = {
  slab: Math.cos,
  rod: (z) => besselJ(0, z),
  // the ball's roots are n pi, the end of the interval
  ball: (z) => Math.sin(z / 2) * Math.cos(z / 2),
}

const COEFFICIENT: Record<SoakingShape, (zeta: number) => number> = {
  slab: (z) => (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z)),
  rod: (z) => (2 * besselJ(1, z)) / (z * (besselJ(0, z) ** 2 + besselJ(1, z) ** 2)),
  ball: (z) => (4 * (Math.sin(z) - z * Math.cos(z))) / (2 * z - Math.sin(2 * z)),
}

/** Profile at a position from 0 (centre) to 1 (face). */
const PROFILE: Record<SoakingShape, (zeta: number, position: number) => number> = {
  slab: (z, position) => Math.cos(z * position),
  rod: (z, position) => besselJ(0, z * position),
  ball: (z, position) => (position === 0 ? 1 : Math.sin(z * position) / (z * position)),
}

/** Average of the profile over the volume. */
const AVERAGE: Record<SoakingShape, (zeta: number) => number> = {
  slab: (z) => Math.sin(z) / z,
  rod: (z) => (2 * besselJ(1, z)) / z,
  ball: (z) => (3 * (Math.sin(z) - z * Math.cos(z))) / z ** 3,
}

/** The n-th term (n from 1). */
export function seriesTerm(shape: SoakingShape, biot: number, n: number): SeriesTerm {
  const zeta =
    shape === 'ball' && biot === Number.POSITIVE_INFINITY
      ? n * Math.PI
      : solveBetween(
          (z) => (biot === Number.POSITIVE_INFINITY ? HELD_CONDITION[shape](z) : CONDITION[shape](z, biot)),
          // a ball's condition also vanishes at 0, which is not a root of the physics
          (n - 1) * Math.PI + (n === 1 ? 1e-6 : 0),
          n * Math.PI,
        )
  return { zeta, coefficient: COEFFICIENT[shape](zeta) }
}

/** The first `count` terms; 60 serve down to a Fourier number of about 0.001. */
export const seriesTerms = (shape: SoakingShape, biot: number, count = 60): readonly SeriesTerm[] =>
  Array.from({ length: count }, (_, index) => seriesTerm(shape, biot, index + 1))

const sumUntilSpent = (
  terms: readonly SeriesTerm[],
  fourier: number,
  of: (term: SeriesTerm) => number,
): number => {
  let sum = 0
  for (const term of terms) {
    const decay = term.zeta ** 2 * fourier
    // later terms are smaller still: exp(-40) is under 1e-17
    if (decay > 40 && sum !== 0) break
    sum += term.coefficient * Math.exp(-decay) * of(term)
  }
  return sum
}

/** Share left at a position (0 centre, 1 face), from terms of the same shape. Fourier number above 0. */
export const shareLeft = (
  shape: SoakingShape,
  terms: readonly SeriesTerm[],
  fourier: number,
  position: number,
): number => sumUntilSpent(terms, fourier, ({ zeta }) => PROFILE[shape](zeta, position))

/** Share left on average over the body: 1 less the part of all heat that has passed. */
export const meanShareLeft = (shape: SoakingShape, terms: readonly SeriesTerm[], fourier: number): number =>
  sumUntilSpent(terms, fourier, ({ zeta }) => AVERAGE[shape](zeta))

export interface CylinderBody {
  readonly radius: number
  readonly height: number
  /** W/mK and m2/s */
  readonly conductivity: number
  readonly diffusivity: number
  /** W/m2K, the same all round; Infinity holds the faces at the surrounding temperature */
  readonly heatTransfer: number
}

/** Terms still alive at a Fourier number: the n-th root is at least (n - 1) pi, and exp(-40) is under 1e-17. */
const termsNeeded = (fourier: number): number =>
  Math.min(60, Math.ceil(Math.sqrt(40 / fourier) / Math.PI) + 1)

/** A series that works out its terms only when a time asks for them: late times need two or three. */
function growingSeries(shape: SoakingShape, biot: number): (fourier: number) => readonly SeriesTerm[] {
  const known: SeriesTerm[] = []
  return (fourier) => {
    const count = termsNeeded(fourier)
    while (known.length < count) known.push(seriesTerm(shape, biot, known.length + 1))
    return known
  }
}

/**
 * A cylinder heated on its side and both ends, as a flask standing clear: the rod's answer times the slab's.
 * @returns a function of time [s, above 0], distance from the axis and height above the middle [m]
 */
export function soakCylinder(
  body: CylinderBody,
): (time: number, fromAxis?: number, above?: number) => number {
  const { radius, conductivity, diffusivity, heatTransfer } = body
  const half = body.height / 2
  const rod = growingSeries('rod', (heatTransfer * radius) / conductivity)
  const slab = growingSeries('slab', (heatTransfer * half) / conductivity)
  return (time, fromAxis = 0, above = 0) => {
    const across = (diffusivity * time) / radius ** 2
    const along = (diffusivity * time) / half ** 2
    return (
      shareLeft('rod', rod(across), across, fromAxis / radius) *
      shareLeft('slab', slab(along), along, Math.abs(above) / half)
    )
  }
}

/** Time [s] until a cylinder's centre has only this share of the first difference left, up to 0.9. */
export function cylinderSoakTime(body: CylinderBody, share: number): number {
  const left = soakCylinder(body)
  // a fiftieth of a diffusion time: the centre has not yet felt the face, and few terms are needed
  const least = (0.02 * Math.min(body.radius, body.height / 2) ** 2) / body.diffusivity
  return least + whenFallen((time) => left(least + time), share, 10 * least)
}

const RAMP_DIVISOR: Record<SoakingShape, number> = { slab: 2, rod: 4, ball: 6 }

/**
 * How far the centre lags a face that climbs steadily, once settled (about one Fourier number) [K]:
 * rate R²/(2, 4 or 6 alpha).
 * @param rate K/s, @param length half thickness or radius [m]
 */
export const rampLag = (shape: SoakingShape, rate: number, length: number, diffusivity: number): number =>
  (rate * length ** 2) / (RAMP_DIVISOR[shape] * diffusivity)

/** Share left after a time [s] in a body even throughout (Biot under 0.1): exp(-t/tau). */
export const lumpedShareLeft = (time: number, timeConstant: number): number => Math.exp(-time / timeConstant)

/** Time [s] for a body even throughout to go from one temperature to another in a steady surrounding. */
export const lumpedTime = (from: number, to: number, surrounding: number, timeConstant: number): number =>
  timeConstant * Math.log((from - surrounding) / (to - surrounding))
