import type { Clearance, Sprue } from './request.ts'

/** Longer than this many times its width, a sprue does better wider at the main sprue; common practice. */
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

/**
 * Long round sprues with the advice to taper them, and to what width. Wire comes round: a taper is built up by hand,
 * so it is the caster's to ask for, and only then do distances and metal hold it.
 */
export const adviseTaper = (sprues: readonly Sprue[], stem_mm: number): Sprue[] =>
  sprues.map((sprue) => {
    const { diameter_mm, stemEnd_mm, length_mm, reason } = sprue
    const wider = Math.min(WIDER * diameter_mm, Math.max(stem_mm, diameter_mm))
    if (stemEnd_mm > diameter_mm || length_mm <= LONG * diameter_mm || wider < 1.02 * diameter_mm)
      return sprue
    return {
      ...sprue,
      reason: `${reason}; longer than ${LONG} times its width: better built up to ${wider.toFixed(1)} mm at the main sprue (common practice)`,
    }
  })

/** Each sprue with a fillet at its piece: a quarter of its width and at most 1 mm, less where room is less. */
export const fillet = (sprues: readonly Sprue[], clearances: readonly Clearance[]): Sprue[] =>
  sprues.map((sprue, index) => ({
    ...sprue,
    fillet_mm: Math.min(FILLET, sprue.diameter_mm / 4, (SHARE / 2) * Math.max(0, spareOf(index, clearances))),
  }))
