/** An upright picture, four bytes a pixel: red, green, blue, opacity. */
export interface Picture {
  readonly width: number
  readonly height: number
  readonly data: Uint8ClampedArray
  /** of the picture as taken, where this is a smaller copy; marks are in the pixels of that one */
  readonly original?: { readonly width: number; readonly height: number }
}

/** No picture that claims more is decoded: 64 million pixels take a quarter of a gigabyte. */
export const MOST_PIXELS = 64e6
/** Larger pictures are worked smaller; the sheet is read with 4 million pixels at most. */
const WORKED_PIXELS = 16e6

/** How many pixels of the picture as taken, each way, become one: the same for a page and a server. */
export const pixelsInOne = (width: number, height: number): number =>
  Math.ceil(Math.sqrt((width * height) / WORKED_PIXELS))

/** A field of one number per pixel, upper row first. */
export interface Field<T extends Uint8Array | Float32Array | Int32Array> {
  readonly width: number
  readonly height: number
  readonly data: T
}

/**
 * Brightness, 0 to 255, as it looks on white paper.
 * Source: luma weights of ITU-R BT.601, in 256ths.
 */
export function greyOf({ width, height, data }: Picture): Field<Uint8Array> {
  const grey = new Uint8Array(width * height)
  for (let i = 0, p = 0; i < grey.length; i += 1, p += 4) {
    const seen =
      (77 * (data[p] as number) + 150 * (data[p + 1] as number) + 29 * (data[p + 2] as number) + 128) >> 8
    const opacity = data[p + 3] as number
    grey[i] = opacity === 255 ? seen : 255 + ((seen - 255) * opacity) / 255
  }
  return { width, height, data: grey }
}
