import type { BenchTree, StandingWax } from './bench-tree.ts'
import { squaresOf } from './squares.ts'
import type { Level } from './tree-views.ts'

/** Waxes that cover more than this share of one another from above are drawn apart. */
const COVERED = 0.2
const MOST_WAXES = 12

const covers = (one: Set<string>, other: Set<string>): boolean => {
  const [small, large] = one.size < other.size ? [one, other] : [other, one]
  let both = 0
  for (const square of small) if (large.has(square)) both += 1
  return both > COVERED * Math.max(1, small.size)
}

/** How low on the main sprue the first of its sprues meets that. */
export const startOf = ({ sprues }: BenchTree, wax: StandingWax): number =>
  Math.min(
    Infinity,
    ...sprues.filter(({ number }) => wax.sprues.includes(number)).map(({ height }) => height),
  )

/**
 * The waxes from below up along the main sprue, in as many levels as it takes that those of a level hide little of
 * one another from above.
 */
export const levelsOf = (tree: BenchTree): Level[] => {
  const order = tree.waxes
    .map((wax) => ({ wax, start: startOf(tree, wax), squares: squaresOf(wax.above) }))
    .sort((a, b) => a.start - b.start || (a.wax.sprues[0] ?? 0) - (b.wax.sprues[0] ?? 0))
  const levels: (typeof order)[] = []
  for (const one of order) {
    const last = levels.at(-1)
    const joins =
      last !== undefined &&
      last.length < MOST_WAXES &&
      !last.some(({ squares }) => covers(squares, one.squares))
    if (joins) last.push(one)
    else levels.push([one])
  }
  const all = { waxes: tree.waxes, sized: true }
  if (levels.length < 2) return [{ ...all, title: 'The tree', numbered: true }]
  return [
    { ...all, title: 'The whole tree', numbered: false },
    ...levels.map((level, k) => ({
      title: `Level ${k + 1} of ${levels.length} from below`,
      waxes: level.map(({ wax }) => wax),
      numbered: true,
      sized: false,
    })),
  ]
}
