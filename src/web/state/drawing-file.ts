import { sendModel } from './api.ts'

/** Endings of the drawings and pictures that can be read. */
export const DRAWINGS = '.svg,.dxf,.png,.jpg,.jpeg,.webp'

const READ = /\.(svg|dxf|png|jpe?g|webp)$/i
const MOST_BYTES = 60_000_000

/** What each of these is called by those who meet it, and what to do with it. */
const OTHERS: readonly (readonly [RegExp, string])[] = [
  [/\.(heic|heif)$/i, 'pictures in HEIC can’t be read here; let the phone save or send it as JPEG'],
  [
    /\.pdf$/i,
    'a PDF can’t be read as a drawing; export SVG or DXF from where it was drawn, or bring a picture of it',
  ],
  [/\.(tiff?|gif|bmp)$/i, 'this kind of picture can’t be read here; save it as PNG or JPEG'],
  [/\.(ai|cdr|dwg)$/i, 'this kind of drawing can’t be read here; export it as SVG or DXF'],
]

/** Why a file can't be a drawing, before it is sent; undefined when it can. */
export const drawingTrouble = (file: Pick<File, 'name' | 'size'> | undefined): string | undefined => {
  if (file === undefined) return 'No file is chosen yet. SVG, DXF, PNG, JPEG and WebP can be read.'
  const other = OTHERS.find(([ending]) => ending.test(file.name))
  if (other !== undefined) return `${file.name}: ${other[1]}. The file is as it was.`
  if (!READ.test(file.name))
    return `${file.name}: SVG, DXF, PNG, JPEG and WebP can be read. The file is as it was.`
  if (file.size === 0) return `${file.name}: the file is empty. Save or export it again.`
  if (file.size > MOST_BYTES)
    return `${file.name}: the file is larger than ${MOST_BYTES / 1e6} MB. Bring a smaller copy; the file is as it was.`
  return undefined
}

export interface SentDrawing {
  readonly file: string
  readonly sha256: string
  /** the file's own name without its ending, for a piece that has none yet */
  readonly stem: string
}

export const sendDrawing = async (file: File): Promise<SentDrawing> => {
  const { sha256 } = await sendModel(file)
  return { file: file.name, sha256, stem: file.name.replace(/\.[^.]+$/, '') }
}
