import type { PhotoSetting } from '../../documents/heights.ts'
import type { PatternProblem, Place } from '../drawing.ts'
import type { Picture } from './picture.ts'

/** x to the right, y downward, in pixels; the upper left pixel reaches from 0 to 1, its middle lies at 0.5. */
export type PixelPlace = readonly [number, number]
export type Corners = readonly [PixelPlace, PixelPlace, PixelPlace, PixelPlace]

/** How a flat sheet and its picture lie on one another. The sheet's origin is its lower left, y upward. */
export interface SheetMap {
  readonly width_mm: number
  readonly height_mm: number
  toSheet(x_px: number, y_px: number): Place
  toPicture(x_mm: number, y_mm: number): PixelPlace
  /** row-major 3 x 3 from millimetres to pixels, for loops over many places */
  readonly matrix: readonly number[]
  /** of a picture's pixel, taken over the whole sheet */
  readonly mmPerPixel: number
}

/** Sides of a corner nearer in line than this (its sine, about two degrees) leave no reliable rectangle. */
const LEAST_SINE = 0.035
const SHORTEST_SIDE_PX = 16

/**
 * The perspective in which a rectangle of known size was seen.
 * @param corners_px  upper left, upper right, lower right, lower left of the sheet in the upright picture
 * @returns the map, or what is wrong where the four cannot be a rectangle seen from its front
 * Source: the four-point form of the plane homography (unit square to quadrilateral); textbooks of
 * projective geometry.
 */
export function homographyFrom(
  corners_px: Corners,
  width_mm: number,
  height_mm: number,
): SheetMap | { refused: PatternProblem } {
  const wrong = whatIsWrong(corners_px)
  if (wrong !== undefined)
    return {
      refused: {
        kind: 'corners',
        level: 'stop',
        what: wrong,
        where: 'photo.scale.corners_px',
        remedy:
          'Mark the sheet’s corners again: upper left, upper right, lower right, lower left, going round it.',
      },
    }
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners_px
  const ax = x1 - x2
  const ay = y1 - y2
  const bx = x3 - x2
  const by = y3 - y2
  const sx = x0 - x1 + x2 - x3
  const sy = y0 - y1 + y2 - y3
  const span = ax * by - bx * ay
  const g = (sx * by - bx * sy) / span
  const h = (ax * sy - sx * ay) / span
  // unit square, v downward, to pixels; then u = x / width and v = 1 - y / height are put in
  const square = [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1]
  const matrix: number[] = []
  for (let row = 0; row < 3; row += 1) {
    const [u = 0, v = 0, one = 0] = square.slice(row * 3, row * 3 + 3)
    matrix.push(u / width_mm, -v / height_mm, v + one)
  }
  const area_px = Math.abs((x2 - x0) * (y3 - y1) - (x3 - x1) * (y2 - y0)) / 2
  return mapOf(matrix, width_mm, height_mm, Math.sqrt((width_mm * height_mm) / area_px))
}

/**
 * The whole picture at one scale, from two places a known distance apart: right for a scan, and for a photo
 * only as far as the camera looked squarely at the paper.
 */
export function similarityFrom(
  points_px: readonly [PixelPlace, PixelPlace],
  apart_mm: number,
  picture: { readonly width: number; readonly height: number },
): SheetMap | { refused: PatternProblem } {
  const [[x0, y0], [x1, y1]] = points_px
  const apart_px = Math.hypot(x1 - x0, y1 - y0)
  if (!(apart_px >= SHORTEST_SIDE_PX))
    return {
      refused: {
        kind: 'two-points',
        level: 'stop',
        what: `The two marks lie ${apart_px.toFixed(1)} pixels apart, too near to set a scale.`,
        where: 'photo.scale.points_px',
        remedy: 'Mark two places far apart whose distance you can measure.',
      },
    }
  const scale = apart_px / apart_mm
  const matrix = [scale, 0, 0, 0, -scale, picture.height, 0, 0, 1]
  return mapOf(matrix, picture.width / scale, picture.height / scale, 1 / scale)
}

/** The map of a picture, whose marks may have been made on a larger original. */
export function sheetMapOf(
  scale: PhotoSetting['scale'],
  picture: Pick<Picture, 'width' | 'height' | 'original'>,
): SheetMap | { refused: PatternProblem } {
  const shareX = picture.width / (picture.original?.width ?? picture.width)
  const shareY = picture.height / (picture.original?.height ?? picture.height)
  const at = ([x, y]: PixelPlace): PixelPlace => [x * shareX, y * shareY]
  if (scale.by === 'two-points') {
    const [one, other] = scale.points_px
    return similarityFrom([at(one), at(other)], scale.apart_mm, picture)
  }
  const [a, b, c, d] = scale.corners_px
  return homographyFrom([at(a), at(b), at(c), at(d)], scale.width_mm, scale.height_mm)
}

function mapOf(matrix: readonly number[], width_mm: number, height_mm: number, mmPerPixel: number): SheetMap {
  const back = adjugateOf(matrix)
  return {
    width_mm,
    height_mm,
    matrix,
    mmPerPixel,
    toPicture: (x, y) => through(matrix, x, y),
    toSheet: (x, y) => through(back, x, y),
  }
}

function through(m: readonly number[], x: number, y: number): [number, number] {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m
  const w = g * x + h * y + i
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w]
}

/** The inverse but for a factor, which a map of places does not feel. */
function adjugateOf(m: readonly number[]): number[] {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ]
}

function whatIsWrong(corners: Corners): string | undefined {
  const sines: number[] = []
  for (let k = 0; k < 4; k += 1) {
    const [before, here, after] = [corners[(k + 3) % 4], corners[k], corners[(k + 1) % 4]]
    if (before === undefined || here === undefined || after === undefined) return 'Four corners are needed.'
    const [ux, uy] = [here[0] - before[0], here[1] - before[1]]
    const [vx, vy] = [after[0] - here[0], after[1] - here[1]]
    const lengths = Math.hypot(ux, uy) * Math.hypot(vx, vy)
    if (!(Math.hypot(ux, uy) >= SHORTEST_SIDE_PX))
      return 'Two of the four marks lie on the same place; the sheet has no size there.'
    sines.push((ux * vy - uy * vx) / lengths)
  }
  if (sines.some((sine) => Math.abs(sine) < LEAST_SINE))
    return 'Three of the four marks lie in a line; no rectangle looks like that from its front.'
  const turnedRight = sines.filter((sine) => sine > 0).length
  if (turnedRight === 0)
    return 'The four marks go round the wrong way, as in a mirror; the drawing would come out reversed.'
  if (turnedRight === 2) return 'The lines from mark to mark cross; no rectangle looks like that.'
  if (turnedRight !== 4)
    return 'One of the four marks lies inside the other three; no rectangle looks like that.'
  return undefined
}
