import type { SheetMap } from './homography.ts'
import type { Field } from './picture.ts'

/** More pixels than this add time and no truth to a pen stroke. */
const MOST_PIXELS = 4e6
/** A coarse picture is read between its pixels, so that a stroke is several steps wide. */
const COARSE_MM = 0.07
const MOST_PIXELS_MADE_FINER = 2e6

/** A sheet seen squarely: brightness 0 to 255, upper row first. */
export interface FlatSheet extends Field<Float32Array> {
  readonly mm: number
  /** pixels of the picture to one of these, along a side; above 1 where it was reduced */
  readonly reduced: number
}

/** The sheet straightened, at the picture's own fineness as far as the work stays quick. */
export function flattenSheet(grey: Field<Uint8Array>, map: SheetMap): FlatSheet {
  const area_mm2 = map.width_mm * map.height_mm
  let mm = Math.max(map.mmPerPixel, Math.sqrt(area_mm2 / MOST_PIXELS))
  if (mm > COARSE_MM) mm = Math.max(COARSE_MM, mm / 3, Math.sqrt(area_mm2 / MOST_PIXELS_MADE_FINER))
  mm = Math.max(mm, map.mmPerPixel / 3)
  const width = Math.max(8, Math.round(map.width_mm / mm))
  const height = Math.max(8, Math.round(map.height_mm / mm))
  const reduced = mm / map.mmPerPixel
  const data = resample(grey, map, width, height, Math.min(4, Math.ceil(reduced - 0.3)))
  return { width, height, data, mm: map.width_mm / width, reduced }
}

/** Each pixel is the mean of `fine` x `fine` places in it, read between the picture's pixels. */
export function resample(
  grey: Field<Uint8Array>,
  map: SheetMap,
  width: number,
  height: number,
  fine: number,
): Float32Array {
  const parts = Math.max(1, fine)
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = map.matrix
  const stepX = map.width_mm / width
  const stepY = map.height_mm / height
  const { width: across, height: down, data: from } = grey
  const out = new Float32Array(width * height)
  const [rightmost, lowest] = [across - 1.001, down - 1.001]
  const share = 1 / (parts * parts)
  for (let row = 0; row < height; row += 1)
    for (let part = 0; part < parts; part += 1) {
      const y = map.height_mm - (row + (part + 0.5) / parts) * stepY
      const [bc, ef, hi] = [b * y + c, e * y + f, h * y + i]
      for (let k = 0; k < width * parts; k += 1) {
        const x = ((k + 0.5) / parts) * stepX
        const w = 1 / (g * x + hi)
        let px = (a * x + bc) * w - 0.5
        let py = (d * x + ef) * w - 0.5
        px = px < 0 ? 0 : Math.min(px, rightmost)
        py = py < 0 ? 0 : Math.min(py, lowest)
        const left = px | 0
        const top = py | 0
        const fx = px - left
        const at = top * across + left
        const upper = (from[at] as number) * (1 - fx) + (from[at + 1] as number) * fx
        const lower = (from[at + across] as number) * (1 - fx) + (from[at + across + 1] as number) * fx
        const to = row * width + (parts === 1 ? k : (k / parts) | 0)
        out[to] = (out[to] as number) + (upper + (lower - upper) * (py - top)) * share
      }
    }
  return out
}
