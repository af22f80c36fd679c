import type { SheetMap } from './homography.ts'
import type { Field } from './picture.ts'

const SAMPLES = 48
/** The sheet's edge is looked for this far from the marked side, as a share of the sheet's shorter side. */
const REACH = 0.05
const LEAST_STEP = 18
const LEAST_FOUND = 0.6

/**
 * How far the sheet's own edge, as seen in the picture, lies from the lines between the marked corners.
 * It gathers badly placed marks, a bent sheet and a lens that bends straight lines.
 * @returns millimetres, the distance that nineteen places in twenty keep within; undefined where the sheet does
 * not stand out from what it lies on
 */
export function measureStraightness(grey: Field<Uint8Array>, map: SheetMap): number | undefined {
  const { width_mm: w, height_mm: h } = map
  const reach = REACH * Math.min(w, h)
  const sides = [
    { at: (t: number) => [t * w, 0], out: [0, -1] },
    { at: (t: number) => [t * w, h], out: [0, 1] },
    { at: (t: number) => [0, t * h], out: [-1, 0] },
    { at: (t: number) => [w, t * h], out: [1, 0] },
  ]
  const offs: number[] = []
  for (const { at, out } of sides) {
    let found = 0
    for (let k = 0; k < SAMPLES; k += 1) {
      const [x = 0, y = 0] = at((k + 0.5) / SAMPLES)
      const off = edgeNear(grey, map, x, y, out[0] ?? 0, out[1] ?? 0, reach)
      if (off === undefined) continue
      found += 1
      offs.push(Math.abs(off))
    }
    if (found < LEAST_FOUND * SAMPLES) return undefined
  }
  offs.sort((a, b) => a - b)
  return offs[Math.floor(offs.length * 0.95)]
}

/** Where along the outward line through a place the brightness steps most, if it steps clearly. */
function edgeNear(
  grey: Field<Uint8Array>,
  map: SheetMap,
  x: number,
  y: number,
  outX: number,
  outY: number,
  reach: number,
): number | undefined {
  const step = Math.max(map.mmPerPixel / 2, reach / 200)
  const steps = Math.ceil(reach / step)
  const line: number[] = []
  for (let k = -steps; k <= steps; k += 1) {
    const [px, py] = map.toPicture(x + outX * k * step, y + outY * k * step)
    const [left, top] = [Math.floor(px - 0.5), Math.floor(py - 0.5)]
    if (left < 0 || top < 0 || left + 1 >= grey.width || top + 1 >= grey.height) return undefined
    const [fx, fy] = [px - 0.5 - left, py - 0.5 - top]
    const at = top * grey.width + left
    const [a, b] = [grey.data[at] as number, grey.data[at + 1] as number]
    const [c, d] = [grey.data[at + grey.width] as number, grey.data[at + grey.width + 1] as number]
    line.push((a + (b - a) * fx) * (1 - fy) + (c + (d - c) * fx) * fy)
  }
  // a step is the difference of the means of some places outside and as many inside
  const span = 6
  let best = 0
  let bestAt = 0
  const heights: number[] = []
  for (let k = span; k + span <= line.length; k += 1) {
    let difference = 0
    for (let j = 1; j <= span; j += 1) difference += (line[k - j] as number) - (line[k + j - 1] as number)
    heights.push(Math.abs(difference) / span)
    if (Math.abs(difference) / span > best) {
      best = Math.abs(difference) / span
      bestAt = k
    }
  }
  if (best < LEAST_STEP) return undefined
  let [sum, weight] = [0, 0]
  for (let k = bestAt - span; k <= bestAt + span; k += 1) {
    const size = Math.max(0, (heights[k - span] ?? 0) - best / 2)
    sum += size * k
    weight += size
  }
  return (sum / weight - 0.5 - steps) * step
}
