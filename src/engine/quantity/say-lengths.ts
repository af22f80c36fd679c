import { type Figure, lengthOf, type Words } from './words.ts'

const MM_PER_IN = 25.4
/** Neither the rest of a number with commas nor an area or a volume. */
const SAID = /(?<![\d.,])\d+(?:\.\d+)?(?: (?:x|×|by|to|or) \d+(?:\.\d+)?)* mm(?![\w²³])/g

/** A sentence with its lengths in the reader's unit: millimetres as written, or thousandths of an inch. */
export const sayLengths = (text: string, unit: 'mm' | 'in'): string =>
  unit === 'mm'
    ? text
    : text.replaceAll(SAID, (said) =>
        said
          .replaceAll(/\d+(?:\.\d+)?/g, (number) => (Number(number) / MM_PER_IN).toFixed(3))
          .replace(/ mm$/, ' in'),
      )

/** To a hundredth of a millimetre or a thousandth of an inch: what is asked at least never looks like less. */
const closely = (value: number): Figure => ({ ...lengthOf(value), closeTo: 3e-5 })

/** The same as words, so that it is written in whatever unit they are read in. */
export const wordsOf = (text: string): Words => {
  const words: (string | Figure)[] = []
  let from = 0
  for (const said of text.matchAll(SAID)) {
    for (const number of said[0].matchAll(/\d+(?:\.\d+)?/g)) {
      const at = said.index + number.index
      words.push(text.slice(from, at), closely(Number(number[0]) / 1000))
      from = at + number[0].length
    }
    // each length is written with its unit
    from = said.index + said[0].length
  }
  return [...words, text.slice(from)].filter((part) => part !== '')
}
