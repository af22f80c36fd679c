import type { Hardware, Heights, RegionHeight } from '../../documents/index.ts'
import type { PatternProblem, Region } from '../drawing.ts'
import { fitChecks, makeHardware } from '../hardware/index.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { bend, hollowOf, sayOfBend } from './back.ts'
import { backProblems, hardwareProblems } from './problems.ts'
import { toolsOfSeat } from './seat.ts'

export type Tall = Exclude<RegionHeight, { role: 'through' }>

/** The piece while its back is still flat and whole. */
export interface Front {
  readonly solid: Solid
  /** heights at which flat faces lie, and where walls end */
  readonly levels: readonly number[]
  readonly throughArea_mm2: number
}

/** Seats: wells are cut, and walls stand, in the body that already has its ledges. */
export const cutSeats = (work: {
  readonly shop: SolidShop
  readonly regions: readonly Region[]
  readonly wanted: readonly RegionHeight[]
  readonly base: Solid
  readonly problems: PatternProblem[]
}): Front => {
  const { shop, regions, wanted, base, problems } = work
  const levels = wanted.flatMap((height) => (height.role === 'through' ? [] : levelsOf(height)))
  const top_mm = Math.max(...levels)
  const wells: Solid[] = []
  const walls: Solid[] = []
  let throughArea_mm2 = 0
  wanted.forEach((height, index) => {
    if (height.role !== 'seat') return
    const tools = toolsOfSeat(shop, regions[index] as Region, height, top_mm)
    wells.push(...tools.wells)
    walls.push(...tools.walls)
    problems.push(...tools.problems)
    throughArea_mm2 += tools.throughArea_mm2
  })
  const cut = wells.length > 0 ? shop.difference(base, wells) : base
  return { solid: walls.length > 0 ? shop.union([cut, ...walls]) : cut, levels, throughArea_mm2 }
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
  readonly problems: PatternProblem[]
}): Solid => {
  const { shop, regions, heights, front, problems } = work
  const { back, hardware } = heights
  const top_mm = Math.max(...front.levels)
  const [left, right] = widthOf(regions)
  const middle_mm = (left + right) / 2
  problems.push(...sayOfBend(back, right - left), ...fitChecks(hardware))
  const made = hardware.map((one) => makeHardware(shop, one, { back, middle_mm, top_mm }))

  made.forEach(({ cut, pads }, index) => {
    const { kind, at_mm } = hardware[index] as Hardware
    const seats = cut ? [cut] : pads.map(({ loops }) => shop.prism(loops, 0, top_mm))
    const standing = seats.every((seat) => shop.volume_mm3(shop.intersection(front.solid, seat)) > 0)
    if (!standing) problems.push(hardwareProblems.offThePiece(index, kind, at_mm))
  })
  const cuts = made.flatMap(({ cut }) => cut ?? [])
  const whole = cuts.length > 0 ? shop.difference(front.solid, cuts) : front.solid
  let solid = whole
  const joined = made.flatMap(({ bent }) => bent ?? [])
  if (back.shape === 'hollow') {
    const hollow = hollowOf(shop, whole, front.levels, back.wall_mm)
    if (hollow) {
      solid = shop.difference(whole, [hollow])
      for (const { loops, up_mm } of made.flatMap(({ pads }) => pads))
        joined.push(shop.intersection(whole, shop.prism(loops, 0, up_mm ?? top_mm)))
    } else problems.push(backProblems.nothingHollow(back.wall_mm))
  }
  if (joined.length > 0) solid = shop.union([solid, ...joined])
  if (back.shape === 'curved') solid = bend(shop, solid, middle_mm, back.radius_mm, top_mm)
  const rigid = made.flatMap((one) => one.rigid ?? [])
  return rigid.length > 0 ? shop.union([solid, ...rigid]) : solid
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
