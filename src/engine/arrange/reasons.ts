import { centroidOf, type Point, volumeOf } from '../piece/mesh/index.ts'
import type { Placed } from './clears.ts'
import type { Feed } from './feeds.ts'
import type { Kind } from './kind.ts'
import type { Sprue } from './request.ts'
import { move, plus } from './vectors.ts'

const mm = (value: number): string => `${value.toFixed(1)} mm`

/** Why a sprue sits there, in words for the bench. */
export const reasonFor = (kind: Kind, { attach, byHand }: Feed, count: number): string => {
  if (byHand) return `placed by the caster; ${kind.piece.sprue.because}`
  const place = kind.thickPlaces[attach.place]
  const where = kind.piece.standIn
    ? 'by the outside sizes alone: turn the wax so that its thickest place meets this sprue'
    : place?.neck_mm == null
      ? `at the thickest metal, ${mm(attach.thickness_mm)}`
      : `at a second thick place, ${mm(attach.thickness_mm)}, behind a neck of ${mm(place.neck_mm)} that freezes first`
  const side = attach.rim ? 'on the rim' : 'on a broad face, for want of room on the rim'
  const more = count > 1 ? `; one of ${count}` : ''
  return `round, ${where}, ${side}${more}; ${kind.piece.sprue.because}`
}

/** A fillet keeps metal from turning a sharp corner and plaster from breaking off; common practice, mm. */
export const filletOf = (diameter_mm: number): number => Math.min(1, diameter_mm / 4)

/** How far the centre of volume of waxes and sprues lies off the flask's axis, mm. */
export const middleOf = (
  placed: readonly Pick<Placed, 'kind' | 'motion'>[],
  sprues: readonly Sprue[],
): number | null => {
  const parts: { volume: number; at: Point }[] = []
  for (const one of placed) {
    const centre = centroidOf(one.kind.piece.mesh)
    if (centre === null) return null
    parts.push({ volume: volumeOf(one.kind.piece.mesh), at: move(one.motion, centre) })
  }
  for (const sprue of sprues)
    parts.push({
      volume: (Math.PI / 4) * sprue.diameter_mm ** 2 * sprue.length_mm,
      at: [
        (sprue.from_mm[0] + sprue.to_mm[0]) / 2,
        (sprue.from_mm[1] + sprue.to_mm[1]) / 2,
        (sprue.from_mm[2] + sprue.to_mm[2]) / 2,
      ],
    })
  const whole = parts.reduce((sum, part) => sum + part.volume, 0)
  if (!(whole > 0)) return null
  const moment = parts.reduce<Point>((sum, part) => plus(sum, part.at, part.volume), [0, 0, 0])
  return Math.hypot(moment[0], moment[1]) / whole
}
