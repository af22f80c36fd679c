import type { Picture } from '../engine/pattern/photo/index.ts'

/**
 * Turns stored rows into the picture as it was seen.
 * Source: EXIF 2.32, tag 0x0112: where the stored 0th row and 0th column lie, 1 top left, 2 top right,
 * 3 bottom right, 4 bottom left, 5 left top, 6 right top, 7 right bottom, 8 left bottom.
 */
export function turnUpright(stored: Picture, orientation: number): Picture {
  if (orientation <= 1 || orientation > 8) return stored
  const { width: w, height: h } = stored
  const isTurned = orientation >= 5
  const [width, height] = isTurned ? [h, w] : [w, h]
  const from = new Uint32Array(stored.data.buffer, stored.data.byteOffset, w * h)
  const to = new Uint32Array(w * h)
  // steps through the stored pixels as the upright one is walked to the right and down
  const fromRight = orientation === 2 || orientation === 3 || orientation === 7 || orientation === 8
  const fromBottom = orientation === 3 || orientation === 4 || orientation === 6 || orientation === 7
  const column = fromRight ? -1 : 1
  const row = fromBottom ? -w : w
  const start = (fromRight ? w - 1 : 0) + (fromBottom ? (h - 1) * w : 0)
  const [right, down] = isTurned ? [row, column] : [column, row]
  for (let y = 0, at = 0; y < height; y += 1) {
    let k = start + y * down
    for (let x = 0; x < width; x += 1, at += 1, k += right) to[at] = from[k] as number
  }
  return { width, height, data: new Uint8ClampedArray(to.buffer) }
}

/** Every `step` x `step` pixels become one, their mean. */
export function makeSmaller(picture: Picture, step: number): Picture {
  const [width, height] = [Math.floor(picture.width / step), Math.floor(picture.height / step)]
  const data = new Uint8ClampedArray(width * height * 4)
  const share = 1 / (step * step)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      let [red, green, blue, opacity] = [0, 0, 0, 0]
      for (let v = 0; v < step; v += 1) {
        let from = ((y * step + v) * picture.width + x * step) * 4
        for (let u = 0; u < step; u += 1, from += 4) {
          red += picture.data[from] as number
          green += picture.data[from + 1] as number
          blue += picture.data[from + 2] as number
          opacity += picture.data[from + 3] as number
        }
      }
      const to = (y * width + x) * 4
      data[to] = red * share
      data[to + 1] = green * share
      data[to + 2] = blue * share
      data[to + 3] = opacity * share
    }
  return { width, height, data }
}
