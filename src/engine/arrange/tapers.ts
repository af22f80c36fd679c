import type { Clearance, Sprue } from './request.ts'

/** Longer than this many times its width, a sprue is wider at the main sprue; common practice. */
const LONG = 5
/** And by this much: it then freezes from the piece toward the main sprue, and the wax pulls no neck in it. */
const WIDER = 1.25
/** A fillet keeps metal from turning a sharp corner and plaster from breaking off; common practice, mm. */
const FILLET = 1

/** Not all of the room, so that rounding never eats what is needed. */
const SHARE = 0.9

/** How much room a sprue has beyond its need, mm. */
const spareOf = (index: number, clearances: readonly Clearance[]): number =>
  Math.min(
    Infinity,
    ...clearances
      .filter(({ between }) => between.includes(`sprue/${index + 1}`))
      .map(({ distance_mm, needed_mm }) => distance_mm - needed_mm),
  )

/** Long sprues widened toward the main sprue, as far as nothing comes too near; those placed by hand stay. */
export const taperLong = (
  sprues: readonly Sprue[],
  stem_mm: number,
  clearances: readonly Clearance[],
): Sprue[] =>
  sprues.map((sprue, index) => {
    const { diameter_mm, length_mm, reason, byHand } = sprue
    if (byHand || length_mm <= LONG * diameter_mm) return sprue
    // by half the room on each side, so that two sprues beside one another may both widen
    const room = SHARE * Math.max(0, spareOf(index, clearances))
    const stemEnd_mm = Math.min(WIDER * diameter_mm, Math.max(stem_mm, diameter_mm), diameter_mm + room)
    if (stemEnd_mm < 1.02 * diameter_mm) return sprue
    return {
      ...sprue,
      stemEnd_mm,
      reason: `${reason.replace(/^round/, `tapered to ${stemEnd_mm.toFixed(1)} mm at the main sprue, being longer than ${LONG} times its width (common practice)`)}`,
    }
  })

/** Each sprue with a fillet at its piece: a quarter of its width and at most 1 mm, less where room is less. */
export const fillet = (sprues: readonly Sprue[], clearances: readonly Clearance[]): Sprue[] =>
  sprues.map((sprue, index) => ({
    ...sprue,
    fillet_mm: Math.min(FILLET, sprue.diameter_mm / 4, (SHARE / 2) * Math.max(0, spareOf(index, clearances))),
  }))
