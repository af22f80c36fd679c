import type { RegionEdge } from '../../documents/index.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import type { SolidShop } from '../solids.ts'
import { type Cap, layCap, laySeatCap } from './cap.ts'
import type { SeatPlan } from './seat.ts'
import type { Net } from './shared-lines.ts'
import { triangulate } from './triangulate.ts'

/** How one region of a net stands: absent where it is cut through. */
export interface Standing {
  readonly height_mm: number
  readonly edge: RegionEdge
  /** a stone's seat that is laid as part of the face */
  readonly seat?: {
    readonly plan: SeatPlan
    readonly wallHeight_mm: number
    readonly well_mm: number
    /** the stone, as text: the same plan has the same */
    readonly key: string
  }
}

/** Heights that differ by less than this are one height. */
const STEP_MM = 1e-6
/** Edges tried while a handle is dragged; more are forgotten. */
const CAPS_KEPT = 3

interface Laid {
  readonly bottom: readonly number[] | null
  readonly caps: Map<string, Cap | null>
}
const laid = new WeakMap<Net, Map<number, Laid>>()

const laidOf = (net: Net, region: number): Laid => {
  let ofNet = laid.get(net)
  if (!ofNet) {
    ofNet = new Map()
    laid.set(net, ofNet)
  }
  let known = ofNet.get(region)
  if (!known) {
    known = { bottom: triangulate(net.xy, net.rings[region] ?? []), caps: new Map() }
    ofNet.set(region, known)
  }
  return known
}

/** The worked upper face of a region; laid once for an outline and an edge, whatever the height. */
export const capOf = (shop: SolidShop, net: Net, region: number, { edge, seat }: Standing): Cap | null => {
  const { caps, bottom } = laidOf(net, region)
  const key = seat ? `seat ${seat.key}` : JSON.stringify(edge)
  const known = caps.get(key)
  if (known !== undefined) return known
  const rings = net.rings[region] ?? []
  // An edge that cannot be worked on this outline leaves the region square: it alone, not the whole piece.
  const worked = seat
    ? laySeatCap(net.xy, rings, seat.plan, seat.wallHeight_mm, seat.well_mm)
    : edge.shape === 'square'
      ? flatCap(rings, bottom)
      : layCap(shop, net.xy, rings, edge)
  const cap = worked ?? flatCap(rings, bottom)
  const oldest = caps.keys().next()
  if (caps.size >= CAPS_KEPT && !oldest.done) caps.delete(oldest.value)
  caps.set(key, cap)
  return cap
}

const flatCap = (rings: readonly (readonly number[])[], bottom: readonly number[] | null): Cap | null => {
  if (bottom === null) return null
  const placeOf = new Map(rings.flat().map((point, i) => [point, i]))
  const triangles = Uint32Array.from(bottom, (point) => placeOf.get(point) as number)
  return { rimBelow_mm: 0, inner: new Float64Array(0), triangles, reached_mm: 0 }
}

/**
 * The body under the regions' upper faces, from the flat back at z = 0: one closed mesh. Neighbours share the
 * points of their common line, so nothing is cut and nothing overlaps; an upright wall stands wherever two
 * neighbours differ.
 * @returns null where a region's face could not be laid
 */
export const layHeightField = (
  shop: SolidShop,
  net: Net,
  standing: readonly (Standing | undefined)[],
): TriangleMesh | null => {
  const { xy, rings, leftOf } = net
  const count = xy.length / 2
  const positions: number[] = []
  const corners: number[] = []
  /** by point of the net: its heights in use, rising, and the mesh's point at each */
  const columns = new Map<number, { z: number[]; at: number[] }>()
  const rims = standing.map((region, index) => {
    if (!region) return 0
    const cap = capOf(shop, net, index, region)
    return cap && Math.max(0, Math.round((region.height_mm - cap.rimBelow_mm) / STEP_MM) * STEP_MM)
  })
  if (rims.includes(null)) return null
  const rimOf = (region: number | undefined): number => (region === undefined ? 0 : (rims[region] ?? 0))
  standing.forEach((region, index) => {
    if (!region) return
    for (const ring of rings[index] ?? [])
      for (const point of ring) {
        let column = columns.get(point)
        if (!column) {
          column = { z: [0], at: [] }
          columns.set(point, column)
        }
        if (!column.z.includes(rimOf(index))) column.z.push(rimOf(index))
      }
  })
  for (const [point, column] of columns) {
    column.z.sort((a, b) => a - b)
    for (const z of column.z) {
      column.at.push(positions.length / 3)
      positions.push(xy[point * 2] as number, xy[point * 2 + 1] as number, z)
    }
  }
  const pointAt = (point: number, z: number): number => {
    const column = columns.get(point)
    return column?.at[column.z.indexOf(z)] as number
  }

  standing.forEach((region, index) => {
    if (!region) return
    const rim = rimOf(index)
    const { bottom } = laidOf(net, index)
    for (let t = 0; bottom && t < bottom.length; t += 3)
      for (const k of [0, 2, 1]) corners.push(pointAt(bottom[t + k] as number, 0))
    const { inner, triangles } = capOf(shop, net, index, region) as Cap
    const outline = (rings[index] ?? []).flat()
    const first = positions.length / 3
    for (let i = 0; i < inner.length; i += 3)
      positions.push(
        inner[i] as number,
        inner[i + 1] as number,
        Math.max(0, region.height_mm - (inner[i + 2] as number)),
      )
    for (const corner of triangles)
      corners.push(
        corner < outline.length ? pointAt(outline[corner] as number, rim) : first + corner - outline.length,
      )
    for (const ring of rings[index] ?? [])
      ring.forEach((from, i) => {
        const to = ring[(i + 1) % ring.length] as number
        const beside = rimOf(leftOf.get(to * count + from))
        if (beside < rim) layWall(columns, from, to, beside, rim, corners)
      })
  })
  return { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
}

type Columns = ReadonlyMap<number, { readonly z: readonly number[]; readonly at: readonly number[] }>

/** A wall on the line between two points, its metal to the left, with every point that others have on its sides. */
const layWall = (
  columns: Columns,
  from: number,
  to: number,
  low: number,
  high: number,
  corners: number[],
): void => {
  const left = columns.get(from)
  const right = columns.get(to)
  if (!left || !right) return
  let i = left.z.indexOf(low)
  let j = right.z.indexOf(low)
  const lastI = left.z.indexOf(high)
  const lastJ = right.z.indexOf(high)
  while (i < lastI || j < lastJ) {
    const onLeft = j === lastJ || (i < lastI && (left.z[i + 1] as number) <= (right.z[j + 1] as number))
    corners.push(left.at[i] as number, right.at[j] as number)
    if (onLeft) corners.push(left.at[++i] as number)
    else corners.push(right.at[++j] as number)
  }
}
