import { centroidOf, type Point } from '../piece/mesh/index.ts'
import type { Placed } from './clears.ts'
import type { Feed } from './feeds.ts'
import type { Kind } from './kind.ts'
import type { ArrangeRequest, Sprue } from './request.ts'
import { outlasts, roughly, sectionOf } from './sections.ts'
import { minus, move, plus, sizeOf } from './vectors.ts'

const mm = (value: number): string => `${value.toFixed(1)} mm`

/**
 * Metal that enters a mould faster than this folds the skin of its own surface in; textbooks on filling by gravity
 * give 0.5 m/s for most metals (from memory). A spun or pumped flask fills faster than that.
 */
export const GATE_SPEED = 500

/**
 * How long a copy takes to fill through its sprues at that speed: volume over their area and the speed, s.
 * @param share  of a sprue's section that meets wax
 */
export const fillingTime = (volume_mm3: number, diameter_mm: number, count: number, share: number): number =>
  volume_mm3 / (count * share * (Math.PI / 4) * diameter_mm ** 2 * GATE_SPEED)

/** A joint of which this much meets wax is a whole one: the rest is rounding off of the surface. */
const WHOLE = 0.85

/** Why a sprue sits there, in words for the bench. */
export const reasonFor = (kind: Kind, feed: Feed, count: number, { freezing }: ArrangeRequest): string => {
  const { attach, byHand } = feed
  const { piece } = kind
  const across = feed.diameter_mm ?? piece.sprue.diameter_mm
  const place = piece.standIn ? undefined : kind.thickPlaces[attach.place]
  const section = place && sectionOf(kind, place, freezing)
  const times = section && outlasts(section, across, freezing)
  const ownWidth = byHand && feed.diameter_mm !== undefined
  const bySolid =
    times === undefined || section === undefined
      ? undefined
      : `by the solid it stays liquid ${times.value.toFixed(2)} times as long as the ${mm(section.thickness_mm)} it feeds (${times.low.toFixed(2)} to ${times.high.toFixed(2)})`
  const { needed_mm } = piece.sprue
  // what the calipers say is of the width that the plan gives it
  const byCalipers = !ownWidth
    ? piece.sprue.because
    : needed_mm === undefined
      ? undefined
      : `by its calipers ${mm(needed_mm)} across is enough to outlast the section it feeds`
  const because = [byCalipers, bySolid].filter((one) => one !== undefined).join('; ')
  const edge =
    attach.share < WHOLE
      ? `; about ${roughly(attach.share)} % of its section meets wax, the rest hangs over an edge: build the joint up with wax`
      : ''
  if (byHand) return `placed by the caster${edge}; ${because}`
  const where =
    place === undefined
      ? 'by the outside sizes alone: turn the wax so that its thickest place meets this sprue'
      : place.neck_mm === null
        ? `where the metal is thick, ${mm(attach.thickness_mm)}`
        : `at a second thick place, ${mm(attach.thickness_mm)}, behind a neck of ${mm(place.neck_mm)} that freezes first`
  const face = attach.worked ? 'the face worked in relief' : 'a broad face'
  const side = attach.rim ? 'on the rim' : `on ${face}, for want of room on the rim`
  const more = count > 1 ? `; one of ${count}` : ''
  const modulus =
    section === undefined
      ? ''
      : `; modulus ${(across / 4).toFixed(2)} mm against ${section.modulus_mm.value.toFixed(2)} mm there`
  const reach =
    place === undefined
      ? ''
      : `; the furthest metal of the piece lies ${mm(furthest(kind, attach.at))} from it`
  const seconds = fillingTime(kind.volume_mm3, across, count, attach.share)
  const fills = `; fills the piece in ${Number(seconds.toPrecision(2))} s at a gate speed of 0.5 m/s, which textbooks advise for filling without force, where the main sprue brings as much, and sooner when spun or pumped`
  const kept = piece.keepClear.length > 0 ? '; off the faces kept clear' : ''
  return `round, ${where}, ${side}${kept}${edge}${more}${modulus}${reach}${fills}; ${because}`
}

const furthest = (kind: Kind, at: Point): number =>
  Math.max(...kind.reaches.map((point) => sizeOf(minus(point, at))))

/** Of a round bar or cone. */
export const coneVolume = (one: number, other: number, length: number): number =>
  (Math.PI / 12) * (one ** 2 + one * other + other ** 2) * length

/** Main sprue, with its round end, and button: both stand on the axis. */
const onAxisVolume = ({ base, stem_mm, button_mm }: ArrangeRequest, stemEnd: number): number => {
  const depth = Math.min(button_mm, base.depth_mm)
  const wide = base.neck_mm + ((base.mouth_mm - base.neck_mm) * depth) / base.depth_mm
  return (
    coneVolume(stem_mm, stem_mm, Math.max(0, stemEnd - base.depth_mm)) +
    (Math.PI / 12) * stem_mm ** 3 +
    coneVolume(wide, base.neck_mm, depth)
  )
}

/**
 * How far the middle of all the metal lies off the flask's axis, mm: waxes, sprues, main sprue and button, each as a
 * solid of its own. The joined solid, which the plan reckons with, lacks only what their joints share.
 */
export const middleOf = (
  request: ArrangeRequest,
  placed: readonly Pick<Placed, 'kind' | 'motion'>[],
  sprues: readonly Sprue[],
  stemEnd: number,
): number | null => {
  const parts: { volume: number; at: Point }[] = [{ volume: onAxisVolume(request, stemEnd), at: [0, 0, 0] }]
  for (const one of placed) {
    const centre = centroidOf(one.kind.piece.mesh)
    if (centre === null) return null
    parts.push({ volume: one.kind.volume_mm3, at: move(one.motion, centre) })
  }
  for (const { diameter_mm, stemEnd_mm, length_mm, from_mm, to_mm } of sprues)
    parts.push({
      volume: coneVolume(diameter_mm, stemEnd_mm, length_mm),
      at: [(from_mm[0] + to_mm[0]) / 2, (from_mm[1] + to_mm[1]) / 2, (from_mm[2] + to_mm[2]) / 2],
    })
  const whole = parts.reduce((sum, part) => sum + part.volume, 0)
  if (!(whole > 0)) return null
  const moment = parts.reduce<Point>((sum, part) => plus(sum, part.at, part.volume), [0, 0, 0])
  return Math.hypot(moment[0], moment[1]) / whole
}
