import type { PhotoSetting } from '../../../../engine/documents/heights.ts'
import type { PictureSize } from './frame.ts'

/** Sheets that lie about in a shop; sizes of ISO 216 and ANSI/ASME Y14.1, and a ruled index card. */
export const SHEETS = [
  { id: 'card', name: 'a card', width_mm: 127, height_mm: 76.2 },
  { id: 'card-upright', name: 'a card, upright', width_mm: 76.2, height_mm: 127 },
  { id: 'a4', name: 'A4, upright', width_mm: 210, height_mm: 297 },
  { id: 'a4-lying', name: 'A4, lying', width_mm: 297, height_mm: 210 },
  { id: 'letter', name: 'Letter, upright', width_mm: 215.9, height_mm: 279.4 },
  { id: 'letter-lying', name: 'Letter, lying', width_mm: 279.4, height_mm: 215.9 },
] as const

export const sheetNamed = (width_mm: number, height_mm: number): string =>
  SHEETS.find(
    (sheet) => Math.abs(sheet.width_mm - width_mm) < 0.01 && Math.abs(sheet.height_mm - height_mm) < 0.01,
  )?.id ?? 'own'

type Corners = Extract<PhotoSetting['scale'], { by: 'sheet' }>['corners_px']

/** Where the marks lie until they are brought to the corners: an eighth in from each side. */
export const firstCorners = ({ width, height }: PictureSize): Corners => {
  const [x, y] = [Math.round(width / 8), Math.round(height / 8)]
  return [
    [x, y],
    [width - x, y],
    [width - x, height - y],
    [x, height - y],
  ]
}

export const firstPoints = ({ width, height }: PictureSize): [[number, number], [number, number]] => [
  [Math.round(width / 4), Math.round(height / 2)],
  [Math.round((3 * width) / 4), Math.round(height / 2)],
]

export const photoSetting = (scale: PhotoSetting['scale']): PhotoSetting => ({
  scale,
  widest_line_mm: 1.6,
  join_mm: 0.5,
  speck_mm2: 0.5,
})
