import type { BenchTree, StandingWax } from './bench-tree.ts'
import { startOf } from './levels.ts'
import { squaresOf } from './squares.ts'

/** Whether a wax stands over the end of another's sprue at the main sprue, which the tool then no longer reaches from above. */
const coversEnd = (
  { sprues }: BenchTree,
  over: StandingWax,
  squares: Set<string>,
  wax: StandingWax,
): boolean =>
  sprues.some(({ number, to_mm: [x, y, z] }) => {
    const isUnder = wax.sprues.includes(number) && over.highest > z
    return isUnder && squares.has(`${Math.floor(x)} ${Math.floor(y)}`)
  })

/**
 * In which order the waxes are set: the lowest on the main sprue first, so that the tool comes to every joint from
 * above and from outside; but before any wax that would stand over the end of its sprue at the main sprue.
 */
export const setOrder = (tree: BenchTree): StandingWax[] => {
  const left = tree.waxes
    .map((wax) => ({ wax, start: startOf(tree, wax), squares: squaresOf(wax.above) }))
    .sort((a, b) => a.start - b.start || (a.wax.sprues[0] ?? 0) - (b.wax.sprues[0] ?? 0))
  const order: StandingWax[] = []
  while (left.length > 0) {
    // where each of several stands over another's sprue, the lowest has to do
    const free = left.findIndex(({ wax, squares }) =>
      left.every((other) => other.wax === wax || !coversEnd(tree, wax, squares, other.wax)),
    )
    const [next] = left.splice(Math.max(0, free), 1)
    if (next !== undefined) order.push(next.wax)
  }
  return order
}
