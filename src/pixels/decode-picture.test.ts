import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { deflateSync } from 'node:zlib'
import encodeWebp, { init as initWebp } from '@jsquash/webp/encode.js'
import { encode as encodePng } from 'fast-png'
import { encode as encodeJpeg } from 'jpeg-js'
import { describe, expect, test } from 'vitest'
import type { Picture } from '../engine/pattern/photo/index.ts'
import { pixelsInOne } from '../engine/pattern/photo/index.ts'
import { type DecodedPicture, decodePicture } from './index.ts'

type Colour = 'red' | 'green' | 'blue' | 'white'
const rgb: Record<Colour, readonly number[]> = {
  red: [220, 20, 20],
  green: [20, 180, 20],
  blue: [20, 20, 220],
  white: [250, 250, 250],
}

/** Stored rows: red where the 0th row and 0th column meet, green at the 0th row's end, blue at the 0th column's. */
function quarters(width: number, height: number): Uint8Array {
  const data = new Uint8Array(width * height * 4)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const [left, top] = [x < width / 2, y < height / 2]
      const colour: Colour = top ? (left ? 'red' : 'green') : left ? 'blue' : 'white'
      data.set([...rgb[colour], 255], (y * width + x) * 4)
    }
  return data
}

function colourAt({ width, data }: Picture, x: number, y: number): Colour {
  const seen = [0, 1, 2].map((k) => data[(y * width + x) * 4 + k] ?? 0)
  const away = (colour: Colour): number =>
    rgb[colour].reduce((sum, value, k) => sum + Math.abs(value - (seen[k] ?? 0)), 0)
  return (Object.keys(rgb) as Colour[]).reduce((best, colour) => (away(colour) < away(best) ? colour : best))
}

const cornersOf = (picture: Picture): Record<string, Colour> => {
  const [right, low] = [picture.width - 5, picture.height - 5]
  return {
    'top left': colourAt(picture, 4, 4),
    'top right': colourAt(picture, right, 4),
    'bottom left': colourAt(picture, 4, low),
    'bottom right': colourAt(picture, right, low),
  }
}

async function decoded(bytes: Uint8Array): Promise<DecodedPicture> {
  const answer = await decodePicture(bytes, 'clasp')
  if ('unreadable' in answer) throw new Error(answer.unreadable)
  return answer
}

async function refusal(bytes: Uint8Array) {
  const answer = await decodePicture(bytes, 'clasp')
  if (!('unreadable' in answer)) throw new Error('it was read')
  return `${answer.unreadable} ${answer.remedy}`
}

/** An EXIF block of one entry, in either byte order. */
function exifOf(orientation: number, order: 'II' | 'MM'): Uint8Array {
  const little = order === 'II'
  const block = new DataView(new ArrayBuffer(26))
  block.setUint16(0, little ? 0x4949 : 0x4d4d)
  block.setUint16(2, 42, little)
  block.setUint32(4, 8, little)
  block.setUint16(8, 1, little)
  block.setUint16(10, 0x0112, little)
  block.setUint16(12, 3, little)
  block.setUint32(14, 1, little)
  block.setUint16(18, orientation, little)
  return new Uint8Array(block.buffer)
}

type Order = 'II' | 'MM'

function jpegWith(orientation: number, order: Order): Uint8Array {
  const { data } = encodeJpeg({ width: 64, height: 40, data: quarters(64, 40) }, 95)
  const head = [0xff, 0xe1, 0, 2 + 6 + 26, 0x45, 0x78, 0x69, 0x66, 0, 0]
  return Uint8Array.from([
    ...data.subarray(0, 2),
    ...head,
    ...exifOf(orientation, order),
    ...data.subarray(2),
  ])
}

/** Filtered with nothing: a byte of noughts before each row. */
const rowsOf = (data: Uint8Array, width: number, height: number): Buffer =>
  Buffer.concat(
    Array.from({ length: height }, (_, y) =>
      Buffer.concat([Buffer.alloc(1), data.subarray(y * width * 4, (y + 1) * width * 4)]),
    ),
  )

const pngWith = (orientation: number, order: Order): Uint8Array =>
  pngOf(64, 40, 8, 6, rowsOf(quarters(64, 40), 64, 40), undefined, Buffer.from(exifOf(orientation, order)))

/** The extended form of a WebP (RFC 9649, 2.7): VP8X that promises EXIF, the picture, the EXIF. */
async function webpWith(orientation: number, order: Order): Promise<Uint8Array> {
  const plain = Buffer.from(await webpOf(64, 40, 1))
  const chunk = (name: string, data: Uint8Array): Buffer => {
    const head = Buffer.alloc(8)
    head.write(name, 0, 'latin1')
    head.writeUInt32LE(data.length, 4)
    return Buffer.concat([head, data, Buffer.alloc(data.length % 2)])
  }
  const body = Buffer.concat([
    Buffer.from('WEBP', 'latin1'),
    chunk('VP8X', Buffer.from([0x08, 0, 0, 0, 63, 0, 0, 39, 0, 0])),
    plain.subarray(12),
    chunk('EXIF', exifOf(orientation, order)),
  ])
  const head = Buffer.alloc(8)
  head.write('RIFF', 0, 'latin1')
  head.writeUInt32LE(body.length, 4)
  return Uint8Array.from(Buffer.concat([head, body]))
}

