import { Reader } from './kinds.ts'
import { readOrientation } from './orientation.ts'

export interface JpegHead {
  readonly width: number
  readonly height: number
  /** how the rows were stored, 1 to 8; 1 where nothing is said */
  readonly orientation: number
}

/**
 * Size and orientation from a JPEG's headers, before a pixel is decoded.
 * Source: ITU-T T.81 annex B (marker segments, frame header); EXIF 2.32, where its block lies.
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
