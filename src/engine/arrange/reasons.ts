import { centroidOf, type Point } from '../piece/mesh/index.ts'
import type { Placed } from './clears.ts'
import type { Feed } from './feeds.ts'
import type { Kind } from './kind.ts'
import type { ArrangeRequest, Sprue } from './request.ts'
import { minus, move, plus, sizeOf } from './vectors.ts'

const mm = (value: number): string => `${value.toFixed(1)} mm`

/**
 * Metal that enters a mould faster than this folds the skin of its own surface in; textbooks on filling by gravity
 * give 0.5 m/s for most metals (from memory). A spun or pumped flask fills faster than that.
 */
const GATE_SPEED = 500

/** How long a copy takes to fill through its sprues at that speed: volume over their area and the speed, s. */
export const fillingTime = (volume_mm3: number, diameter_mm: number, count: number): number =>
  volume_mm3 / (count * (Math.PI / 4) * diameter_mm ** 2 * GATE_SPEED)

/** Why a sprue sits there, in words for the bench. */
export const reasonFor = (kind: Kind, { attach, byHand, diameter_mm }: Feed, count: number): string => {
  if (byHand && diameter_mm !== undefined) {
    const { needed_mm } = kind.piece.sprue
    return `placed by the caster${needed_mm === undefined ? '' : `; ${mm(needed_mm)} across is enough to outlast the section it feeds, by freezing time`}`
  }
  if (byHand) return `placed by the caster; ${kind.piece.sprue.because}`
  const place = kind.thickPlaces[attach.place]
  const where = kind.piece.standIn
    ? 'by the outside sizes alone: turn the wax so that its thickest place meets this sprue'
    : place?.neck_mm == null
      ? `at the thickest metal, ${mm(attach.thickness_mm)}`
      : `at a second thick place, ${mm(attach.thickness_mm)}, behind a neck of ${mm(place.neck_mm)} that freezes first`
  const side = attach.rim ? 'on the rim' : 'on a broad face, for want of room on the rim'
  const more = count > 1 ? `; one of ${count}` : ''
  const modulus =
    kind.piece.standIn || place === undefined
      ? ''
      : `; modulus ${(kind.piece.sprue.diameter_mm / 4).toFixed(2)} mm against ${Math.min(place.thickness_mm / 2, Math.max(place.thickness_mm / 6, place.modulus_mm)).toFixed(2)} mm there`
  const reach = kind.piece.standIn
    ? ''
    : `; feeds metal up to ${mm(furthestFed(kind, attach.at, count))} away`
  const seconds = fillingTime(kind.volume_mm3, kind.piece.sprue.diameter_mm, count)
  const fills = `; fills the piece in ${Number(seconds.toPrecision(2))} s at a gate speed of 0.5 m/s, which textbooks advise for filling without force, and sooner when spun or pumped`
  const kept = kind.piece.keepClear.length > 0 ? '; off the faces kept clear' : ''
  return `round, ${where}, ${side}${kept}${more}${modulus}${reach}${fills}; ${kind.piece.sprue.because}`
}

/** How far it is to the furthest metal that a sprue feeds: to the middle of it where several share a piece. */
const furthestFed = (kind: Kind, at: Point, count: number): number =>
  Math.max(...kind.reaches.map((point) => sizeOf(minus(point, at)))) / (count > 1 ? 2 : 1)

/** Of a round bar or cone. */
const coneVolume = (one: number, other: number, length: number): number =>
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
