import type { Heights } from '../../documents/index.ts'
import type { Loop, PatternProblem } from '../drawing.ts'
import { signedArea } from '../loops.ts'
import type { InsetCut, Solid, SolidShop } from '../solids.ts'
import { backProblems } from './problems.ts'

type Back = Heights['back']

/** Height of one step of a hollow's sides; where its ceiling slopes little they are laid finer. */
const HOLLOW_STEP_MM = 0.2
const FINEST_STEP_MM = 0.05
/** A step takes no more than this share of the hollow's floor, as far as the finest step allows. */
const STEP_SHARE = 0.04
/** Directions between sideways and straight up in which the wall is kept. */
const DIRECTIONS = 4
/** Facets of a hollow's sides: nobody sees them, and their wall is even to a tenth anyway. */
const HOLLOW_CHORD_MM = 0.03
const BEYOND_MM = 1
const OVERLAP_MM = 0.01
/** Just above a level, where its flat face has been passed. */
const ABOVE_MM = 1e-3
/** Largest gap between the bent back and its facets, mm. */
const BENT_CHORD_MM = 0.005

/**
 * The room inside a solid with a flat back that leaves a wall of `wall_mm` everywhere but behind: at each level
 * what lies that far from the outside, sideways, upward and in directions between. It is laid in slabs, each as
 * wide as the room at its middle, so that what one end takes too much the other leaves.
 * @param levels heights at which flat faces lie
 * @returns null where the wall leaves no room
 */
export const hollowOf = (
  shop: SolidShop,
  solid: Solid,
  levels: readonly number[],
  wall_mm: number,
): Solid | null => {
  const top = Math.max(...levels)
  const ends = new Set(levels.map((level) => level - wall_mm).filter((level) => level > ABOVE_MM))
  const steps = Math.max(1, Math.ceil((top - wall_mm) / HOLLOW_STEP_MM))
  for (let i = 1; i <= steps; i++) ends.add(((top - wall_mm) * i) / steps)
  const coarse = [...ends].filter((end) => end > ABOVE_MM).sort((a, b) => a - b)
  const slabFrom = (from: number, end: number): Slab => {
    const room = shop.room(solid, cutsFor((from + end) / 2, levels, wall_mm), HOLLOW_CHORD_MM)
    return { room, area: room.reduce((sum, loop) => sum + signedArea(loop), 0), from, end }
  }
  const first = coarse.map((end, i) => slabFrom(coarse[i - 1] ?? 0, end))
  const floor = first[0]?.area ?? 0
  const fine = first.flatMap((slab, i): Slab[] => {
    const { from, end } = slab
    const [below, above] = [first[i - 1] ?? slab, first[i + 1] ?? { ...slab, area: 0 }]
    const fallen = Math.max(below.area - slab.area, slab.area - above.area)
    const wanted = fallen > STEP_SHARE * floor ? fallen / (STEP_SHARE * floor) : 1
    const count = Math.ceil(Math.min(wanted, (end - from) / FINEST_STEP_MM))
    if (count < 2) return [slab]
    const at = (k: number): number => from + ((end - from) * k) / count
    return Array.from({ length: count }, (_, k) => slabFrom(at(k), at(k + 1)))
  })
  const slabs: Slab[] = []
  for (const slab of fine) {
    if (!(slab.area > LEAST_MM2)) break
    const before = slabs.at(-1)
    // Between upright walls nothing changes on the way up: one slab, not many with all but the same sides.
    if (before && before.area - slab.area < SAME_SHARE * slab.area)
      slabs[slabs.length - 1] = { ...before, end: slab.end }
    else slabs.push(slab)
  }
  if (slabs.length === 0) return null
  // Each starts in the one below, so that they overlap rather than touch; the first, behind the back.
  return shop.union(
    slabs.map(({ room, from, end }, i) => shop.prism(room, i === 0 ? -BEYOND_MM : from - OVERLAP_MM, end)),
  )
}

interface Slab {
  readonly room: readonly Loop[]
  readonly area: number
  readonly from: number
  readonly end: number
}

const LEAST_MM2 = 0.05
const SAME_SHARE = 1e-5

/** What is cut, and how far inside each cut lies what is `wall_mm` from the outside at a height. */
const cutsFor = (height: number, levels: readonly number[], wall_mm: number): InsetCut[] =>
  liftsFrom(height, levels, wall_mm)
    .sort((a, b) => a - b)
    .map((lift) => {
      const inset = Math.sqrt(Math.max(0, wall_mm ** 2 - lift ** 2))
      return { z_mm: height + lift, inset_mm: inset > ABOVE_MM ? inset : 0 }
    })

/** How far above a place the wall is looked for: even directions, and just above each flat face within reach. */
const liftsFrom = (height: number, levels: readonly number[], wall_mm: number): number[] => {
  // just below each: the flat face at that level has then not been passed
  const even = Array.from(
    { length: DIRECTIONS + 1 },
    (_, k) => wall_mm * Math.sin((Math.PI / 2) * (k / DIRECTIONS)) - ABOVE_MM,
  )
  const faces = levels.map((level) => level - height + ABOVE_MM).filter((lift) => lift > 0 && lift < wall_mm)
  return [...even, ...faces]
}

/**
 * Bends a solid so that its flat back lies on a cylinder along y, `radius_mm` behind the middle of its width.
 * Lengths along the back stay; the front grows longer by (radius + height) / radius.
 */
export const bend = (
  shop: SolidShop,
  solid: Solid,
  middle_mm: number,
  radius_mm: number,
  top_mm: number,
): Solid => {
  const longest = Math.sqrt((8 * BENT_CHORD_MM * radius_mm ** 2) / (radius_mm + top_mm))
  return shop.warp(solid, longest, (point) => {
    const turn = (point[0] - middle_mm) / radius_mm
    const out = radius_mm + point[2]
    point[0] = middle_mm + out * Math.sin(turn)
    point[2] = out * Math.cos(turn) - radius_mm
  })
}

/** A back that goes more than half round is hard to bend; more than once round, it runs through itself. */
export const sayOfBend = (back: Back, width_mm: number): PatternProblem[] => {
  if (back.shape !== 'curved' || width_mm <= Math.PI * back.radius_mm) return []
  return width_mm > 2 * Math.PI * back.radius_mm
    ? [backProblems.throughItself(back.radius_mm, width_mm)]
    : [backProblems.tooTight(back.radius_mm, width_mm)]
}
