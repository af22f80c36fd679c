import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import decode, { init } from '@jsquash/webp/decode.js'
import type { Picture } from '../engine/pattern/photo/index.ts'
import { Reader } from './kinds.ts'
import { readOrientation } from './orientation.ts'

/**
 * Size from the header, before a pixel is decoded.
 * Source: RFC 9649, WebP image format: VP8X canvas, VP8L and VP8 frame headers.
 */
export function readWebpSize(bytes: Uint8Array): { width: number; height: number } | undefined {
  const file = new Reader(bytes)
  const u24 = (at: number): number | undefined => {
    const [low, high] = [file.u16(at, true), file.u8(at + 2)]
    return low === undefined || high === undefined ? undefined : low + high * 65_536
  }
  const first = file.text(12, 4)
  if (first === 'VP8X') {
    const [width, height] = [u24(24), u24(27)]
    return width === undefined || height === undefined ? undefined : { width: width + 1, height: height + 1 }
  }
  if (first === 'VP8L') {
    const bits = file.u32(21, true)
    return bits === undefined
      ? undefined
      : { width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1 }
  }
  const [width, height] = [file.u16(26, true), file.u16(28, true)]
  return first !== 'VP8 ' || width === undefined || height === undefined
    ? undefined
    : { width: width & 0x3fff, height: height & 0x3fff }
}

/**
 * How the rows were stored, 1 to 8; 1 where nothing is said.
 * Source: RFC 9649, 2.7.1.5 (metadata: `EXIF`), 2.3 (chunks are padded to an even size).
 */
export function readWebpOrientation(bytes: Uint8Array): number {
  const file = new Reader(bytes)
  for (let at = 12; ; ) {
    const length = file.u32(at + 4, true)
    if (length === undefined) return 1
    if (file.text(at, 4) === 'EXIF') return readOrientation(bytes.subarray(at + 8, at + 8 + length)) ?? 1
    at += 8 + length + (length % 2)
  }
}

let loaded: Promise<void> | undefined

/** The decoder's WebAssembly lies in its package, beside the program or the bundle. */
async function load(): Promise<void> {
  const file = createRequire(import.meta.url).resolve('@jsquash/webp/codec/dec/webp_dec.wasm')
  const wasm = await WebAssembly.compile(new Uint8Array(await readFile(file)))
  await init({
    instantiateWasm: (imports: WebAssembly.Imports, done: (instance: WebAssembly.Instance) => void) => {
      const instance = new WebAssembly.Instance(wasm, imports)
      done(instance)
      return instance.exports
    },
  })
}

/** @throws where the file is broken */
export async function decodeWebp(bytes: Uint8Array): Promise<Picture> {
  loaded ??= load()
  await loaded
  const { width, height, data } = await decode(new Uint8Array(bytes).buffer)
  return { width, height, data: new Uint8ClampedArray(data) }
}
