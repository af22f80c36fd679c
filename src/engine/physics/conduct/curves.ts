/**
 * What a material does with heat: enthalpy against temperature, and back. The enthalpy is the unknown of the
 * solver, so that no step can jump over the heat of a reaction. Temperatures in kelvin, enthalpy in J/m3.
 */

/** One number, or knots [K, value] with rising temperatures: straight between them, constant beyond the ends. */
export type Table = number | readonly (readonly [at: number, value: number])[]

export interface Reaction {
  readonly from: number
  readonly to: number
  /** J/kg absorbed on heating, evenly over the range; reactions that overlap add up */
  readonly heat: number
  /** given back on cooling; true when left out */
  readonly reversible?: boolean
}

export interface HeatMaterial {
  /** kg/m3; the mass of a cell never changes, so water that leaves is a reaction, not a loss of mass */
  readonly density: number
  /** W/mK */
  readonly conductivity: Table
  /** J/kgK, of the material without its reactions */
  readonly specificHeat: Table
  readonly reactions?: readonly Reaction[]
}

/**
 * All materials of a body cut into segments on which capacity and conductivity are straight lines, one after
 * another in flat arrays. Every material has two curves over the same segments: `fresh`, on which all
 * reactions still absorb, and `spent`, on which those that do not reverse are silent. Their difference is
 * what irreversible reactions have taken up to a temperature.
 */
export interface Curves {
  /** first segment of each material; one entry more at the end */
  readonly start: Int32Array
  /** K from which a segment's lines are counted */
  readonly anchor: Float64Array
  readonly conductivity: Float64Array
  readonly conductivitySlope: Float64Array
  /** J/m3K2, the same on both curves */
  readonly capacitySlope: Float64Array
  readonly fresh: Curve
  readonly spent: Curve
  /** J/m3K, least sensible capacity of a segment and its neighbours: what bounds the stable step */
  readonly leastCapacity: Float64Array
  /** whether a material has a reaction that stays done */
  readonly remembers: Uint8Array
}

export interface Curve {
  /** J/m3 at the anchor, and the bounds of the segment (infinite at the ends) */
  readonly enthalpy: Float64Array
  readonly low: Float64Array
  readonly high: Float64Array
  /** J/m3K at the anchor */
  readonly capacity: Float64Array
}

/** A table's value. */
export const tableAt = (table: Table, at: number): number => {
  if (typeof table === 'number') return table
  const next = table.findIndex(([knot]) => knot >= at)
  const right = next === -1 ? table.at(-1) : table[next]
  const left = next > 0 ? table[next - 1] : right
  if (left === undefined || right === undefined) return Number.NaN
  if (left === right) return right[1]
  return left[1] + ((right[1] - left[1]) * (at - left[0])) / (right[0] - left[0])
}

const knotsOf = (table: Table): readonly number[] =>
  typeof table === 'number' ? [] : table.map(([at]) => at)

const knotsOfMaterial = ({ conductivity, specificHeat, reactions = [] }: HeatMaterial): number[] => {
  const all = [
    ...knotsOf(conductivity),
    ...knotsOf(specificHeat),
    ...reactions.flatMap(({ from, to }) => [from, to]),
  ]
  // a material without a knot still needs one place to count its enthalpy from
  return [...new Set(all.length === 0 ? [273.15] : all)].sort((a, b) => a - b)
}

interface Segment {
  readonly anchor: number
  readonly end: number
  readonly conductivity: readonly [number, number]
  readonly sensible: readonly [number, number]
  /** J/m3K of the reactions under way, all and only those that reverse */
  readonly allReactions: number
  readonly reversing: number
}

