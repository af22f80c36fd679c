/** A model's points as they fall on the sheet, in cells of the grid, and how near each is to the reader. */
export interface Projected {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly near: Float64Array
  readonly corners: Uint32Array
  readonly across: number
  readonly down: number
}

/** What the reader sees first in each cell of the grid. */
export interface Sight {
  /** nearness of the nearest face, or minus infinity where the sheet is bare */
  readonly nearest: Float64Array
  /** the order in which to lay each face down, -1 for one that is hidden; even ones light, odd ones dark */
  readonly layers: Int8Array
}

/** No more coats than this: what would need more has faces that run through each other. */
const MOST_LAYERS = 15
const ROUNDS = 12

const at = (list: ArrayLike<number>, index: number): number => list[index] as number

interface Covering {
  readonly nearest: Float64Array
  /** the face seen in each cell, -1 where the sheet is bare */
  readonly first: Int32Array
  /** face and cell by turns, for every cell whose middle lies in a face */
  readonly covered: readonly number[]
}

/** Lays every face over the cells whose middles it covers; written out flat, since turning a drawing waits for it. */
const coverCells = ({ x, y, near, corners, across, down }: Projected, faces: readonly number[]): Covering => {
  const nearest = new Float64Array(across * down).fill(Number.NEGATIVE_INFINITY)
  const first = new Int32Array(across * down).fill(-1)
  const covered: number[] = []
  for (const face of faces) {
    const a = corners[face * 3] as number
    const b = corners[face * 3 + 1] as number
    const c = corners[face * 3 + 2] as number
    const ax = x[a] as number
    const ay = y[a] as number
    const bx = x[b] as number
    const by = y[b] as number
    const cx = x[c] as number
    const cy = y[c] as number
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    if (area === 0) continue
    const right = Math.min(across - 1, Math.floor(Math.max(ax, bx, cx) - 0.5))
    const bottom = Math.min(down - 1, Math.floor(Math.max(ay, by, cy) - 0.5))
    const left = Math.max(0, Math.ceil(Math.min(ax, bx, cx) - 0.5))
    for (let row = Math.max(0, Math.ceil(Math.min(ay, by, cy) - 0.5)); row <= bottom; row += 1)
      for (let column = left; column <= right; column += 1) {
        const px = column + 0.5
        const py = row + 0.5
        const wa = ((bx - px) * (cy - py) - (by - py) * (cx - px)) / area
        const wb = ((cx - px) * (ay - py) - (cy - py) * (ax - px)) / area
        const wc = 1 - wa - wb
        if (wa < 0 || wb < 0 || wc < 0) continue
        const cell = row * across + column
        covered.push(face, cell)
        const depth = wa * (near[a] as number) + wb * (near[b] as number) + wc * (near[c] as number)
        if (depth <= (nearest[cell] as number)) continue
        nearest[cell] = depth
        first[cell] = face
      }
  }
  return { nearest, first, covered }
}

/**
 * Which of these faces are seen, and in what order to lay them down so that the nearer covers the farther,
 * in as few coats of one tone as that takes.
 */
export const seeFaces = (sheet: Projected, faces: readonly number[], dark: Uint8Array): Sight => {
  const { x, y, near, corners, across, down } = sheet
  const count = corners.length / 3
  const { nearest, first, covered } = coverCells(sheet, faces)
  const covers = new Uint8Array(count)
  for (let index = 0; index < covered.length; index += 2) covers[at(covered, index)] = 1
  const layers = new Int8Array(count).fill(-1)
  for (const face of first) if (face >= 0) layers[face] = at(dark, face)
  for (const face of faces) {
    if (covers[face] === 1) continue
    // too small for the middle of a cell: seen if nothing lies nearer over its own middle
    const three = [0, 1, 2].map((corner) => at(corners, face * 3 + corner))
    const middle = (list: Float64Array): number => three.reduce((sum, point) => sum + at(list, point), 0) / 3
    const [column, row] = [Math.floor(middle(x)), Math.floor(middle(y))]
    const outside = column < 0 || row < 0 || column >= across || row >= down
    if (outside || middle(near) >= at(nearest, row * across + column) - 1) layers[face] = at(dark, face)
  }
  // what is seen first in a cell lies over whatever else is drawn there
  const over = new Set<number>()
  for (let index = 0; index < covered.length; index += 2) {
    const face = at(covered, index)
    const above = at(first, at(covered, index + 1))
    if (above !== face && at(layers, face) >= 0) over.add(above * count + face)
  }
  let moved = true
  for (let round = 0; moved && round < ROUNDS; round += 1) {
    moved = false
    for (const pair of over) {
      const [above, below] = [Math.floor(pair / count), pair % count]
      const least = at(layers, below) + (at(dark, above) === at(dark, below) ? 0 : 1)
      if (at(layers, above) >= least || least > MOST_LAYERS) continue
      layers[above] = least
      moved = true
    }
  }
  return { nearest, layers }
}

/** Whether something at this place is seen: nothing round it lies nearer by more than a cell. */
export const isSeen = (sheet: Projected, sight: Sight, x: number, y: number, near: number): boolean => {
  const [column, row] = [Math.floor(x), Math.floor(y)]
  let least = Number.POSITIVE_INFINITY
  for (let down = row - 1; down <= row + 1; down += 1)
    for (let across = column - 1; across <= column + 1; across += 1) {
      if (down < 0 || across < 0 || down >= sheet.down || across >= sheet.across) return true
      least = Math.min(least, at(sight.nearest, down * sheet.across + across))
    }
  return near + 1 >= least
}
