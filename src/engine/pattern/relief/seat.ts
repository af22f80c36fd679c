import type { Cabochon, RegionHeight } from '../../documents/index.ts'
import type { Loop, PatternProblem, Place, Region } from '../drawing.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { areaOfLoop, ellipse, placed, rectangle } from './loops.ts'
import { seatProblems } from './problems.ts'
import { CHORD_MM } from './profile.ts'

export interface SeatTools {
  readonly wells: readonly Solid[]
  readonly walls: readonly Solid[]
  readonly problems: readonly PatternProblem[]
  /** loss and gain seen from above, mm2: a well that goes through has no height left */
  readonly throughArea_mm2: number
}

type Seat = Extract<RegionHeight, { role: 'seat' }>

const OVAL_SIDES = 180
/** How far a cut goes beyond the face that it opens. */
const BEYOND_MM = 1
/** Outside the region by less than this, mm2, is the outline's own facets. */
const FACETS_MM2 = 0.02

/** The stone's outline with its gap: what a template is laid on and what must fall clear. */
export const pocketOf = (stone: Cabochon, at: Place): Loop => {
  const [length, width] = [stone.length_mm + 2 * stone.gap_mm, stone.width_mm + 2 * stone.gap_mm]
  const loop =
    stone.shape === 'oval'
      ? ellipse([0, 0], length, width, OVAL_SIDES)
      : rectangle(-length / 2, -width / 2, length, width)
  return placed(loop, at, stone.turned_deg)
}

/**
 * What a stone takes and adds at its ledge: a well inside the bearer, open to the back where it is as deep as
 * the ledge is high, and a wall round the pocket. The stone sits at the middle of its region's area.
 * @param top_mm above everything
 */
export const toolsOfSeat = (shop: SolidShop, region: Region, seat: Seat, top_mm: number): SeatTools => {
  const { stone } = seat
  if (!stone) return { wells: [], walls: [], problems: [], throughArea_mm2: 0 }
  const problems: PatternProblem[] = []
  const at = middleOf(region)
  const pocket = pocketOf(stone, at)
  const face = [region.outer, ...region.holes]
  const wells: Solid[] = []
  const walls: Solid[] = []
  let throughArea_mm2 = 0

  // slabs of 1 mm: their volume is the area
  const slab = shop.prism(face, 0, 1)
  const beyond = (loops: readonly Loop[]): number =>
    shop.volume_mm3(shop.difference(shop.prism(loops, 0, 1), [slab]))
  const wall = stone.wall
  const outside = wall ? shop.inset([pocket], -wall.thickness_mm, CHORD_MM) : [pocket]
  const over = beyond(outside)
  if (over > FACETS_MM2) {
    const bare = wall ? beyond([pocket]) : over
    if (bare > FACETS_MM2) problems.push(seatProblems.stoneTooLarge(region.id, stone, at))
    else problems.push(seatProblems.wallTooWide(region.id, stone, at))
  }

  if (stone.bearer_mm > 0 && stone.well_mm > 0) {
    const well = shop.inset([pocket], stone.bearer_mm, CHORD_MM)
    const through = stone.well_mm >= seat.height_mm
    if (well.length === 0) problems.push(seatProblems.noWell(region.id, stone, at))
    else {
      const bottom = through ? -BEYOND_MM : seat.height_mm - stone.well_mm
      wells.push(shop.prism(well, bottom, seat.height_mm + (over > FACETS_MM2 ? 0 : top_mm)))
      if (through) throughArea_mm2 = well.reduce((sum, loop) => sum + areaOfLoop(loop), 0)
    }
  }
  if (wall) walls.push(shop.prism([...outside, pocket], 0, seat.height_mm + wall.height_mm))
  return { wells, walls, problems, throughArea_mm2 }
}

/** Centre of a region's area, holes and all. */
const middleOf = ({ outer, holes }: Region): Place => {
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
