const starts = (bytes: Uint8Array, at: number, text: string): boolean =>
  [...text].every((letter, i) => bytes[at + i] === letter.charCodeAt(0))

/**
 * Whether a file's first bytes are those of a picture of pixels, of whatever kind: a decoder then says in
 * words which kinds it reads. SVG and DXF are text and are not.
 */
export const isPicture = (bytes: Uint8Array): boolean =>
  starts(bytes, 0, '\x89PNG') ||
  starts(bytes, 0, '\xff\xd8\xff') ||
  (starts(bytes, 0, 'RIFF') && starts(bytes, 8, 'WEBP')) ||
  starts(bytes, 0, 'GIF8') ||
  starts(bytes, 0, 'II*\0') ||
  starts(bytes, 0, 'MM\0*') ||
  starts(bytes, 0, 'BM') ||
  starts(bytes, 4, 'ftyp')
