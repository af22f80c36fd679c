import { inflateSync } from 'node:zlib'
import { decode } from 'fast-png'
import type { Picture } from '../engine/pattern/photo/index.ts'
import { Reader } from './kinds.ts'
import { readOrientation } from './orientation.ts'

/** Only what the picture itself needs; profiles, texts and films may be large or hostile, and are left out. */
const NEEDED = new Set(['IHDR', 'PLTE', 'tRNS', 'IDAT', 'IEND'])

export const readPngSize = (bytes: Uint8Array): { width: number; height: number } | undefined => {
  const file = new Reader(bytes)
  const [width, height] = [file.u32(16), file.u32(20)]
  return file.text(12, 4) !== 'IHDR' || width === undefined || height === undefined
    ? undefined
    : { width, height }
}

/**
 * How the rows were stored, 1 to 8; 1 where nothing is said.
 * Source: PNG, third edition (W3C), 11.3.4.5 `eXIf`.
 */
export const readPngOrientation = (bytes: Uint8Array): number => {
  const file = new Reader(bytes)
  for (let at = 8; ; ) {
    const length = file.u32(at)
    const name = file.text(at + 4, 4)
    if (length === undefined || name === 'IEND') return 1
    if (name === 'eXIf') return readOrientation(bytes.subarray(at + 8, at + 8 + length)) ?? 1
    at += 12 + length
  }
}

/**
 * Decodes a PNG of known size onto white.
 * Source: PNG, third edition (W3C): chunk layout, colour types, sample depths.
 * @throws where the file is broken, or its data unpack to more than its size allows
 */
export function decodePng(bytes: Uint8Array): Picture {
  const chunks = chunksOf(bytes)
  const lean = joined([bytes.subarray(0, 8), ...chunks.map(({ whole }) => whole)])
  const packed = joined(chunks.filter(({ name }) => name === 'IDAT').map(({ data }) => data))
  const { width, height } = readPngSize(lean) ?? { width: 0, height: 0 }
  // at most eight bytes a pixel and a filter byte a row; a little more for an interlaced picture's passes
  inflateSync(packed, { maxOutputLength: height * (width * 8 + 8) * 2 + 4096 })
  const { data, depth, channels, palette, transparency, ...size } = decode(lean, { checkCrc: true })
  const top = 2 ** depth - 1
  const read = depth < 8 ? unpack(data, size.width, size.height, depth) : data
  const clear = transparency === undefined || transparency.length === 0 ? undefined : [...transparency]
  const out = new Uint8ClampedArray(size.width * size.height * 4)
  const steps = palette === undefined ? channels : 1
  for (let k = 0; k < size.width * size.height; k += 1) {
    const from = k * steps
    let red: number
    let green: number
    let blue: number
    let opacity = 255
    if (palette !== undefined) {
      const [r = 255, g = 255, b = 255, a = 255] = palette[read[from] as number] ?? []
      ;[red, green, blue, opacity] = [r, g, b, a]
    } else {
      const first = read[from] as number
      const isColour = channels >= 3
      const second = isColour ? (read[from + 1] as number) : first
      const third = isColour ? (read[from + 2] as number) : first
      const isClear =
        clear !== undefined &&
        clear[0] === first &&
        (!isColour || (clear[1] === second && clear[2] === third))
      if (channels === 2 || channels === 4) opacity = ((read[from + channels - 1] as number) * 255) / top
      else if (isClear) opacity = 0
      red = (first * 255) / top
      green = (second * 255) / top
      blue = (third * 255) / top
    }
    const white = 255 - opacity
    out[k * 4] = (red * opacity) / 255 + white
    out[k * 4 + 1] = (green * opacity) / 255 + white
    out[k * 4 + 2] = (blue * opacity) / 255 + white
    out[k * 4 + 3] = 255
  }
  return { width: size.width, height: size.height, data: out }
}

interface Chunk {
  readonly name: string
  readonly data: Uint8Array
  readonly whole: Uint8Array
}

function chunksOf(bytes: Uint8Array): Chunk[] {
  const file = new Reader(bytes)
  const chunks: Chunk[] = []
  for (let at = 8; ; ) {
    const length = file.u32(at)
    if (length === undefined || at + 12 + length > bytes.length) throw new Error('it ends early')
    const name = file.text(at + 4, 4)
    const end = at + 12 + length
    if (NEEDED.has(name))
      chunks.push({ name, data: bytes.subarray(at + 8, end - 4), whole: bytes.subarray(at, end) })
    if (name === 'IEND') return chunks
    at = end
  }
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

/** Samples of less than a byte, each row beginning a new byte. */
function unpack(packed: ArrayLike<number>, width: number, height: number, depth: number): Uint8Array {
  const row = Math.ceil((width * depth) / 8)
  // some depths come as one sample a byte already
  if (packed.length === width * height && row !== width) return Uint8Array.from(packed)
  const out = new Uint8Array(width * height)
  const most = 2 ** depth - 1
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const bit = x * depth
      const byte = packed[y * row + (bit >> 3)] as number
      out[y * width + x] = (byte >> (8 - depth - (bit & 7))) & most
    }
  return out
}
