const TAB = 9
const NEWLINE = 10
const RETURN = 13
const SPACE = 32
const PLUS = 43
const MINUS = 45
const POINT = 46
const ZERO = 48
const NINE = 57

const POWERS = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`))
const isGap = (c: number): boolean =>
  c === SPACE || c === TAB || c === NEWLINE || c === RETURN || c === 11 || c === 12

/**
 * Walks over text kept as bytes, word by word, without making strings.
 * Numbers of up to 15 digits with a power of ten within 22 are exact products or quotients of two
 * exact doubles, hence correctly rounded; all others go through the language's own reader.
 */
export class TextCursor {
  at: number
  readonly bytes: Uint8Array
  readonly end: number
  /** Set when the last number read was no number at all. */
  malformed = false

  constructor(bytes: Uint8Array, start = 0, end = bytes.length) {
    this.bytes = bytes
    this.at = start
    this.end = end
  }

  /** Moves to the next word anywhere; false at the end. */
  toWord(): boolean {
    const { bytes, end } = this
    let i = this.at
    while (i < end && isGap(bytes[i]!)) i++
    this.at = i
    return i < end
  }

  /** Moves to the next word on this line; false at the end of the line. */
  toWordOnLine(): boolean {
    const { bytes, end } = this
    let i = this.at
    while (i < end) {
      const c = bytes[i]!
      if (c === 92 && (bytes[i + 1] === NEWLINE || (bytes[i + 1] === RETURN && bytes[i + 2] === NEWLINE))) {
        i += bytes[i + 1] === NEWLINE ? 2 : 3 // a backslash joins two lines
        continue
      }
      if (c === NEWLINE || c === RETURN || !isGap(c)) break
      i++
    }
    this.at = i
    return i < end && bytes[i] !== NEWLINE && bytes[i] !== RETURN
  }

  skipWord(): void {
    const { bytes, end } = this
    let i = this.at
    while (i < end && !isGap(bytes[i]!)) i++
    this.at = i
  }

  toNextLine(): void {
    const next = this.bytes.indexOf(NEWLINE, this.at)
    this.at = next < 0 || next >= this.end ? this.end : next + 1
  }

  /** The word under the cursor, in lower case, at most `longest` letters; the cursor moves past it. */
  word(longest = 64): string {
    const start = this.at
    this.skipWord()
    return textOf(this.bytes, start, Math.min(this.at, start + longest)).toLowerCase()
  }

  /** Whether the word under the cursor is this one (given in lower case); the cursor stays. */
  isWord(word: string): boolean {
    const { bytes, at } = this
    if (at + word.length > this.end) return false
    for (let i = 0; i < word.length; i++) if ((bytes[at + i]! | 32) !== word.charCodeAt(i)) return false
    return at + word.length === this.end || isGap(bytes[at + word.length]!)
  }

  /** The next word as a number. NaN with `malformed` set where there is none; nan and inf come back as such. */
  number(): number {
    const { bytes, end } = this
    this.malformed = false
    if (!this.toWord()) {
      this.malformed = true
      return Number.NaN
    }
    const start = this.at
    let i = start
    let negative = false
    if (bytes[i] === MINUS) {
      negative = true
      i++
    } else if (bytes[i] === PLUS) i++
    let digits = 0
    let mantissa = 0
    let power = 0
    let seen = false
    let c = i < end ? bytes[i]! : 0
    while (c >= ZERO && c <= NINE) {
      seen = true
      if (digits > 0 || c !== ZERO) digits++
      if (digits <= 15) mantissa = mantissa * 10 + (c - ZERO)
      c = ++i < end ? bytes[i]! : 0
    }
    if (c === POINT) {
      c = ++i < end ? bytes[i]! : 0
      while (c >= ZERO && c <= NINE) {
        seen = true
        if (digits > 0 || c !== ZERO) digits++
        if (digits <= 15) {
          mantissa = mantissa * 10 + (c - ZERO)
          power--
        }
        c = ++i < end ? bytes[i]! : 0
      }
    }
    if (seen && (c | 32) === 101) {
      c = ++i < end ? bytes[i]! : 0
      let down = false
      if (c === MINUS || c === PLUS) {
        down = c === MINUS
        c = ++i < end ? bytes[i]! : 0
      }
      let exponent = 0
      let any = false
      while (c >= ZERO && c <= NINE) {
        any = true
        if (exponent < 9999) exponent = exponent * 10 + (c - ZERO)
        c = ++i < end ? bytes[i]! : 0
      }
      if (!any) seen = false
      power += down ? -exponent : exponent
    }
    this.at = i
    if (!seen || (i < end && !isGap(c))) return this.otherWord(start)
    if (digits > 15 || power > 22 || power < -22) return Number(textOf(bytes, start, i))
    const value = power < 0 ? mantissa / POWERS[-power]! : mantissa * POWERS[power]!
    return negative ? -value : value
  }

  /** The line number of a byte, counted only when a message needs it. */
  lineAt(byte: number): number {
    let line = 1
    for (let i = this.bytes.indexOf(NEWLINE); i >= 0 && i < byte; i = this.bytes.indexOf(NEWLINE, i + 1))
      line++
    return line
  }

  private otherWord(start: number): number {
    this.at = start
    const word = this.word().replace(/^[-+]/, '')
    this.malformed = !(
      word.startsWith('nan') ||
      word.startsWith('-nan') ||
      word.startsWith('inf') ||
      word.startsWith('1.#')
    )
    return word.startsWith('inf') ? Number.POSITIVE_INFINITY : Number.NaN
  }
}

/** Bytes as text, one letter a byte; only for short pieces. */
export function textOf(bytes: Uint8Array, start: number, end: number): string {
  let text = ''
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i]!)
  return text
}

/** Whether the text begins with the three bytes by which some editors mark UTF-8. */
export const startsWithMark = (bytes: Uint8Array): boolean =>
  bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf
