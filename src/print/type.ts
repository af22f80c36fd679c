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
  /** widths at one point, by font and text: a sheet is measured many times before it is drawn once */
  readonly #widths = new Map<string, number>()

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

  #widthAtOnePoint(text: string, font: string): number {
    const key = `${font}\n${text}`
    const known = this.#widths.get(key)
    if (known !== undefined) return known
    const width = this.#doc.font(font).fontSize(100).widthOfString(text) / 100
    this.#widths.set(key, width)
    return width
  }

  width(run: Run, size: number): number {
    return this.#parts(run).reduce((sum, { text, font }) => sum + this.#widthAtOnePoint(text, font) * size, 0)
  }

  /** A word wider than a line, cut into pieces that are not. */
  #cut(word: string, face: Face, size: number, most: number): string[] {
    if (this.width({ text: word, face }, size) <= most) return [word]
    const pieces: string[] = []
    for (const letter of word) {
      const last = pieces.at(-1)
      if (last !== undefined && this.width({ text: last + letter, face }, size) <= most)
        pieces[pieces.length - 1] = last + letter
      else pieces.push(letter)
    }
    return pieces
  }

  /** Breaks at spaces only, so that a number never leaves its unit; only a word wider than a line is cut. */
  lines(runs: readonly Run[], size: number, most: number): Line[] {
    const lines: Line[] = []
    let here: Run[] = []
    let width = 0
    const add = (text: string, face: Face, wide: number): void => {
      const last = here.at(-1)
      here =
        last?.face === face
          ? [...here.slice(0, -1), { text: last.text + text, face }]
          : [...here, { text, face }]
      width += wide
    }
    let gap = false
    for (const { text, face } of runs)
      for (const word of text.split(/( )/)) {
        if (word === ' ') gap = here.length > 0
        if (word === '' || word === ' ') continue
        this.#cut(word, face, size, most).forEach((piece, index) => {
          const spaced = gap ? ` ${piece}` : piece
          const wide = this.width({ text: spaced, face }, size)
          if (here.length > 0 && (gap || index > 0) && width + wide > most) {
            lines.push({ runs: here, width })
            here = []
            width = 0
            add(piece, face, this.width({ text: piece, face }, size))
          } else add(spaced, face, wide)
          gap = false
        })
      }
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
