import type PDFDocument from 'pdfkit'

export type Face = 'regular' | 'semibold' | 'bold' | 'serif'

export interface Run {
  readonly text: string
  readonly face: Face
}

export interface Line {
  readonly runs: readonly Run[]
  readonly width: number
}

/** Letters of these alphabets stand in a second file of the same face. */
const EXTENDED = /[\u0100-\u024f\u1e00-\u1eff]/
/** What both files hold, besides. */
const HELD = /[\u0020-\u007e\u00a0-\u00ff\u0100-\u024f\u1e00-\u1eff–—‘’‚“”„•…€™−]/
const INSTEAD: Readonly<Record<string, string>> = {
  '\u202f': '\u00a0',
  '\u2009': '\u00a0',
  '\u2011': '-',
  '\u2010': '-',
  '≤': 'at most ',
  '≥': 'at least ',
  '→': 'to',
  '⅛': ' 1/8',
  '⅜': ' 3/8',
  '⅝': ' 5/8',
  '⅞': ' 7/8',
  Δ: 'change of ',
}

/** A text in letters that the sheet's faces hold; anything else becomes a question mark, never a blank. */
export const lettered = (text: string): string =>
  [...text.normalize('NFC').replace(/[\t\r\n]+/g, ' ')]
    .map((letter) => (HELD.test(letter) ? letter : (INSTEAD[letter] ?? '?')))
    .join('')

/** Sets words in lines: the only part that knows how wide a letter is. Sizes and places in points. */
export class TypeSetter {
  readonly #doc: InstanceType<typeof PDFDocument>

  constructor(doc: InstanceType<typeof PDFDocument>) {
    this.#doc = doc
  }

  /** Splits a run where it needs the second file of its face. */
  #parts({ text, face }: Run): { text: string; font: string }[] {
    const parts: { text: string; font: string }[] = []
    for (const letter of lettered(text)) {
      const font = EXTENDED.test(letter) ? `${face}-extended` : face
      const last = parts.at(-1)
      if (last?.font === font) last.text += letter
      else parts.push({ text: letter, font })
    }
    return parts
  }

  width(run: Run, size: number): number {
    return this.#parts(run).reduce(
      (sum, { text, font }) => sum + this.#doc.font(font).fontSize(size).widthOfString(text),
      0,
    )
  }

  /** Breaks at spaces only, so that a number never leaves its unit; a word wider than the line stays whole. */
  lines(runs: readonly Run[], size: number, most: number): Line[] {
    const lines: Line[] = []
    let here: Run[] = []
    let width = 0
    let gap = false
    for (const { text, face } of runs)
      text.split(/( )/).forEach((word) => {
        if (word === '') return
        if (word === ' ') {
          gap = here.length > 0
          return
        }
        const spaced = gap ? ` ${word}` : word
        const wide = this.width({ text: spaced, face }, size)
        if (here.length > 0 && gap && width + wide > most) {
          lines.push({ runs: here, width })
          here = [{ text: word, face }]
          width = this.width({ text: word, face }, size)
        } else {
          const last = here.at(-1)
          here =
            last?.face === face
              ? [...here.slice(0, -1), { text: last.text + spaced, face }]
              : [...here, { text: spaced, face }]
          width += wide
        }
        gap = false
      })
    if (here.length > 0) lines.push({ runs: here, width })
    return lines
  }

  /** Draws one line with its foot on `base`; returns where it ends. */
  draw(line: readonly Run[], x: number, base: number, size: number, ink = '#000'): number {
    let at = x
    for (const run of line)
      for (const { text, font } of this.#parts(run)) {
        this.#doc.font(font).fontSize(size).fillColor(ink)
        this.#doc.text(text, at, base, { lineBreak: false, baseline: 'alphabetic' })
        at += this.#doc.widthOfString(text)
      }
    return at
  }

  drawRight(run: Run, right: number, base: number, size: number, ink = '#000'): void {
    this.draw([run], right - this.width(run, size), base, size, ink)
  }
}
