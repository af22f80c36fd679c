import type { Heights } from '../../documents/index.ts'
import type { Loop, PatternProblem } from '../drawing.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { areaOfLoop } from './loops.ts'
import { backProblems } from './problems.ts'

type Back = Heights['back']

/** Height of one step of a hollow's ceiling: the wall is even to within about this. */
export const HOLLOW_STEP_MM = 0.2
/** Directions between sideways and straight up in which the wall is kept. */
const DIRECTIONS = 4
/** Facets of a hollow's sides: nobody sees them, and their wall is even to a tenth anyway. */
const HOLLOW_CHORD_MM = 0.03
const BEYOND_MM = 1
/** Just above a level, where its flat face has been passed. */
const ABOVE_MM = 1e-3
/** Largest gap between the bent back and its facets, mm. */
const BENT_CHORD_MM = 0.005

/**
 * The room inside a solid with a flat back that leaves a wall of `wall_mm` everywhere but behind: at each level
 * what lies that far from the outside, sideways, upward and in directions between. It is laid in slabs, each as
 * wide as its upper end allows.
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
  const rising = [...ends].filter((end) => end > ABOVE_MM).sort((a, b) => a - b)
  const slices = new Map<number, Loop[]>()
  const sliceAt = (z: number): Loop[] => {
    let loops = slices.get(z)
    if (!loops) {
      loops = shop.slice(solid, z)
      slices.set(z, loops)
    }
    return loops
  }
  const slabs: { room: Loop[]; area: number; end: number }[] = []
  for (const end of rising) {
    const room = roomAt(shop, sliceAt, end, levels, wall_mm)
    const area = room.reduce((sum, loop) => sum + areaOfLoop(loop), 0)
    if (!(area > LEAST_MM2)) break
    const before = slabs.at(-1)
    // Between upright walls nothing changes on the way up: one slab, not many with all but the same sides.
    if (before && before.area - area < SAME_SHARE * area) slabs.pop()
    slabs.push({ room, area, end })
  }
  if (slabs.length === 0) return null
  // Each starts behind the back, so that they overlap rather than touch.
  return shop.union(slabs.map(({ room, end }) => shop.prism(room, -BEYOND_MM, end)))
}

const LEAST_MM2 = 0.05
const SAME_SHARE = 1e-5

const roomAt = (
  shop: SolidShop,
  sliceAt: (z: number) => Loop[],
  end: number,
  levels: readonly number[],
  wall_mm: number,
): Loop[] => {
  const faces: Loop[][] = []
  for (const lift of liftsFrom(end, levels, wall_mm)) {
    const inset = Math.sqrt(Math.max(0, wall_mm ** 2 - lift ** 2))
    const slice = sliceAt(end + lift)
    const face = inset > ABOVE_MM && slice.length > 0 ? shop.inset(slice, inset, HOLLOW_CHORD_MM) : slice
    if (face.length === 0) return []
    faces.push(face)
  }
  return shop.shared(faces)
}

/** How far above a place the wall is looked for: even directions, and just above each flat face within reach. */
const liftsFrom = (end: number, levels: readonly number[], wall_mm: number): number[] => {
  // just below each: the flat face at that level has then not been passed
  const even = Array.from(
    { length: DIRECTIONS + 1 },
    (_, k) => wall_mm * Math.sin((Math.PI / 2) * (k / DIRECTIONS)) - ABOVE_MM,
  )
  const faces = levels.map((level) => level - end + ABOVE_MM).filter((lift) => lift > 0 && lift < wall_mm)
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

export const sayOfBend = (back: Back, width_mm: number): PatternProblem[] =>
  back.shape === 'curved' && width_mm > Math.PI * back.radius_mm
    ? [backProblems.tooTight(back.radius_mm, width_mm)]
    : []
