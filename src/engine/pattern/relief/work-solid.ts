import type { Hardware, Heights, RegionHeight } from '../../documents/index.ts'
import type { Edges } from '../../piece/mesh/edges.ts'
import type { TriangleMesh } from '../../piece/mesh/index.ts'
import type { Loop, PatternProblem, Region } from '../drawing.ts'
import { clashChecks, fitChecks, makeHardware } from '../hardware/index.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { bend, hollowOf, sayOfBend } from './back.ts'
import type { Standing } from './height-field.ts'
import { backProblems, hardwareProblems } from './problems.ts'
import { isLaid, planSeat, type Seat, type SeatPlan, toolsOfSeat } from './seat.ts'

export type Tall = Exclude<RegionHeight, { role: 'through' }>

/** A closed mesh; it becomes a solid of the modeller only when something is to be cut, joined or bent. */
export interface Body {
  readonly mesh?: TriangleMesh
  /** of that mesh */
  readonly edges?: Edges
  solid(): Solid
}

export const bodyOfMesh = (shop: SolidShop, mesh: TriangleMesh, edges: Edges): Body => {
  let solid: Solid | undefined
  return {
    mesh,
    edges,
    solid: () => {
      solid ??= shop.ofMesh(mesh)
      return solid
    },
  }
}
export const bodyOfSolid = (solid: Solid): Body => ({ solid: () => solid })

/** The piece while its back is still flat and whole. */
export interface Front {
  readonly body: Body
  /** heights at which flat faces lie, and where walls end */
  readonly levels: readonly number[]
  readonly throughArea_mm2: number
}

export interface PlannedSeat {
  readonly index: number
  readonly seat: Seat
  readonly plan: SeatPlan
  /** absent where it has to be cut and joined */
  readonly laid?: Standing['seat']
}

export const seatsOf = (
  shop: SolidShop,
  regions: readonly Region[],
  wanted: readonly RegionHeight[],
  outlineSpread_mm: number,
): PlannedSeat[] =>
  wanted.flatMap((seat, index): PlannedSeat[] => {
    if (seat.role !== 'seat' || !seat.stone) return []
    const { stone } = seat
    const plan = planSeat(shop, regions[index] as Region, stone, outlineSpread_mm)
    const laid = isLaid(plan, seat) && {
      plan,
      wallHeight_mm: stone.wall?.height_mm ?? 0,
      well_mm: stone.well_mm,
      key: JSON.stringify(stone),
    }
    return [{ index, seat, plan, ...(laid && { laid }) }]
  })

/** Seats that are not part of their face: wells are cut, and walls stand, in the body that has their ledges. */
export const cutSeats = (
  shop: SolidShop,
  regions: readonly Region[],
  wanted: readonly RegionHeight[],
  seats: readonly PlannedSeat[],
  base: Body,
): Front => {
  const levels = wanted.flatMap((height) => (height.role === 'through' ? [] : levelsOf(height)))
  const top_mm = Math.max(...levels)
  const tools = seats.flatMap(({ index, laid, plan, seat }) =>
    laid ? [] : [toolsOfSeat(shop, regions[index] as Region, plan, seat, top_mm)],
  )
  const wells = tools.flatMap((tool) => tool.wells)
  const walls = tools.flatMap((tool) => tool.walls)
  const throughArea_mm2 = tools.reduce((sum, tool) => sum + tool.throughArea_mm2, 0)
  if (wells.length + walls.length === 0) return { body: base, levels, throughArea_mm2 }
  const cut = wells.length > 0 ? shop.difference(base.solid(), wells) : base.solid()
  const solid = walls.length > 0 ? shop.union([cut, ...walls]) : cut
  return { body: bodyOfSolid(solid), levels, throughArea_mm2 }
}

/** Heights at which a region is flat or begins to slope. */
const levelsOf = (height: Tall): number[] => {
  const { height_mm } = height
  if (height.role !== 'seat') {
    const { edge } = height
    return !edge || edge.shape === 'square'
      ? [height_mm]
      : [height_mm, Math.max(0, height_mm - edge.height_mm)]
  }
  const { stone } = height
  return [
    height_mm,
    ...(stone?.wall ? [height_mm + stone.wall.height_mm] : []),
    ...(stone && stone.well_mm < height_mm ? [height_mm - stone.well_mm] : []),
  ]
}