const segmentsOf = (material: HeatMaterial): Segment[] => {
  const { density, conductivity, specificHeat, reactions = [] } = material
  const knots = knotsOfMaterial(material)
  const first = knots[0] ?? Number.NaN
  const last = knots.at(-1) ?? Number.NaN
  const flat = (anchor: number, end: number): Segment => ({
    anchor,
    end,
    conductivity: [tableAt(conductivity, anchor), 0],
    sensible: [density * tableAt(specificHeat, anchor), 0],
    allReactions: 0,
    reversing: 0,
  })
  const line = (table: Table, from: number, to: number, factor: number): readonly [number, number] => {
    const start = factor * tableAt(table, from)
    return [start, (factor * tableAt(table, to) - start) / (to - from)]
  }
  const inside = knots.slice(1).map((end, index): Segment => {
    const anchor = knots[index] ?? Number.NaN
    const under = reactions.filter(({ from, to }) => from <= anchor && to >= end)
    const rate = (some: readonly Reaction[]): number =>
      some.reduce((sum, { from, to, heat }) => sum + (density * heat) / (to - from), 0)
    return {
      anchor,
      end,
      conductivity: line(conductivity, anchor, end, 1),
      sensible: line(specificHeat, anchor, end, density),
      allReactions: rate(under),
      reversing: rate(under.filter(({ reversible = true }) => reversible)),
    }
  })
  return [flat(first, first), ...inside, flat(last, Number.POSITIVE_INFINITY)]
}

/** Tables for a body's materials, in their order. */
export const curvesOf = (materials: readonly HeatMaterial[]): Curves => {
  const parts = materials.map(segmentsOf)
  const count = parts.reduce((sum, part) => sum + part.length, 0)
  const numbers = () => new Float64Array(count)
  const curve = (): Curve => ({ enthalpy: numbers(), low: numbers(), high: numbers(), capacity: numbers() })
  const curves: Curves = {
    start: new Int32Array(materials.length + 1),
    anchor: numbers(),
    conductivity: numbers(),
    conductivitySlope: numbers(),
    capacitySlope: numbers(),
    fresh: curve(),
    spent: curve(),
    leastCapacity: numbers(),
    remembers: new Uint8Array(materials.length),
  }
  let at = 0
  for (const [index, part] of parts.entries()) {
    curves.start[index] = at
    curves.remembers[index] = part.some(({ allReactions, reversing }) => allReactions !== reversing) ? 1 : 0
    for (const [which, key] of [
      [curves.fresh, 'allReactions'],
      [curves.spent, 'reversing'],
    ] as const) {
      let enthalpy = 0
      for (const [k, { anchor, end, sensible, [key]: reacting }] of part.entries()) {
        const [capacity, slope] = sensible
        which.enthalpy[at + k] = enthalpy
        which.capacity[at + k] = capacity + reacting
        which.low[at + k] = k === 0 ? Number.NEGATIVE_INFINITY : enthalpy
        if (k > 0 && Number.isFinite(end))
          enthalpy += (capacity + reacting + (slope * (end - anchor)) / 2) * (end - anchor)
        which.high[at + k] = k === part.length - 1 ? Number.POSITIVE_INFINITY : enthalpy
      }
    }
    const least = part.map(({ anchor, end, sensible: [capacity, slope], allReactions }) => {
      const other = Number.isFinite(end) ? capacity + slope * (end - anchor) : capacity
      // a reaction that gives heat on heating lowers what a kelvin costs
      return Math.min(capacity, other) + Math.min(0, allReactions)
    })
    for (const [k, { anchor, conductivity, sensible }] of part.entries()) {
      curves.anchor[at + k] = anchor
      curves.conductivity[at + k] = conductivity[0]
      curves.conductivitySlope[at + k] = conductivity[1]
      curves.capacitySlope[at + k] = sensible[1]
      curves.leastCapacity[at + k] = Math.min(...least.slice(Math.max(0, k - 1), k + 2))
    }
    at += part.length
  }
  curves.start[materials.length] = at
  return curves
}

/** The segment of a material that a temperature lies in. */
export const segmentAt = (curves: Curves, material: number, temperature: number): number => {
  let segment = curves.start[material] ?? 0
  const end = curves.start[material + 1] ?? 0
  while (segment + 1 < end && (curves.anchor[segment + 1] ?? Number.NaN) <= temperature) segment++
  return segment
}

/** Enthalpy [J/m3] on one of the curves. */
export const enthalpyAt = (curves: Curves, curve: Curve, segment: number, temperature: number): number => {
  const above = temperature - (curves.anchor[segment] ?? Number.NaN)
  return (
    (curve.enthalpy[segment] ?? Number.NaN) +
    ((curve.capacity[segment] ?? Number.NaN) + ((curves.capacitySlope[segment] ?? Number.NaN) * above) / 2) *
      above
  )
}
