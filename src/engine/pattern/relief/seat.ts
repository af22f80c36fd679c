import type { Cabochon, RegionHeight } from '../../documents/index.ts'
import type { Loop, PatternProblem, Place, Region } from '../drawing.ts'
import { isInside as liesInside, signedArea } from '../loops.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { ellipse, placed, rectangle } from './loops.ts'
import { STONE_NEAR_OUTLINE, seatProblems } from './problems.ts'
import { CHORD_MM } from './profile.ts'

/** A stone's place in its region: its loops, and what does not fit. */
export interface SeatPlan {
  readonly pocket: Loop
  /** outside of the wall round the pocket; absent without a wall */
  readonly wall?: Loop
  /** the well inside the bearer; absent without one */
  readonly well?: Loop
  /** every loop lies well inside the region's outline, so that the seat can be laid as part of its face */
  readonly nested: boolean
  readonly problems: readonly PatternProblem[]
}

export type Seat = Extract<RegionHeight, { role: 'seat' }>

const OVAL_SIDES = 180
/** How far a cut goes beyond the face that it opens. */
const BEYOND_MM = 1
const SKIN_MM = 0.01
/** A stone that goes over its drawn outline by no more than this still goes in: a stroke of the graver, and facets. */
const FITS_WITHIN_MM = 0.05
/** Of the many places of a traced outline the worst lies so many of its standard uncertainties off, about. */
const WORST_OF_TRACE = 3
/** Loops nearer than this to the outline are not laid beside it. */
const CLEAR_MM = 0.01
const NOTHING_MM2 = 1e-4

/** The stone's outline with its gap: what a template is laid on and what must fall clear. */
export const pocketOf = (stone: Cabochon, at: Place): Loop => {
  const [length, width] = [stone.length_mm + 2 * stone.gap_mm, stone.width_mm + 2 * stone.gap_mm]
  const loop =
    stone.shape === 'oval'
      ? ellipse([0, 0], length, width, OVAL_SIDES)
      : rectangle(-length / 2, -width / 2, length, width)
  return placed(loop, at, stone.turned_deg)
}

/** How far a loop goes over the outline of a region, mm; 0 where it stays within. */
const reachOver = (loop: Loop, { outer, holes }: Region): number => {
  const outlines = [outer, ...holes]
  let most = 0
  for (let k = 0; k < loop.length; k += 2) {
    const [x, y] = [loop[k] as number, loop[k + 1] as number]
    if (!liesInside(outlines, x, y))
      most = Math.max(most, Math.min(...outlines.map((outline) => fromLine(outline, x, y))))
  }
  return most
}

/** From a place to the nearest of a closed loop, mm. */
const fromLine = (loop: Loop, x: number, y: number): number => {
  let least = Infinity
  const last = loop.length - 2
  for (let i = 0, j = last; i <= last; j = i, i += 2) {
    const [ax, ay] = [(loop[j] as number) - x, (loop[j + 1] as number) - y]
    const [dx, dy] = [(loop[i] as number) - x - ax, (loop[i + 1] as number) - y - ay]
    const squared = dx * dx + dy * dy
    const share = squared === 0 ? 0 : Math.min(1, Math.max(0, -(ax * dx + ay * dy) / squared))
    least = Math.min(least, Math.hypot(ax + share * dx, ay + share * dy))
  }
  return least
}

const plans = new WeakMap<Region, { key: string; plan: SeatPlan }>()

/**
 * The stone sits at the middle of its region's area. Kept until the stone changes.
 * @param outlineSpread_mm how unsure the drawn outline is: a stone over it by less may well fit
 */
export const planSeat = (
  shop: SolidShop,
  region: Region,
  stone: Cabochon,
  outlineSpread_mm: number,
): SeatPlan => {
  const key = JSON.stringify([stone, outlineSpread_mm])
  const known = plans.get(region)
  if (known?.key === key) return known.plan
  const plan = laySeat(shop, region, stone, outlineSpread_mm)
  plans.set(region, { key, plan })
  return plan
}

