import type { Correction } from './printer.ts'

export type PaperName = 'a4' | 'letter'

export interface Paper {
  readonly name: PaperName
  readonly turned: boolean
  readonly width_mm: number
  readonly height_mm: number
}

/** ISO 216 A4; 8½ by 11 inches. */
const SIZES: Readonly<Record<PaperName, readonly [number, number]>> = {
  a4: [210, 297],
  letter: [215.9, 279.4],
}

export const PAPER_WORDS: Readonly<Record<PaperName, string>> = { a4: 'A4', letter: 'Letter' }

/**
 * The sheet as it is laid out. A printer that draws 100 mm short gets a drawing that is larger by as much, on
 * paper that holds so much less of it.
 */
export const paperOf = (name: PaperName, turned: boolean, correction: Correction): Paper => {
  const [short, long] = SIZES[name]
  const [width, height] = turned ? [long, short] : [short, long]
  return { name, turned, width_mm: width / correction.across, height_mm: height / correction.down }
}

export const MARGIN = 15
/** What stands above the drawing, and at its foot. */
export const HEAD = { first: 60, next: 44 } as const
export const FOOT = 42
