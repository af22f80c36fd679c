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

/** How much of a box is among the squares, 0 to 1. */
export const shareOn = (squares: ReadonlySet<string>, middle: Flat, wide: number, tall: number): number => {
  let [on, all] = [0, 0]
  for (let x = middle[0] - wide / 2; x <= middle[0] + wide / 2; x += CELL / 2)
    for (let y = middle[1] - tall / 2; y <= middle[1] + tall / 2; y += CELL / 2) {
      all += 1
      if (squares.has(`${Math.floor(x)} ${Math.floor(y)}`)) on += 1
    }
  return on / all
}

export const middleOf = (squares: ReadonlySet<string>): Flat => {
  let [x, y] = [0, 0]
  for (const square of squares) {
    const [column = 0, row = 0] = square.split(' ').map(Number)
    x += (column + 0.5) * CELL
    y += (row + 0.5) * CELL
  }
  return [x / Math.max(1, squares.size), y / Math.max(1, squares.size)]
}