async function webpOf(width: number, height: number, lossless: 0 | 1): Promise<ArrayBuffer> {
  const file = createRequire(import.meta.url).resolve('@jsquash/webp/codec/enc/webp_enc.wasm')
  await initWebp(new WebAssembly.Module(readFileSync(file)))
  const data = new Uint8ClampedArray(quarters(width, height))
  return encodeWebp({ width, height, data, colorSpace: 'srgb' }, { lossless, quality: 90 })
}

describe('a picture is turned upright', () => {
  // EXIF 2.32, tag 0x0112: the side of the seen picture on which the stored 0th row lies, and the 0th column
  const table: readonly (readonly [number, row: string, column: string])[] = [
    [1, 'top', 'left'],
    [2, 'top', 'right'],
    [3, 'bottom', 'right'],
    [4, 'bottom', 'left'],
    [5, 'left', 'top'],
    [6, 'right', 'top'],
    [7, 'right', 'bottom'],
    [8, 'left', 'bottom'],
  ]
  const opposite: Record<string, string> = { top: 'bottom', bottom: 'top', left: 'right', right: 'left' }
  const corner = (a: string, b: string): string => (a === 'top' || a === 'bottom' ? `${a} ${b}` : `${b} ${a}`)

  test.each(table)('orientation %i: 0th row at the %s, 0th column at the %s', async (value, row, column) => {
    for (const [make, order] of [
      [jpegWith, 'II'],
      [jpegWith, 'MM'],
      [pngWith, 'II'],
      [pngWith, 'MM'],
      [webpWith, 'II'],
      [webpWith, 'MM'],
    ] as const) {
      const { picture, original, orientation } = await decoded(await make(value, order))
      expect(orientation, `${make.name} ${order}`).toBe(value)
      expect([picture.width, picture.height]).toEqual(value >= 5 ? [40, 64] : [64, 40])
      expect(original).toEqual({ width: picture.width, height: picture.height })
      expect(cornersOf(picture)).toMatchObject({
        [corner(row, column)]: 'red',
        [corner(row, opposite[column] ?? '')]: 'green',
        [corner(opposite[row] ?? '', column)]: 'blue',
      })
    }
  })

  test('a value outside the table leaves it as stored', async () => {
    expect((await decoded(jpegWith(9, 'II'))).orientation).toBe(1)
  })
})

describe('a PNG is read', () => {
  const seen = { 'top left': 'red', 'top right': 'green', 'bottom left': 'blue', 'bottom right': 'white' }

  test('with 8 bits of colour, and with clear places as white', async () => {
    const data = quarters(64, 40)
    expect(
      cornersOf((await decoded(encodePng({ width: 64, height: 40, data, channels: 4 }))).picture),
    ).toEqual(seen)
    // all clear in its red quarter
    for (let k = 0; k < data.length; k += 4) if (data[k] === 220) data[k + 3] = 0
    const { picture } = await decoded(encodePng({ width: 64, height: 40, data, channels: 4 }))
    expect([...picture.data.subarray(0, 4)]).toEqual([255, 255, 255, 255])
  })

  test('with 16 bits of grey', async () => {
    const data = Uint16Array.from({ length: 64 * 40 }, (_, k) => (k % 64 < 32 ? 0x8000 : 0xffff))
    const { picture } = await decoded(encodePng({ width: 64, height: 40, data, channels: 1, depth: 16 }))
    // 0x8000 of 0xffff is 127.5 of 255
    expect(Math.abs((picture.data[0] ?? 0) - 127.5)).toBeLessThanOrEqual(1)
    expect(picture.data[63 * 4]).toBe(255)
  })

  // rows of one bit a pixel begin a new byte each: 61 pixels take 8 bytes
  test.each([1, 2, 4] as const)('with a palette of %i bits a pixel', async (depth) => {
    const [width, height] = [61, 40]
    const row = Math.ceil((width * depth) / 8)
    const raw = Buffer.alloc((row + 1) * height)
    for (let y = 0; y < height; y += 1)
      for (let x = 0; x < width; x += 1)
        if (x >= width / 2) {
          const bit = x * depth
          const at = y * (row + 1) + 1 + (bit >> 3)
          raw[at] = (raw[at] ?? 0) | (1 << (8 - depth - (bit & 7)))
        }
    const bytes = pngOf(width, height, depth, 3, raw, Buffer.from([...(rgb.red ?? []), ...(rgb.blue ?? [])]))
    expect(cornersOf((await decoded(bytes)).picture)).toEqual({
      'top left': 'red',
      'bottom left': 'red',
      'top right': 'blue',
      'bottom right': 'blue',
    })
  })

  test('but not where its data unpack to more than its size needs', async () => {
    const bytes = pngOf(64, 40, 8, 0, Buffer.alloc(50_000_000))
    expect(bytes.length).toBeLessThan(60_000)
    expect(await refusal(bytes)).toMatch(/broken/)
  })
})

