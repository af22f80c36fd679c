/** What a file is by its first bytes, whatever its name says. */
export type PictureKind = 'png' | 'jpeg' | 'webp'

export interface Unreadable {
  readonly unreadable: string
  readonly remedy: string
}

const textAt = (bytes: Uint8Array, from: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + length))

const AS_JPEG = 'Save or send it as JPEG, PNG or WebP.'

const refused = (what: string, remedy = AS_JPEG): Unreadable => ({ unreadable: what, remedy })

/** @returns the kind, or why it is not read here and what to do */
export function kindOf(bytes: Uint8Array): PictureKind | Unreadable {
  if (bytes.length === 0) return refused('The file is empty.', 'Bring it again.')
  if (textAt(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return 'png'
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return 'jpeg'
  const head = textAt(bytes, 0, 4)
  if (head === 'RIFF' && textAt(bytes, 8, 4) === 'WEBP') return 'webp'
  if (textAt(bytes, 4, 4) === 'ftyp') {
    const brand = textAt(bytes, 8, 4)
    if (/^(heic|heix|hevc|heim|heis|mif1|msf1)$/.test(brand))
      return refused(
        'This is an HEIC photo, which is not read here.',
        'Send it from the phone as JPEG (in its camera settings, “most compatible”), or export it as JPEG.',
      )
    if (/^avi[fs]$/.test(brand)) return refused('This is an AVIF picture, which is not read here.')
    return refused('This is a film, not a picture.', 'Bring a still photo as JPEG, PNG or WebP.')
  }
  if (head === 'GIF8') return refused('This is a GIF, which is not read here.')
  if (head === 'II*\0' || head === 'MM\0*')
    return refused('This is a TIFF or a camera’s raw file, which is not read here.')
  if (head.startsWith('BM')) return refused('This is a BMP, which is not read here.')
  if (head === '%PDF')
    return refused('This is a PDF, not a picture.', 'Save the page as PNG at 300 dots per inch or more.')
  return refused('This file is no picture that is known here.', 'Bring a JPEG, PNG or WebP.')
}

/** Reads numbers of a file; beyond its end there is nothing, and it says so. */
export class Reader {
  readonly #view: DataView

  constructor(readonly bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  }

  u8(at: number): number | undefined {
    return at >= 0 && at < this.bytes.length ? this.#view.getUint8(at) : undefined
  }

  u16(at: number, little = false): number | undefined {
    return at >= 0 && at + 2 <= this.bytes.length ? this.#view.getUint16(at, little) : undefined
  }

  u32(at: number, little = false): number | undefined {
    return at >= 0 && at + 4 <= this.bytes.length ? this.#view.getUint32(at, little) : undefined
  }

  text(at: number, length: number): string {
    return textAt(this.bytes, at, length)
  }
}
