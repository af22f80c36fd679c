import { freezingTimeOfPlace } from '../physics/freezing-time.ts'
import type { Standing } from './placed.ts'
import { coneVolume, GATE_SPEED } from './reasons.ts'
import type { ArrangeProblem, ArrangeRequest, Sprue, ThickSection } from './request.ts'

/** Filling is told from this share of the time in which the first wax freezes. */
const NEAR = 0.5

/** How soon the first of the waxes is solid where it is thickest, or at a neck, by its solid or by its calipers, s. */
const firstToFreeze = (
  standing: readonly Standing[],
  sections: readonly ThickSection[],
  freezing: NonNullable<ArrangeRequest['freezing']>,
): number =>
  Math.min(
    ...sections.flatMap(({ freezes_s, neckFreezes_s }) =>
      [freezes_s, neckFreezes_s].flatMap((time) => (time === undefined ? [] : [time.low])),
    ),
    ...standing.flatMap(({ kind: { piece } }) =>
      piece.sprue.needed_mm === undefined
        ? []
        : [
            freezingTimeOfPlace(piece.sprue.needed_mm / 1000, piece.sprue.needed_mm / 4000, freezing) /
              (freezing.known ?? 1),
          ],
    ),
  )

/**
 * All metal comes through the main sprue: with many sprues it sets the pace at which they fill, and not they
 * themselves. Told where that takes about as long as the first wax takes to freeze.
 */
export const judgePace = (
  standing: readonly Standing[],
  sprues: readonly Sprue[],
  sections: readonly ThickSection[],
  { stem_mm, freezing }: ArrangeRequest,
): ArrangeProblem[] => {
  if (freezing === undefined || !(freezing.drop > 0)) return []
  const times = sprues.reduce((sum, { diameter_mm }) => sum + (diameter_mm / stem_mm) ** 2, 0)
  const volume =
    standing.reduce((sum, { kind }) => sum + kind.volume_mm3, 0) +
    sprues.reduce(
      (sum, { diameter_mm, stemEnd_mm, length_mm }) => sum + coneVolume(diameter_mm, stemEnd_mm, length_mm),
      0,
    )
  const seconds = volume / ((Math.PI / 4) * stem_mm ** 2 * GATE_SPEED)
  const solid = firstToFreeze(standing, sections, freezing)
  if (!(times > 1 && seconds >= NEAR * solid)) return []
  const late = seconds >= solid
  return [
    {
      kind: 'main-sprue-sets-the-pace',
      level: late ? 'check' : 'note',
      where: '/pour/tree/stem/diameter_mm',
      what: `All the metal comes through the main sprue, and the sprues together have ${times.toFixed(1)} times its section: at 0.5 m/s in it the waxes fill in about ${seconds.toFixed(1)} s, whatever each sprue could do by itself, and the first of them may be solid in ${solid.toFixed(1)} s, at its thickest place or at a neck`,
      remedy: late
        ? 'take a thicker main sprue, or pour fewer waxes at once; a spun or pumped flask fills sooner, by how much nobody has said here'
        : 'poured by hand alone, take a thicker main sprue; a flask that is spun or pumped fills sooner',
    },
  ]
}
