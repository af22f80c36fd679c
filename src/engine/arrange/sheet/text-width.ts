/**
 * How wide a text is, so that words on a sheet can be kept apart without a browser.
 * Widths of the common upright sans letters in thousandths of their size (from memory of the published metrics of the
 * base fonts of PDF), a little more where a face that prints the sheet is wider.
 */
const WIDTHS: readonly (readonly [letters: string, width: number])[] = [
  ["ijl|’‘'", 240],
  [' .,:;!/\\tIf[]·', 290],
  ['r()-°"`', 350],
  ['Jcksvxyz', 520],
  ['abdeghnopqu0123456789?_$#LT–“”', 575],
  ['FZ+=<>~×÷^', 620],
  ['ABEKPSVXY&', 690],
  ['CDHNRUw', 745],
  ['GOQØ', 800],
  ['mM', 860],
  ['%W@', 980],
]
const OTHER = 700
const wide = new Map(WIDTHS.flatMap(([letters, width]) => [...letters].map((letter) => [letter, width])))

export const widthOf = (text: string, size: number, bold = false): number =>
  ([...text].reduce((sum, letter) => sum + (wide.get(letter) ?? OTHER), 0) * size * (bold ? 1.08 : 1)) / 1000

/** Breaks at spaces only: a word wider than a line stands by itself. */
export const wrapped = (text: string, size: number, most: number): string[] => {
  const lines: string[] = []
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1]
    const longer = last === undefined ? word : `${last} ${word}`
    if (last !== undefined && widthOf(longer, size) <= most) lines[lines.length - 1] = longer
    else lines.push(word)
  }
  return lines
}

/** The text cut to what fits, with a sign that something is left out. */
export const cutTo = (text: string, size: number, most: number): string => {
  if (widthOf(text, size) <= most) return text
  let kept = text
  while (kept.length > 1 && widthOf(`${kept}…`, size) > most) kept = kept.slice(0, -1)
  return `${kept.trimEnd()}…`
}
