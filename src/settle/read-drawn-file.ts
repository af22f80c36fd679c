import type { Heights } from '../engine/documents/index.ts'
import { isPicture, type PatternReading, type Picture, readPattern } from '../engine/pattern/index.ts'

/** Pixels of a photo, upright and at a size that is safe to work at. */
export type DecodePicture = (
  bytes: Uint8Array,
  name: string,
) => Promise<{ readonly picture: Picture } | { readonly unreadable: string; readonly remedy: string }>

/** A drawing or a photo of one, in its regions; or why a picture could not be decoded. */
export const readDrawnFile = async (
  bytes: Uint8Array,
  name: string,
  heights: Heights,
  decodePicture: DecodePicture,
): Promise<
  { readonly reading: PatternReading } | { readonly unreadable: string; readonly remedy: string }
> => {
  if (!isPicture(bytes)) return { reading: readPattern({ bytes, name, heights }) }
  const decoded = await decodePicture(bytes, name)
  if ('unreadable' in decoded) return decoded
  return { reading: readPattern({ bytes, name, heights, picture: decoded.picture }) }
}
