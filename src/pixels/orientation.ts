import { Reader } from './kinds.ts'

/**
 * How a picture's rows were stored, 1 to 8, from an EXIF block: a TIFF header and its first directory, with or
 * without the mark that a JPEG puts before it. Undefined where nothing is said, or what is said is broken.
 * Source: EXIF 2.32, tag 0x0112.
 */
export function readOrientation(block: Uint8Array): number | undefined {
  const marked = new Reader(block).text(0, 6) === 'Exif\0\0'
  const exif = new Reader(marked ? block.subarray(6) : block)
  const order = exif.text(0, 2)
  if (order !== 'II' && order !== 'MM') return undefined
  const little = order === 'II'
  const directory = exif.u32(4, little)
  if (directory === undefined) return undefined
  const count = exif.u16(directory, little) ?? 0
  for (let k = 0; k < count; k += 1) {
    const entry = directory + 2 + k * 12
    if (exif.u16(entry, little) !== 0x0112) continue
    const value = exif.u16(entry + 8, little)
    return value !== undefined && value >= 1 && value <= 8 ? value : undefined
  }
  return undefined
}
