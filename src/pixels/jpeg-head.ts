import { Reader } from './kinds.ts'

export interface JpegHead {
  readonly width: number
  readonly height: number
  /** how the rows were stored, 1 to 8; 1 where nothing is said */
  readonly orientation: number
}

/**
 * Size and orientation from a JPEG's headers, before a pixel is decoded.
 * Source: ITU-T T.81 annex B (marker segments, frame header); EXIF 2.32, tag 0x0112.
 */
export function readJpegHead(bytes: Uint8Array): JpegHead | undefined {
  const file = new Reader(bytes)
  let orientation = 1
  for (let at = 2; at < bytes.length; ) {
    if (file.u8(at) !== 0xff) return undefined
    const marker = file.u8(at + 1)
    if (marker === undefined) return undefined
    // fill bytes and markers without a length
    if (marker === 0xff) {
      at += 1
      continue
    }
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2
      continue
    }
    const length = file.u16(at + 2)
    if (length === undefined || length < 2 || marker === 0xd9) return undefined
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc
    if (isFrame) {
      const [height, width] = [file.u16(at + 5), file.u16(at + 7)]
      return height === undefined || width === undefined ? undefined : { width, height, orientation }
    }
    if (marker === 0xe1 && file.text(at + 4, 6) === 'Exif\0\0')
      orientation = readOrientation(bytes.subarray(at + 10, at + 2 + length)) ?? orientation
    at += 2 + length
  }
  return undefined
}

/** The orientation in an EXIF block (a TIFF header and its first directory). */
function readOrientation(block: Uint8Array): number | undefined {
  const exif = new Reader(block)
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
