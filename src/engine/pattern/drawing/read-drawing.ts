import type { Drawing, PatternProblem } from '../drawing.ts'
import { readDxf } from './dxf.ts'
import { drawingProblems } from './problems.ts'
import { readSvg } from './svg.ts'

export interface DrawingOptions {
  /** how the drawing's numbers are read where the file names no unit */
  readonly units?: 'mm' | 'in' | 'px'
  /** separate lines of a DXF whose ends lie this near are joined; 0.05 mm when absent */
  readonly join_mm?: number
}

const BYTES_AT_MOST = 64e6
const POINTS_AT_MOST = 2_000_000

/**
 * Marks of an SVG or DXF drawing in millimetres, in paint order, x to the right and y upward. Curves are
 * flattened with a chord error of 0.002 mm at most. `name` serves only the words of a problem. Never throws for
 * what a file holds: what stops the reading is a `stop` among the problems.
 */
export const readDrawing = (bytes: Uint8Array, name: string, options: DrawingOptions = {}): Drawing => {
  const stopped = (format: Drawing['format'], problem: PatternProblem): Drawing => ({
    format,
    marks: [],
    units: { is: options.units ?? 'mm', said: false },
    scaleSpread: 0,
    outlineSpread_mm: 0,
    problems: [problem],
  })
  if (bytes.length === 0) return stopped('svg', drawingProblems.empty())
  if (bytes.length > BYTES_AT_MOST)
    return stopped('svg', drawingProblems.tooLarge(bytes.length, BYTES_AT_MOST))
  if (bytes[0] === 0x1f && bytes[1] === 0x8b) return stopped('svg', drawingProblems.packed())
  const text = textOf(bytes)
  if (/^\w+ Binary DXF\r?\n/.test(text.slice(0, 40))) return stopped('dxf', drawingProblems.binaryDxf())
  const head = text.slice(0, 4096)
  if (/<(\?xml|!doctype|!--|([\w-]+:)?svg[\s>])/i.test(head) && head.trimStart().startsWith('<'))
    return readSvg(text, options, POINTS_AT_MOST)
  if (/^\s*(999\s*\r?\n.*\r?\n\s*)*0\s*\r?\n\s*SECTION\b/.test(head))
    return readDxf(text, options, POINTS_AT_MOST)
  return stopped('svg', drawingProblems.unknown(name))
}

/** The text, by its byte order mark or what its XML declaration says; UTF-8 otherwise. */
const textOf = (bytes: Uint8Array): string => {
  const [a, b] = bytes
  const isWide = (a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff)
  const head = String.fromCharCode(...bytes.subarray(0, 200))
  const named = /^\s*<\?xml[^>]*encoding\s*=\s*["']([\w-]+)/i.exec(head)?.[1]
  const label = isWide ? (a === 0xff ? 'utf-16le' : 'utf-16be') : (named ?? 'utf-8')
  try {
    return new TextDecoder(label).decode(bytes)
  } catch {
    return new TextDecoder().decode(bytes)
  }
}
