/*
 * Pixels: a picture file's bytes, as an upright picture of a safe size.
 * Reads PNG, JPEG (turned by its EXIF orientation) and WebP; says plainly what it does not read.
 * For Node only: in a page the browser decodes. Knows nothing of drawings. Read decode-picture.ts.
 */
export { type DecodedPicture, decodePicture } from './decode-picture.ts'
export type { Unreadable } from './kinds.ts'
