import type { PhotoSetting } from '../../documents/heights.ts'
import type { PatternProblem, Place } from '../drawing.ts'
import type { Blob } from './blobs.ts'
import type { FlatSheet } from './flatten.ts'
import type { SheetMap } from './homography.ts'
import type { LooseEnd } from './join-gaps.ts'
import type { Picture } from './picture.ts'
import { seenShape } from './sheet-shape.ts'

const megapixels = (pixels: number): string => (pixels / 1e6).toFixed(1)
const inMm = (length: number): string => `${length.toFixed(length < 1 ? 2 : 1)} mm`

export const workedSmaller = (picture: Picture, sheet: FlatSheet): PatternProblem[] =>
  sheet.reduced > 1.05
    ? [
        {
          kind: 'worked-smaller',
          level: 'note',
          what: `The photo has ${megapixels(picture.width * picture.height)} million pixels; the sheet is read with ${megapixels(sheet.width * sheet.height)} million, ${inMm(sheet.mm)} each. The photo itself is kept.`,
          where: 'photo',
          remedy: 'Nothing to do; a smaller sheet in the picture is read more finely.',
        },
      ]
    : []

/** The sides as marked look clearly more like the sheet laid the other way. */
function areTurned(scale: Extract<PhotoSetting['scale'], { by: 'sheet' }>): PatternProblem[] {
  const [a, b, c, d] = scale.corners_px
  const side = (p: readonly [number, number], q: readonly [number, number]): number =>
    Math.hypot(p[0] - q[0], p[1] - q[1])
  const seen = Math.log((side(a, b) + side(d, c)) / (side(a, d) + side(b, c)))
  const said = Math.log(scale.width_mm / scale.height_mm)
  if (Math.abs(seen - said) < 2.5 * Math.abs(seen + said) || Math.abs(seen - said) < 0.35) return []
  return [
    {
      kind: 'sheet-turned',
      level: 'check',
      what: `The marks look like a sheet ${inMm(scale.height_mm)} wide and ${inMm(scale.width_mm)} high, the other way round.`,
      where: 'photo.scale',
      remedy: 'Swap width and height, or begin with the corner that is the sheet’s upper left.',
    },
  ]
}

/** A sheet of another shape than the one chosen: Letter for A4 is a twelfth too long. */
const isOtherShape = (map: SheetMap, picture: Picture): PatternProblem[] => {
  const seen = seenShape(map, picture)
  const { width_mm, height_mm } = map
  const said = width_mm / height_mm
  if (seen === undefined || (said >= seen.low && said <= seen.high)) return []
  const long = (ratio: number): number => Math.max(ratio, 1 / ratio)
  const [least, most] = [long(seen.low), long(seen.high)].sort((a, b) => a - b)
  return [
    {
      kind: 'sheet-other-shape',
      level: 'check',
      what: `Is it this sheet? The marks look like one ${least?.toFixed(2)} to ${most?.toFixed(2)} times as long as wide, and the one chosen is ${long(said).toFixed(2)} times.`,
      where: 'photo.scale',
      remedy:
        'Choose the sheet that was photographed, or measure it; a picture that was cropped can look so too.',
    },
  ]
}

export const perspectiveLeft = (): PatternProblem => ({
  kind: 'perspective-left',
  level: 'note',
  what: 'Scaled by two points: perspective is not taken out. A camera eight degrees askew shortens one way by 1 %.',
  where: 'photo.scale',
  remedy: 'Right for a scan; for a photo mark the four corners of a sheet of known size.',
})

/** A sheet laid the other way is told as that, and no more of its shape. */
export const sheetDoubts = (
  scale: Extract<PhotoSetting['scale'], { by: 'sheet' }>,
  map: SheetMap,
  picture: Picture,
): PatternProblem[] => {
  const turned = areTurned(scale)
  return turned.length > 0 ? turned : isOtherShape(map, picture)
}

