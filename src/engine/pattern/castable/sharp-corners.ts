import type { Place, Region } from '../drawing.ts'
import type { BuiltRegion } from '../relief/index.ts'
import { netOf } from '../relief/shared-lines.ts'
import type { Ring } from '../relief/triangulate.ts'
import type { CastableSpot } from './find-castable.ts'

/** A corner is looked at over so much line to either side: rounder than this is no corner. */
const ARM_MM = 0.4
/** A step lower than this leaves no fin worth a word. */
const STEP_MM = 0.5
const SPOTS = 8

/**
 * Upright walls that close on one another so sharply that the investment between them runs out in a knife edge:
 * corners of a lower region, or of the open outside, with higher metal on both sides.
 * Every foot of a wall is a corner too, but a blunt one, and is not told.
 */
export const findSharpCorners = (
  regions: readonly Region[],
  built: readonly BuiltRegion[],
  corner_deg: number,
): CastableSpot[] => {
  const { xy, rings, leftOf } = netOf(regions)
  const count = xy.length / 2
  const heightAt = (region: number | undefined): number =>
    region === undefined ? 0 : (built[region]?.height_mm ?? 0)
  const beside = (ring: Ring, i: number): number => {
    const [from, to] = [ring[i] as number, ring[(i + 1) % ring.length] as number]
    return heightAt(leftOf.get(to * count + from))
  }
  const found: { at: Place; deg: number; rise: number }[] = []
  rings.forEach((loops, index) => {
    const own = heightAt(index)
    for (const ring of loops)
      ring.forEach((point, i) => {
        const before = (i + ring.length - 1) % ring.length
        const [past, next] = [beside(ring, before), beside(ring, i)]
        const angle = openingAt(xy, ring, i)
        if (angle === null) return
        const at: Place = [xy[point * 2] as number, xy[point * 2 + 1] as number]
        const rise = Math.min(past, next) - own
        if (rise >= STEP_MM && angle < corner_deg) found.push({ at, deg: angle, rise })
        const fall = own - Math.max(past, next)
        // Where the open outside notches into the metal, no region holds the corner.
        const outside = past === 0 && next === 0 && isOpen(ring, i, leftOf, count)
        if (outside && fall >= STEP_MM && 360 - angle < corner_deg)
          found.push({ at, deg: 360 - angle, rise: fall })
      })
  })
  const seen = new Set<string>()
  return found
    .sort((a, b) => a.deg - b.deg)
    .filter(({ at }) => {
      const key = at.map((value) => Math.round(value / ARM_MM)).join(' ')
      return !seen.has(key) && seen.add(key)
    })
    .slice(0, SPOTS)
    .map(({ at, deg, rise }) => ({
      kind: 'sharp-corner',
      at_mm: at,
      size: deg,
      words: `two walls ${rise.toFixed(1)} mm high close at ${deg.toFixed(0)}°: the investment between them ends in a knife edge that may crumble (common practice)`,
      remedy: 'round the corner to at least 0.2 mm, or open it up and sharpen it with a graver after casting',
    }))
}

const isOpen = (ring: Ring, i: number, leftOf: ReadonlyMap<number, number>, count: number): boolean =>
  [(i + ring.length - 1) % ring.length, i].every((side) => {
    const [from, to] = [ring[side] as number, ring[(side + 1) % ring.length] as number]
    return !leftOf.has(to * count + from)
  })

/** Angle inside the region between its line's two arms, degrees, 0 to 360; null where the ring is too short. */
const openingAt = (xy: Float64Array, ring: Ring, i: number): number | null => {
  const at = ring[i] as number
  const [x, y] = [xy[at * 2] as number, xy[at * 2 + 1] as number]
  const arm = (way: 1 | -1): readonly [number, number] | null => {
    let [px, py] = [x, y]
    let left = ARM_MM
    for (let k = 1; k < ring.length; k++) {
      const point = ring[(((i + way * k) % ring.length) + ring.length) % ring.length] as number
      const [qx, qy] = [xy[point * 2] as number, xy[point * 2 + 1] as number]
      const length = Math.hypot(qx - px, qy - py)
      if (length >= left) {
        const share = left / length
        return [px + share * (qx - px) - x, py + share * (qy - py) - y]
      }
      left -= length
      ;[px, py] = [qx, qy]
    }
    return null
  }
  const [before, after] = [arm(-1), arm(1)]
  if (!before || !after) return null
  const turn = Math.atan2(before[1], before[0]) - Math.atan2(after[1], after[0])
  return ((((turn * 180) / Math.PI) % 360) + 360) % 360
}
