import { waxWireOf } from '../../materials/index.ts'
import type { BenchTree } from './bench-tree.ts'
import { TEXT, words } from './marks.ts'
import { wrapped } from './text-width.ts'
import type { Block } from './tree-views.ts'

const LINE = 4
const GAP = 1.5

/** The wax wire that is just as thick, where one is sold. */
const wireWords = (diameter: number): string => {
  const wire = waxWireOf(diameter / 1000)
  return wire === undefined ? '' : ` (wax wire ${wire.name})`
}

/** What the letters, lines and numbers of the tree stand for, beside it. */
export const keyOf = (tree: BenchTree, width: number, write: (mm: number) => string, unit: string): Block => {
  const pieces = new Map<string, { letter: string; name: string; many: number }>()
  for (const { letter, name, of } of tree.cards) pieces.set(letter, { letter, name, many: of })
  const notes = [
    ...[...pieces.values()].map(({ letter, name, many }) =>
      many === 1 ? `${letter}: ${name}` : `${letter} 1 to ${many}: ${name}`,
    ),
    'A number stands for a sprue; its dot is the joint. What lies nearer is drawn over what lies behind it, and the middle lines of the sprues over all',
    `Chain line: ${write(tree.wall)} ${unit} to the wall and ${write(tree.top)} ${unit} to the top, which no wax may pass`,
    '0° is the mark on the base; from the side it is at the right',
    `Up is measured from the top of the base’s cone, which stands ${write(tree.base.depth_mm)} ${unit} above the flat of its rim; high, lowest and highest from that flat, on which the flask stands`,
    ...(tree.stem === null
      ? []
      : [
          `Main sprue: Ø ${write(tree.stem.diameter)} ${unit}${wireWords(tree.stem.diameter)}, ${write(tree.stem.end - tree.base.depth_mm)} ${unit} from the top of the base’s cone to its round end`,
        ]),
  ].map((note) => wrapped(note, TEXT, width))
  return {
    width,
    height: notes.reduce((sum, lines) => sum + lines.length * LINE + GAP, 6),
    draw: ([x, y]) => {
      let at = y + 6
      return notes.flatMap((lines) => {
        const marks = lines.map((text, k) => words([x, at + TEXT + k * LINE], text))
        at += lines.length * LINE + GAP
        return marks
      })
    },
  }
}
