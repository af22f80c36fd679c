import { ClipperOffset, EndType, JoinType, type Path64, type Paths64 } from 'clipper2-ts'
import { CHORD_MM } from './profile.ts'

/** Whole steps of the modeller of flat shapes, per mm: a hundred-thousandth of a mm. */
export const PER_MM = 1e5

/**
 * What is left of a shape when a strip of its rim is taken away: every point lies at least `inset_mm` inside.
 * Outward corners stay sharp, inward ones are rounded, as true distance from the rim has it.
 * A negative `inset_mm` grows the shape instead.
 */
export const insetOf = (paths: Paths64, inset_mm: number): Paths64 => {
  const offset = new ClipperOffset(2, CHORD_MM * PER_MM)
  offset.addPaths(paths, JoinType.Round, EndType.Polygon)
  const left: Paths64 = []
  offset.execute(-inset_mm * PER_MM, left)
  return left
}

/** A shape's widest half width: the largest inset that leaves anything of it, to a hundredth of `most_mm`. */
export const deepestInset = (
  paths: Paths64,
  most_mm: number,
): { inset_mm: number; paths: Paths64 } | null => {
  let deepest: { inset_mm: number; paths: Paths64 } | null = null
  let [low, high] = [0, most_mm]
  for (let i = 0; i < 7; i++) {
    const inset_mm = (low + high) / 2
    const left = insetOf(paths, inset_mm)
    if (left.length > 0) {
      deepest = { inset_mm, paths: left }
      low = inset_mm
    } else high = inset_mm
  }
  return deepest
}

export const pathOf = (xy: ArrayLike<number>, ring: readonly number[], centre: readonly number[]): Path64 =>
  ring.map((point) => ({
    x: Math.round(((xy[point * 2] as number) - (centre[0] ?? 0)) * PER_MM),
    y: Math.round(((xy[point * 2 + 1] as number) - (centre[1] ?? 0)) * PER_MM),
  }))