const CRC = Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  return c >>> 0
})

/** A PNG by the letter of its standard: signature, IHDR, eXIf, PLTE, IDAT, IEND. */
function pngOf(
  width: number,
  height: number,
  depth: number,
  type: number,
  raw: Buffer,
  palette?: Buffer,
  exif?: Buffer,
): Uint8Array {
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data])
    let crc = 0xffffffff
    for (const byte of body) crc = (CRC[(crc ^ byte) & 255] ?? 0) ^ (crc >>> 8)
    const out = Buffer.alloc(body.length + 8)
    out.writeUInt32BE(data.length, 0)
    body.copy(out, 4)
    out.writeUInt32BE((crc ^ 0xffffffff) >>> 0, body.length + 4)
    return out
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([depth, type, 0, 0, 0], 8)
  return Uint8Array.from(
    Buffer.concat([
      Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
      chunk('IHDR', head),
      ...(exif === undefined ? [] : [chunk('eXIf', exif)]),
      ...(palette === undefined ? [] : [chunk('PLTE', palette)]),
      chunk('IDAT', deflateSync(raw, { level: 9 })),
      chunk('IEND', Buffer.alloc(0)),
    ]),
  )
}

test('a WebP is read, lossless and lossy', async () => {
  for (const lossless of [0, 1] as const) {
    const bytes = await webpOf(64, 40, lossless)
    const { picture, original } = await decoded(new Uint8Array(bytes))
    expect(original).toEqual({ width: 64, height: 40 })
    expect(cornersOf(picture)).toEqual({
      'top left': 'red',
      'top right': 'green',
      'bottom left': 'blue',
      'bottom right': 'white',
    })
  }
})

test('a page and this decoder make the same picture smaller by as much', () => {
  expect(pixelsInOne(4000, 3000)).toBe(1)
  expect(pixelsInOne(4000, 4000)).toBe(1)
  expect(pixelsInOne(6000, 4000)).toBe(2)
  expect(pixelsInOne(8000, 8000)).toBe(2)
})

test('a picture of 20 million pixels is worked smaller and says how large it was', async () => {
  const data = new Uint8Array(5000 * 4000).fill(255)
  const { picture, original } = await decoded(encodePng({ width: 5000, height: 4000, data, channels: 1 }))
  expect(original).toEqual({ width: 5000, height: 4000 })
  expect(picture).toMatchObject({ width: 2500, height: 2000, original })
})

describe('a file that is not read is named, with what to do', () => {
  const bytesOf = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text.padEnd(64, '\0'), 'latin1'))

  test.each([
    ['HEIC', bytesOf('\0\0\0\x18ftypheic'), /HEIC.*JPEG/],
    ['AVIF', bytesOf('\0\0\0\x18ftypavif'), /AVIF/],
    ['a film', bytesOf('\0\0\0\x18ftypmp42'), /film/],
    ['GIF', bytesOf('GIF89a'), /GIF/],
    ['TIFF', bytesOf('II*\0'), /TIFF/],
    ['BMP', bytesOf('BM'), /BMP/],
    ['PDF', bytesOf('%PDF-1.7'), /PDF/],
    ['nothing', new Uint8Array(0), /empty/],
    ['words', bytesOf('hello'), /no picture/],
  ])('%s', async (_, bytes, words) => {
    expect(await refusal(bytes)).toMatch(words)
  })

  test('a JPEG cut short', async () => {
    const whole = jpegWith(1, 'II')
    expect(await refusal(whole.slice(0, whole.length - 40))).toMatch(/broken/)
    expect(await refusal(whole.slice(0, 30))).toMatch(/broken/)
  })

  test('a PNG with a flipped bit', async () => {
    const bytes = Uint8Array.from(encodePng({ width: 64, height: 40, data: quarters(64, 40), channels: 4 }))
    const middle = bytes.length >> 1
    bytes[middle] = (bytes[middle] ?? 0) ^ 0x10
    expect(await refusal(bytes)).toMatch(/broken/)
  })

  test('sizes of 60000 x 60000, before any memory is taken', async () => {
    const before = process.memoryUsage().rss
    const png = encodePng({ width: 40, height: 40, data: new Uint8Array(1600), channels: 1 })
    new DataView(png.buffer, png.byteOffset).setUint32(16, 60_000)
    new DataView(png.buffer, png.byteOffset).setUint32(20, 60_000)
    expect(await refusal(png)).toMatch(/3600 million/)
    const jpeg = jpegWith(1, 'MM')
    const frame = jpeg.findIndex((byte, k) => byte === 0xff && jpeg[k + 1] === 0xc0)
    new DataView(jpeg.buffer).setUint16(frame + 5, 60_000)
    new DataView(jpeg.buffer).setUint16(frame + 7, 60_000)
    expect(await refusal(jpeg)).toMatch(/3600 million/)
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6)
  })
})
