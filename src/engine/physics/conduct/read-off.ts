import type { Body } from './body.ts'
import type { Moment } from './conduct.ts'
import { tableAt } from './curves.ts'

/** Temperatures along a line, from low to high; the first point may be a cell beside a mirror or centre. */
interface Line {
  readonly at: number[]
  readonly kelvins: number[]
  readonly mirrored: boolean
}

/** Slope at a point between two secants that never overshoots: Fritsch and Butland's weighted harmonic mean. */
const slopeBetween = (left: number, right: number, leftWidth: number, rightWidth: number): number => {
  if (left * right <= 0) return 0
  const [one, other] = [2 * rightWidth + leftWidth, rightWidth + 2 * leftWidth]
  return (one + other) / (one / left + other / right)
}

/** Value on a line, to second order and never beyond its neighbours' values. */
const readLine = ({ at, kelvins, mirrored }: Line, place: number): number => {
  const x = (index: number): number => at[index] ?? Number.NaN
  const y = (index: number): number => kelvins[index] ?? Number.NaN
  const last = at.length - 1
  if (last === 0) return y(0)
  // beside a centre temperature goes with the square of the distance
  if (mirrored && place < x(1))
    return y(0) + ((y(1) - y(0)) * (place ** 2 - x(0) ** 2)) / (x(1) ** 2 - x(0) ** 2)
  let left = 0
  while (left < last - 1 && x(left + 1) <= place) left++
  const width = x(left + 1) - x(left)
  const secant = (index: number): number => (y(index + 1) - y(index)) / (x(index + 1) - x(index))
  const here = secant(left)
  const slope = (index: number): number =>
    index <= 0 || index >= last
      ? here
      : slopeBetween(secant(index - 1), secant(index), x(index) - x(index - 1), x(index + 1) - x(index))
  const share = (place - x(left)) / width
  const [rest, from, to] = [1 - share, slope(left), slope(left + 1)]
  return (
    y(left) * rest * rest * (1 + 2 * share) +
    y(left + 1) * share * share * (3 - 2 * share) +
    width * share * rest * (rest * from - share * to)
  )
}

/** A line through cells, with the temperature where two materials meet put in between. */
const lineThrough = (
  body: Body,
  cells: readonly { cell: number; middle: number; edge: number; kelvins: number }[],
  mirrored: boolean,
): Line => {
  const line: Line = { at: [], kelvins: [], mirrored }
  const conductivity = (cell: number, kelvins: number): number => {
    const material = body.regions[body.region[cell] ?? 0]?.material
    return material === undefined ? Number.NaN : tableAt(material.conductivity, kelvins)
  }
  for (const [index, one] of cells.entries()) {
    line.at.push(one.middle)
    line.kelvins.push(one.kelvins)
    const next = cells[index + 1]
    if (next === undefined || body.region[one.cell] === body.region[next.cell]) continue
    const inner = conductivity(one.cell, one.kelvins) / (one.edge - one.middle)
    const outer = conductivity(next.cell, next.kelvins) / (next.middle - one.edge)
    line.at.push(one.edge)
    line.kelvins.push((inner * one.kelvins + outer * next.kelvins) / (inner + outer))
  }
  return line
}

/**
 * Temperature [K] of a body at a place: between the cells, on the faces, in the rim.
 * @param place distance from the centre [m]; for a round body also the height, as its axis counts it
 */
export const temperatureAt = (body: Body, moment: Moment, place: readonly number[]): number => {
  const { radial, axial, mirrored } = body.grid
  const columns = radial.middles.length
  const rows = axial?.middles.length ?? 1
  const kelvins = (cell: number): number => moment.cells[cell] ?? Number.NaN
  const outer = radial.edges.at(-1) ?? Number.NaN
  const fromCentre = Math.abs(place[0] ?? Number.NaN)
  const faceOf = (side: string, cell: number): number => {
    const index = body.outerCell.findIndex(
      (one, face) => one === cell && body.sides[body.outerSide[face] ?? 0] === side,
    )
    return moment.faces[index] ?? Number.NaN
  }
  const across = (row: number): Line => {
    const line = lineThrough(
      body,
      radial.middles.map((middle, column) => {
        const cell = row * columns + column
        return { cell, middle, edge: radial.edges[column + 1] ?? Number.NaN, kelvins: kelvins(cell) }
      }),
      true,
    )
    line.at.push(outer)
    line.kelvins.push(faceOf('side', row * columns + columns - 1))
    return line
  }
  if (axial === undefined) return readLine(across(0), fromCentre)
  /** Along an end face, out to the rim, whose temperature continues both faces evenly. */
  const alongEnd = (side: string, row: number): number => {
    const rim = row * columns + columns - 1
    const line: Line = {
      at: [...radial.middles, outer],
      kelvins: radial.middles.map((_, column) => faceOf(side, row * columns + column)),
      mirrored: true,
    }
    line.kelvins.push(faceOf(side, rim) + faceOf('side', rim) - kelvins(rim))
    return readLine(line, fromCentre)
  }
  const column = Math.max(0, radial.edges.findIndex((edge) => edge >= fromCentre) - 1)
  const upward = lineThrough(
    body,
    axial.middles.map((middle, row) => ({
      cell: row * columns + column,
      middle,
      edge: axial.edges[row + 1] ?? Number.NaN,
      kelvins: readLine(across(row), fromCentre),
    })),
    mirrored,
  )
  upward.at.push(axial.edges.at(-1) ?? Number.NaN)
  upward.kelvins.push(alongEnd('top', rows - 1))
  if (!mirrored) {
    upward.at.unshift(axial.edges[0] ?? Number.NaN)
    upward.kelvins.unshift(alongEnd('bottom', 0))
  }
  const height = place[1] ?? Number.NaN
  return readLine(upward, mirrored ? Math.abs(height) : height)
}

/** Mean temperature [K] of a region, by volume. */
export const meanOf = (body: Body, moment: Moment, region: string): number => {
  let [sum, whole] = [0, 0]
  for (const [cell, index] of body.region.entries()) {
    if (body.regions[index]?.name !== region) continue
    const volume = body.volume[cell] ?? Number.NaN
    sum += volume * (moment.cells[cell] ?? Number.NaN)
    whole += volume
  }
  return sum / whole
}
