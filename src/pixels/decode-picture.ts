import { decode as decodeJpeg } from 'jpeg-js'
import { MOST_PIXELS, type Picture, pixelsInOne } from '../engine/pattern/photo/index.ts'
import { readJpegHead } from './jpeg-head.ts'
import { kindOf, type PictureKind, type Unreadable } from './kinds.ts'
import { decodePng, readPngOrientation, readPngSize } from './png.ts'
import { makeSmaller, turnUpright } from './upright.ts'
import { decodeWebp, readWebpOrientation, readWebpSize } from './webp.ts'

export interface DecodedPicture {
  /** upright and opaque; says its original size where it was made smaller */
  readonly picture: Picture
  /** of the whole picture, upright */
  readonly original: { readonly width: number; readonly height: number }
  /** as the file stored it, EXIF 1 to 8 */
  readonly orientation: number
}

const LEAST_SIDE = 32
const JPEG_MEMORY_MB = 1600

/**
 * A picture file's pixels.
 * @param name  the file's own, for the words only
 * @returns the picture, or why it cannot be read and what to do; never throws for what a file holds
 */
export async function decodePicture(bytes: Uint8Array, name: string): Promise<DecodedPicture | Unreadable> {
  const kind = kindOf(bytes)
  if (typeof kind !== 'string') return kind
  const head = headOf(kind, bytes)
  if (head === undefined) return broken(name)
  const { width, height, orientation } = head
  if (width * height > MOST_PIXELS)
    return {
      unreadable: `${name} says it is ${width} x ${height} pixels, ${Math.round((width * height) / 1e6)} million; up to ${MOST_PIXELS / 1e6} million are read here.`,
      remedy: 'Make it smaller in any picture program; 12 million pixels are plenty for a drawing.',
    }
  if (Math.min(width, height) < LEAST_SIDE)
    return {
      unreadable: `${name} is ${width} x ${height} pixels, too small to hold a drawing.`,
      remedy: 'Photograph or scan the drawing again.',
    }
  try {
    const stored = await decodeStored(kind, bytes)
    const upright = turnUpright(onWhite(stored), orientation)
    const original = { width: upright.width, height: upright.height }
    const step = pixelsInOne(original.width, original.height)
    const picture = step > 1 ? { ...makeSmaller(upright, step), original } : upright
    return { picture, original, orientation }
  } catch {
    return broken(name)
  }
}

const broken = (name: string): Unreadable => ({
  unreadable: `${name} is broken: it begins like a picture but cannot be read to its end.`,
  remedy: 'Send or save it again; a file cut short in sending looks like this.',
})

function headOf(kind: PictureKind, bytes: Uint8Array) {
  if (kind === 'jpeg') return readJpegHead(bytes)
  const size = kind === 'png' ? readPngSize(bytes) : readWebpSize(bytes)
  const orientation = kind === 'png' ? readPngOrientation(bytes) : readWebpOrientation(bytes)
  return size === undefined ? undefined : { ...size, orientation }
}

async function decodeStored(kind: PictureKind, bytes: Uint8Array): Promise<Picture> {
  if (kind === 'png') return decodePng(bytes)
  if (kind === 'webp') return decodeWebp(bytes)
  if (!hasEnd(bytes)) throw new Error('it ends early')
  const { width, height, data } = decodeJpeg(bytes, {
    useTArray: true,
    maxResolutionInMP: MOST_PIXELS / 1e6,
    maxMemoryUsageInMB: JPEG_MEMORY_MB,
  })
  return { width, height, data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.length) }
}

/** Whether a JPEG has its end marker, after which cameras may add what they like. */
function hasEnd(bytes: Uint8Array): boolean {
  for (let at = bytes.lastIndexOf(0xd9); at > 0; at = bytes.lastIndexOf(0xd9, at - 1))
    if (bytes[at - 1] === 0xff) return true
  return false
}

function onWhite({ width, height, data }: Picture): Picture {
  for (let k = 3; k < data.length; k += 4) {
    const opacity = data[k] as number
    if (opacity === 255) continue
    for (let j = k - 3; j < k; j += 1) data[j] = ((data[j] as number) * opacity) / 255 + 255 - opacity
    data[k] = 255
  }
  return { width, height, data }
}
