import type { SheetMap } from './homography.ts'

/** Focal lengths of cameras that people photograph paper with, over the longer side of their picture. */
const SHORTEST = 0.35
const LONGEST = 3
const STEPS = 60
/** How far from square the sheet's sides may come out, as a cosine, for a focal length to be believed. */
const SQUARE = 0.02
/** What hand-set marks and a camera whose axis is off the middle of its picture may do to the ratio. */
const UNSURE = 0.04

/** Width over height of a sheet as its picture shows it. */
export interface SeenShape {
  readonly low: number
  readonly high: number
}

/**
 * Width over height that a rectangle must have to be seen like this by a camera whose axis goes through the middle
 * of the picture and whose pixels are square. Its focal length is not known: each is tried that would show the sides
 * square. The columns of K⁻¹H are the sheet's own axes as seen, square to one another and as long as its units.
 * @returns undefined where no usual camera shows such a rectangle, as in a picture that was cut
 * Source: camera calibration from a plane, with the sheet's ratio left open; textbooks of multiple view geometry.
 */
export const seenShape = (
  { matrix, width_mm, height_mm }: Pick<SheetMap, 'matrix' | 'width_mm' | 'height_mm'>,
  picture: { readonly width: number; readonly height: number },
): SeenShape | undefined => {
  const [a = 0, b = 0, , d = 0, e = 0, , g = 0, h = 0] = matrix
  const [cx, cy] = [picture.width / 2, picture.height / 2]
  const [ax, ay, bx, by] = [a - cx * g, d - cy * g, b - cx * h, e - cy * h]
  const longer = Math.max(picture.width, picture.height)
  let [low, high] = [Infinity, 0]
  for (let step = 0; step <= STEPS; step += 1) {
    const focal = longer * SHORTEST * (LONGEST / SHORTEST) ** (step / STEPS)
    const across = Math.hypot(ax, ay, focal * g)
    const up = Math.hypot(bx, by, focal * h)
    if (Math.abs(ax * bx + ay * by + focal * focal * g * h) > SQUARE * across * up) continue
    const ratio = ((width_mm / height_mm) * across) / up
    low = Math.min(low, ratio)
    high = Math.max(high, ratio)
  }
  return high === 0 ? undefined : { low: low * (1 - UNSURE), high: high * (1 + UNSURE) }
}