/** Slots, the hollow or the bend, and whatever stands on the back. */
export const workBack = (work: {
  readonly shop: SolidShop
  readonly regions: readonly Region[]
  readonly heights: Heights
  readonly front: Front
  /** the same when finished, where more is cast: the hollow leaves its wall in this */
  readonly within: Front
  readonly problems: PatternProblem[]
}): WorkedBack => {
  const { shop, regions, heights, front, within, problems } = work
  const { back, hardware } = heights
  const top_mm = Math.max(...front.levels)
  const [left, right] = widthOf(regions)
  const middle_mm = (left + right) / 2
  problems.push(...sayOfBend(back, right - left), ...fitChecks(hardware), ...clashChecks(hardware))
  if (back.shape === 'flat' && hardware.length === 0) return { body: front.body }
  const made = hardware.map((one) => makeHardware(shop, one, { back, middle_mm, top_mm }))

  made.forEach(({ cut, pads }, index) => {
    const { kind, at_mm } = hardware[index] as Hardware
    const places = cut ? [shop.slice(cut, FOOT_MM / 2)] : pads.map(({ loops }) => loops)
    const share = Math.min(...places.map((loops) => shareOnMetal(shop, front.body.solid(), loops)))
    if (share === 0) problems.push(hardwareProblems.offThePiece(index, kind, at_mm))
    else if (share < STANDS_SHARE)
      problems.push(hardwareProblems.partlyOffThePiece(index, kind, share, at_mm))
  })
  const cuts = made.flatMap(({ cut }) => cut ?? [])
  const holed = ({ body }: Front): Solid =>
    cuts.length > 0 ? shop.difference(body.solid(), cuts) : body.solid()
  const whole = holed(front)
  let solid = whole
  const joined = made.flatMap(({ bent }) => bent ?? [])
  if (back.shape === 'hollow') {
    const hollow = hollowOf(shop, within === front ? whole : holed(within), front.levels, back.wall_mm)
    if (hollow) {
      solid = shop.difference(whole, [hollow])
      for (const { loops, up_mm } of made.flatMap(({ pads }) => pads))
        joined.push(shop.intersection(whole, shop.prism(loops, 0, up_mm ?? top_mm)))
    } else problems.push(backProblems.nothingHollow(back.wall_mm))
  }
  if (joined.length > 0) solid = shop.union([solid, ...joined])
  const rigid = made.flatMap((one) => one.rigid ?? [])
  if (back.shape !== 'curved')
    return { body: bodyOfSolid(rigid.length > 0 ? shop.union([solid, ...rigid]) : solid) }
  const bent = bend(shop, solid, middle_mm, back.radius_mm, top_mm)
  return {
    body: bodyOfSolid(rigid.length > 0 ? shop.union([bent, ...rigid]) : bent),
    unbent: shop.mesh(solid),
  }
}

/** A foot is looked for in the metal this near the back. */
const FOOT_MM = 0.02
/** A foot with less of its seat on metal than this is not joined all round. */
const STANDS_SHARE = 0.9

/** How much of a place on the back, seen from above, has metal; 0 to 1. */
const shareOnMetal = (shop: SolidShop, solid: Solid, loops: readonly Loop[]): number => {
  if (loops.length === 0) return 0
  const seat = shop.prism(loops, 0, FOOT_MM)
  return shop.volume_mm3(shop.intersection(solid, seat)) / shop.volume_mm3(seat)
}

/** A piece with its back worked; on a curved back also as it was before bending, without what stands on it. */
export interface WorkedBack {
  readonly body: Body
  readonly unbent?: TriangleMesh
}

const widthOf = (regions: readonly Region[]): [number, number] => {
  let [left, right] = [Infinity, -Infinity]
  for (const { outer } of regions)
    for (let i = 0; i < outer.length; i += 2) {
      left = Math.min(left, outer[i] as number)
      right = Math.max(right, outer[i] as number)
    }
  return [left, right]
}