const laySeat = (shop: SolidShop, region: Region, stone: Cabochon, outlineSpread_mm: number): SeatPlan => {
  const problems: PatternProblem[] = []
  const at = middleOf(region)
  const pocket = pocketOf(stone, at)
  // slabs of 1 mm: their volume is the area
  const face = shop.prism([region.outer, ...region.holes], 0, 1)
  const isInside = (loop: Loop, to_spare_mm: number): boolean => {
    const slab = shop.prism(shop.inset([loop], -to_spare_mm, CHORD_MM), 0, 1)
    return shop.volume_mm3(shop.difference(slab, [face])) < NOTHING_MM2
  }
  const [wall] = stone.wall ? shop.inset([pocket], -stone.wall.thickness_mm, CHORD_MM) : []
  const slack_mm = Math.max(FITS_WITHIN_MM, outlineSpread_mm)
  if (!isInside(pocket, -slack_mm)) {
    const over_mm = reachOver(pocket, region)
    const unsure_mm = WORST_OF_TRACE * outlineSpread_mm
    problems.push(
      over_mm > unsure_mm
        ? seatProblems.stoneTooLarge(region.id, stone, over_mm, at)
        : seatProblems.stoneNearOutline(region.id, stone, over_mm, unsure_mm, at),
    )
  } else if (wall && !isInside(wall, -slack_mm)) problems.push(seatProblems.wallTooWide(region.id, stone, at))
  const wanted = stone.bearer_mm > 0 && stone.well_mm > 0
  const [well] = wanted ? shop.inset([pocket], stone.bearer_mm, CHORD_MM) : []
  if (wanted && !well) problems.push(seatProblems.noWell(region.id, stone, at))
  const outermost = wall ?? well
  return {
    pocket,
    ...(wall && { wall }),
    ...(well && { well }),
    nested: outermost !== undefined && isInside(outermost, CLEAR_MM),
    problems,
  }
}

/** Whether the seat can be part of its region's face; else it is cut and joined by `toolsOfSeat`. */
export const isLaid = (plan: SeatPlan, { height_mm, stone }: Seat): boolean =>
  plan.nested && (stone?.well_mm ?? 0) < height_mm

/**
 * What a stone takes and adds at its ledge: a well inside the bearer, open to the back where it is as deep as
 * the ledge is high, and a wall round the pocket.
 * @param top_mm above everything
 */
export const toolsOfSeat = (
  shop: SolidShop,
  { outer, holes }: Region,
  plan: SeatPlan,
  { height_mm, stone }: Seat,
  top_mm: number,
): {
  readonly wells: readonly Solid[]
  readonly walls: readonly Solid[]
  readonly throughArea_mm2: number
} => {
  const { pocket, wall, well, problems } = plan
  const through = stone !== undefined && stone.well_mm >= height_mm
  const bottom = through ? -BEYOND_MM : height_mm - (stone?.well_mm ?? 0)
  // A stone that does not fit takes nothing from its neighbours, neither above its ledge nor within them.
  const fits = problems.every(({ kind }) => kind === STONE_NEAR_OUTLINE)
  // ending on the ledge itself would leave a skin over the well
  const upper = fits ? top_mm + BEYOND_MM : height_mm + SKIN_MM
  const floor = well === undefined ? [] : fits ? [well] : shop.shared([[well], [outer, ...holes]])
  return {
    wells: floor.length > 0 ? [shop.prism(floor, bottom, upper)] : [],
    walls: wall && stone?.wall ? [shop.prism([wall, pocket], 0, height_mm + stone.wall.height_mm)] : [],
    throughArea_mm2: through ? floor.reduce((sum, loop) => sum + signedArea(loop), 0) : 0,
  }
}

/** Centre of a region's area, holes and all. */
export const middleOf = ({ outer, holes }: Region): Place => {
  let [x, y, twice] = [0, 0, 0]
  for (const loop of [outer, ...holes])
    for (let i = 0; i < loop.length; i += 2) {
      const j = (i + 2) % loop.length
      const [ax, ay] = [
        (loop[i] as number) - (outer[0] as number),
        (loop[i + 1] as number) - (outer[1] as number),
      ]
      const [bx, by] = [
        (loop[j] as number) - (outer[0] as number),
        (loop[j + 1] as number) - (outer[1] as number),
      ]
      const cross = ax * by - bx * ay
      twice += cross
      x += (ax + bx) * cross
      y += (ay + by) * cross
    }
  return [(outer[0] as number) + x / (3 * twice), (outer[1] as number) + y / (3 * twice)]
}
