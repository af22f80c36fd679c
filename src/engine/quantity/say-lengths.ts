import { METRIC, MM_PER_INCH, type UnitChoice } from './units.ts'
import { type Figure, leastLengthOf, lengthOf, roundedUp, type Words, writeFigure } from './words.ts'

/** A length or several, or a speed: neither the rest of a number with commas nor an area or a volume. */
const SAID = /(?<![\d.,])\d+(?:\.\d+)?(?:(?: (?:x|×|by|to|or) \d+(?:\.\d+)?)* mm| m\/s)(?![\w²³])/g
const NUMBER = /\d+(?:\.\d+)?/g

/** What is asked at least, told by the words before a length or after it. */
const BEFORE_A_LEAST = /\b(?:at least|needs) $/
const AFTER_A_LEAST = /^ (?:across |thick |to it )?(?:or more|is needed|is enough|needed)\b/

interface Said {
  readonly at: number
  readonly text: string
  readonly isLeast: boolean
  readonly isSpeed: boolean
}

/** Where the names stand; one that is nothing but a length can't be told from a length. */
const placesOf = (text: string, names: readonly string[]): { from: number; to: number }[] =>
  names
    .filter((name) => name.replaceAll(SAID, '').trim() !== '')
    .flatMap((name) => {
      const places: { from: number; to: number }[] = []
      for (let from = text.indexOf(name); from >= 0; from = text.indexOf(name, from + name.length))
        if (!/^[.,]?\d/.test(text.slice(from + name.length))) places.push({ from, to: from + name.length })
      return places
    })

const lengthsIn = (text: string, names: readonly string[]): Said[] => {
  const named = placesOf(text, names)
  return [...text.matchAll(SAID)].flatMap(({ index: at, 0: said }) => {
    const end = at + said.length
    if (named.some(({ from, to }) => at < to && from < end)) return []
    const isLeast = BEFORE_A_LEAST.test(text.slice(0, at)) || AFTER_A_LEAST.test(text.slice(end))
    return [{ at, text: said, isLeast, isSpeed: said.endsWith(' m/s') }]
  })
}

const inThousandths = (length_mm: number, isLeast: boolean): string => {
  const shown = length_mm / MM_PER_INCH
  return (isLeast ? roundedUp(shown, 3) : shown).toFixed(3)
}

const INCHES: UnitChoice = { ...METRIC, length: 'in' }

const speedOf = (said: string): Figure => ({ value: Number.parseFloat(said), unit: 'm/s', inMm: said })

const inInches = ({ text, isLeast, isSpeed }: Said): string =>
  isSpeed
    ? writeFigure(speedOf(text), INCHES)
    : text.replaceAll(NUMBER, (number) => inThousandths(Number(number), isLeast)).replace(/ mm$/, ' in')

/**
 * A sentence with its lengths and speeds in the reader's unit: millimetres as written, or thousandths of an inch, up
 * where a least is asked and else to the nearest; feet per second with them.
 * @param names  of pieces, which stay as the caster wrote them; a length in a name that is not given here, or in one
 *   that is nothing else, is still taken for a length
 */
export const sayLengths = (text: string, unit: 'mm' | 'in', names: readonly string[] = []): string => {
  if (unit === 'mm') return text
  let written = ''
  let from = 0
  for (const said of lengthsIn(text, names)) {
    written += `${text.slice(from, said.at)}${inInches(said)}`
    from = said.at + said.text.length
  }
  return written + text.slice(from)
}

/** To a thousandth of an inch. */
const CLOSE = 3e-5

/** The same as words, so that it is written in whatever unit they are read in: in millimetres as it stands. */
export const wordsOf = (text: string, names: readonly string[] = []): Words => {
  const words: (string | Figure)[] = []
  let from = 0
  for (const said of lengthsIn(text, names)) {
    const numbers = said.isSpeed ? [] : [...said.text.matchAll(NUMBER)]
    if (said.isSpeed) words.push(text.slice(from, said.at), speedOf(said.text))
    numbers.forEach(({ 0: number, index }, nth) => {
      const isLast = nth === numbers.length - 1
      const length = (said.isLeast ? leastLengthOf : lengthOf)(Number(number) / 1000)
      words.push(text.slice(from, said.at + index), {
        ...length,
        closeTo: CLOSE,
        ...(isLast ? { inMm: `${number} mm` } : { inMm: number, bare: true }),
      })
      from = said.at + index + number.length
    })
    from = said.at + said.text.length
  }
  return [...words, text.slice(from)].filter((part) => part !== '')
}
