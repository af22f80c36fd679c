import type { PhotoSetting } from '../../../../engine/documents/heights.ts'
import type { Place } from '../../../../engine/pattern/drawing.ts'
import { homographyFrom, type SheetMap, similarityFrom } from '../../../../engine/pattern/photo/index.ts'

/** Pixels of the upright picture, as taken. */
export interface PictureSize {
  readonly width: number
  readonly height: number
}

/** How places of the drawing, in millimetres with y upward, lie on the surface they are shown on. */
export interface Frame {
  readonly width: number
  readonly height: number
  toView(place: Place): Place
  toDrawing(spot: Place): Place
}

interface Bounds {
  readonly min: Place
  readonly max: Place
}

const MARGIN = 0.06

/** A drawing of numbers is shown in millimetres, with a little paper round it. */
export const frameOfBounds = ({ min, max }: Bounds): Frame => {
  const [wide, high] = [max[0] - min[0], max[1] - min[1]]
  const room = MARGIN * Math.max(wide, high, 1)
  const [left, top] = [min[0] - room, max[1] + room]
  return {
    width: wide + 2 * room,
    height: high + 2 * room,
    toView: ([x, y]) => [x - left, top - y],
    toDrawing: ([x, y]) => [x + left, top - y],
  }
}

export const sheetOf = (photo: PhotoSetting, picture: PictureSize): SheetMap | undefined => {
  const { scale } = photo
  const map =
    scale.by === 'sheet'
      ? homographyFrom(scale.corners_px, scale.width_mm, scale.height_mm)
      : similarityFrom(scale.points_px, scale.apart_mm, picture)
  return 'refused' in map ? undefined : map
}

/** A photo is shown as taken, in its own pixels, and what was traced is laid over it. */
export const frameOfPicture = (picture: PictureSize, sheet: SheetMap | undefined): Frame => ({
  ...picture,
  toView: ([x, y]) => sheet?.toPicture(x, y) ?? [x, y],
  toDrawing: ([x, y]) => sheet?.toSheet(x, y) ?? [x, y],
})

/** A loop as path data on the surface; open lines don't return to their start. */
export const pathOn = (frame: Frame, points: Float64Array, closed: boolean): string => {
  let path = ''
  for (let at = 0; at < points.length; at += 2) {
    const [x, y] = frame.toView([points[at] ?? 0, points[at + 1] ?? 0])
    path += `${at === 0 ? 'M' : 'L'}${x.toFixed(3)} ${y.toFixed(3)}`
  }
  return closed ? `${path}Z` : path
}
