import type { Sprue } from './request.ts'

/** Longer than this many times its width, a sprue does better wider at the main sprue; common practice. */
const LONG = 5
/** And by this much: it then freezes from the piece toward the main sprue, and the wax pulls no neck in it. */
const WIDER = 1.25
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
