import type { Flat, Silhouette } from './silhouette.ts'

/** mm */
const CELL = 1

/** Square millimetres that a silhouette covers, by their middles: the non-zero rule along each row. Named `column row`. */
export const squaresOf = ({ outline }: Silhouette): Set<string> => {
  const squares = new Set<string>()
  const all = outline.flat()
  const [low, high] = [Math.min(...all.map(([, y]) => y)), Math.max(...all.map(([, y]) => y))]
  for (let row = Math.floor(low / CELL); row <= Math.ceil(high / CELL); row += 1) {
    const y = (row + 0.5) * CELL
    const crossings = outline
      .flatMap((round) =>
        round.flatMap(([ax, ay], k): { x: number; way: number }[] => {
          const [bx, by] = round[(k + 1) % round.length] as Flat
          if (ay > y === by > y) return []
          return [{ x: ax + ((y - ay) / (by - ay)) * (bx - ax), way: by > ay ? 1 : -1 }]
        }),
      )
      .sort((a, b) => a.x - b.x)
    let winding = 0
    crossings.forEach(({ x, way }, k) => {
      winding += way
      const next = crossings[k + 1]
      if (winding === 0 || next === undefined) return
      for (let column = Math.ceil(x / CELL - 0.5); (column + 0.5) * CELL < next.x; column += 1)
        squares.add(`${column} ${row}`)
    })
  }
  return squares
}

/** What shows of each of several silhouettes where nearer ones hide those behind. */
export const shownOf = (
  list: readonly { readonly seen: Silhouette; readonly near: number }[],
): Set<string>[] => {
  const whole = list.map(({ seen }) => squaresOf(seen))
  return list.map(({ near }, k) => {
    const shown = new Set(whole[k])
    list.forEach((other, j) => {
      if (other.near > near) for (const square of whole[j] ?? []) shown.delete(square)
    })
    return shown
  })
}

/** How much of a box is among the squares, 0 to 1. */
const shareOn = (squares: ReadonlySet<string>, middle: Flat, wide: number, tall: number): number => {
  let [on, all] = [0, 0]
  for (let x = middle[0] - wide / 2; x <= middle[0] + wide / 2; x += CELL / 2)
    for (let y = middle[1] - tall / 2; y <= middle[1] + tall / 2; y += CELL / 2) {
      all += 1
      if (squares.has(`${Math.floor(x)} ${Math.floor(y)}`)) on += 1
    }
  return on / all
}

const middleOf = (squares: ReadonlySet<string>): Flat => {
  let [x, y] = [0, 0]
  for (const square of squares) {
    const [column = 0, row = 0] = square.split(' ').map(Number)
    x += (column + 0.5) * CELL
    y += (row + 0.5) * CELL
  }
  return [x / Math.max(1, squares.size), y / Math.max(1, squares.size)]
}

/** What a letter gives up of its share on the wax to stand a millimetre nearer the middle. */
const OFF = 1e-3

/**
 * Where a letter of this size has most of it on what shows, then near the middle of that; right and up, mm.
 * @param isFree  whether it may stand with its middle there
 */
export const letterSpot = (
  shown: ReadonlySet<string>,
  wide: number,
  tall: number,
  isFree: (middle: Flat) => boolean = () => true,
): Flat | undefined => {
  const centre = middleOf(shown)
  let best: { worth: number; middle: Flat } | undefined
  for (const square of shown) {
    const [column = 0, row = 0] = square.split(' ').map(Number)
    const middle: Flat = [(column + 0.5) * CELL, (row + 0.5) * CELL]
    const off = Math.hypot(middle[0] - centre[0], middle[1] - centre[1])
    const worth = shareOn(shown, middle, wide, tall) - OFF * off
    if ((best === undefined || worth > best.worth) && isFree(middle)) best = { worth, middle }
  }
  return best?.middle
}
