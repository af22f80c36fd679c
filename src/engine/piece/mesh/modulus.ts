import type { Point } from './problems.ts'
import { castRay, type Shape } from './rays.ts'
import type { InscribedBall } from './thickness.ts'

interface Spot {
  readonly at: Point
  /** how much of the metal it stands for */
  readonly weight: number
}

const LINES = 1024
const SPOTS_ON_LINE = 4

/**
 * Spots all through the metal: lines across the side along which it is shortest, each cut to where it runs in metal.
 * They lie by steps that fall on no line which regular parts have (powers of the plastic ratio), and one that grazes an edge is left out.
 */
export const spotsInside = ({ mesh, tree, rough }: Shape): readonly Spot[] => {
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  mesh.positions.forEach((value, k) => {
    low[k % 3] = Math.min(low[k % 3] ?? 0, value)
    high[k % 3] = Math.max(high[k % 3] ?? 0, value)
  })
  const sides = low.map((least, axis) => (high[axis] ?? 0) - least)
  const across = sides.indexOf(Math.min(...sides))
  const [first, second] = [(across + 1) % 3, (across + 2) % 3]
  const direction = [0, 1, 2].map((axis) => (axis === across ? 1 : 0))
  const spots: Spot[] = []
  for (let line = 0; line < LINES; line += 1) {
    const origin = [...low]
    origin[first] = (low[first] ?? 0) + (sides[first] ?? 0) * ((0.4142 + line * 0.7548776662466927) % 1)
    origin[second] = (low[second] ?? 0) + (sides[second] ?? 0) * ((0.3187 + line * 0.5698402909980532) % 1)
    origin[across] = (low[across] ?? 0) - 0.01 * (sides[across] ?? 0) - 64 * rough
    const hits = castRay(mesh, tree, origin, direction, rough)?.sort((a, b) => a.distance - b.distance) ?? []
    let inside = 0
    hits.forEach(({ distance, way }, k) => {
      inside -= way
      const next = hits[k + 1]?.distance
      if (inside <= 0 || next === undefined) return
      for (let step = 0; step < SPOTS_ON_LINE; step += 1) {
        const at = [...origin]
        at[across] = (origin[across] ?? 0) + distance + ((next - distance) * (step + 0.5)) / SPOTS_ON_LINE
        spots.push({ at: at as unknown as Point, weight: (next - distance) / SPOTS_ON_LINE })
      }
    })
  }
  return spots
}

/**
 * Which of the places probed on the surface each spot inside is nearest to, as the share of the metal that belongs to
 * each place; 0 for all where there are no spots.
 */
export const metalByPlace = (balls: readonly InscribedBall[], spots: readonly Spot[]): readonly number[] => {
  const shares = balls.map(() => 0)
  let whole = 0
  for (const { at, weight } of spots) {
    let nearest = 0
    let least = Infinity
    balls.forEach((ball, k) => {
      const apart = (ball.at[0] - at[0]) ** 2 + (ball.at[1] - at[1]) ** 2 + (ball.at[2] - at[2]) ** 2
      if (apart < least) [nearest, least] = [k, apart]
    })
    shares[nearest] = (shares[nearest] ?? 0) + weight
    whole += weight
  }
  return whole > 0 ? shares.map((share) => share / whole) : shares
}

/** Metal thinner than this share of a place's thickest is not of the place: it cools by itself, and sooner. */
const OF_THE_PLACE = 0.7

/**
 * Of these probed places the metal that is of the thickest's own, and its volume over cooling area, mm: never less than
 * a ball's of its thickness, nor more than a plate's. The places probed lie evenly over the surface, so their number is
 * its area.
 * @param metal  share of the metal by probed place
 * @param whole  volume over area of the whole piece, mm
 */
export const ownMetal = (
  balls: readonly InscribedBall[],
  members: readonly number[],
  metal: readonly number[],
  whole: number,
): { readonly own: ReadonlySet<number>; readonly peak: number; readonly modulus: number } => {
  const peak = Math.max(...members.map((member) => balls[member]?.radius ?? 0))
  const own = new Set(members.filter((member) => (balls[member]?.radius ?? 0) >= OF_THE_PLACE * peak))
  const share = [...own].reduce((sum, member) => sum + (metal[member] ?? 0), 0)
  const measured = (whole * share * balls.length) / Math.max(1, own.size)
  return { own, peak, modulus: Math.min(peak, Math.max(peak / 3, measured)) }
}