export function sheetOutside(picture: Picture, map: SheetMap): PatternProblem[] {
  const { width_mm: w, height_mm: h } = map
  const corners = [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ].map(([x = 0, y = 0]) => map.toPicture(x, y))
  const slack = 0.01 * Math.max(picture.width, picture.height)
  const isOut = corners.some(
    ([x, y]) => x < -slack || y < -slack || x > picture.width + slack || y > picture.height + slack,
  )
  return isOut
    ? [
        {
          kind: 'sheet-outside',
          level: 'check',
          what: 'A corner of the sheet lies outside the picture; what is drawn there cannot be seen.',
          where: 'photo.scale',
          remedy: 'Take the photo again with the whole sheet in it, or mark what is in it.',
        },
      ]
    : []
}

export const faintInk = (contrast: number): PatternProblem => ({
  kind: 'ink-faint',
  level: 'stop',
  what:
    contrast > 0
      ? `No ink can be told from the paper: the darkest of it is only ${Math.round(contrast * 100)} % darker.`
      : 'No ink can be told from the paper.',
  where: 'photo',
  remedy: 'Go over the lines with a black pen, or photograph in even light; then set how dark ink is.',
})

export const nothingDrawn = (): PatternProblem => ({
  kind: 'no-ink',
  level: 'stop',
  what: 'Nothing larger than a speck is drawn on the sheet.',
  where: 'photo',
  remedy: 'Check that the four marks are on the sheet with the drawing, and how small a speck may be.',
})

export const edgeInk = (blobs: readonly Blob[], mm: number, height_mm: number): PatternProblem[] =>
  blobs.slice(0, 3).map((blob) => ({
    kind: 'ink-over-edge',
    level: 'check',
    what: 'Ink that runs over the edge of the sheet is left out.',
    where: 'photo',
    remedy: 'Draw clear of the edge, or mark the corners so that the whole drawing lies inside.',
    at_mm: [((blob.left + blob.right) / 2) * mm, height_mm - ((blob.top + blob.bottom) / 2) * mm],
  }))

export function thinLines(width_px: number | undefined, sheet: FlatSheet): PatternProblem[] {
  if (width_px === undefined || width_px * sheet.reduced >= 2.5) return []
  return [
    {
      kind: 'lines-thin',
      level: 'check',
      what: `The lines are ${(width_px * sheet.reduced).toFixed(1)} pixels wide in the photo; below 3 they break easily.`,
      where: 'photo',
      remedy: 'Photograph nearer, or draw with a broader pen.',
    },
  ]
}

const MOST_NAMED = 6

/** Ends that nearly meet other ink, the nearest first. */
export const whatIsLoose = (
  loose: readonly LooseEnd[],
  mm: number,
  join_mm: number,
  place: (x: number, y: number) => Place,
): PatternProblem[] =>
  loose
    .filter((end) => Number.isFinite(end.nearest))
    .sort((a, b) => a.nearest - b.nearest)
    .slice(0, MOST_NAMED)
    .map(({ knot, nearest }) => ({
      kind: 'gap-left',
      level: 'check',
      what: `A line ends ${inMm(nearest * mm)} from the next ink; gaps up to ${inMm(join_mm)} are joined.`,
      where: 'photo.join_mm',
      remedy: 'Join it by hand, or let wider gaps be joined.',
      at_mm: place(knot.x, knot.y),
    }))

export const sketchLines = (count: number): PatternProblem[] =>
  count === 0
    ? []
    : [
        {
          kind: 'sketch-lines',
          level: 'note',
          what: `${count} ${count === 1 ? 'stroke stands' : 'strokes stand'} alone and ${count === 1 ? 'bounds' : 'bound'} nothing: taken for lines to be cut, as veins are.`,
          where: 'photo',
          remedy:
            'Nothing to do; drop those that were only sketched, and join to the next line those that bound a region.',
        },
      ]
