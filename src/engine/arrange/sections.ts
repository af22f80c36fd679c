import { freezingTimeOf, radiusToOutlast } from '../physics/freezing-time.ts'
import type { Point, TriangleMesh } from '../piece/mesh/index.ts'
import type { Placed } from './clears.ts'
import type { Kind } from './kind.ts'
import type { ArrangeProblem, ArrangeRequest, ThickSection } from './request.ts'
import { cross, minus, sizeOf } from './vectors.ts'

const areaOf = ({ positions, corners }: TriangleMesh): number => {
  let area = 0
  for (let t = 0; t < corners.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k): Point => {
      const at = (corners[t + k] ?? 0) * 3
      return [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0]
    }) as [Point, Point, Point]
    area += sizeOf(cross(minus(b, a), minus(c, a))) / 2
  }
  return area
}

/** How round a section of this thickness and modulus [mm] is: 0 a plate (t/2), 1 a bar (t/4), 2 a ball (t/6). */
export const roundness = (thickness: number, modulus: number): number =>
  Math.min(2, Math.max(0, thickness / (2 * modulus) - 1))

/** Seconds; the cooling face is as curved as its roundness says. Source: freezing-time.ts. */
const freezes = (
  thickness: number,
  modulus: number,
  freezing: NonNullable<ArrangeRequest['freezing']>,
): number => freezingTimeOf(modulus / 1000, roundness(thickness, modulus) / (thickness / 2000), freezing)

/**
 * The thick places of each piece that need feed, with the necks between them. Modulus is volume over cooling
 * area of the metal that belongs to the place; never less than a ball's nor more than a plate's of that
 * thickness, and those two are its range. A stand-in has none: nobody knows where it is thick.
 */
export const sectionsOf = (request: ArrangeRequest, kinds: readonly Kind[]): ThickSection[] =>
  kinds.flatMap((kind) => {
    if (kind.piece.standIn) return []
    const { freezing } = request
    const whole = kind.volume_mm3 / areaOf(kind.piece.mesh)
    return kind.thickPlaces.map((place): ThickSection => {
      const { thickness_mm, neck_mm, at_mm } = place
      const [least, most] = [thickness_mm / 6, thickness_mm / 2]
      const measured = kind.thickPlaces.length === 1 ? whole : place.modulus_mm
      const modulus = Math.min(most, Math.max(least, measured))
      const base = {
        piece: kind.piece.id,
        at_mm,
        thickness_mm,
        modulus_mm: { value: modulus, low: least, high: most },
        neck_mm,
      }
      if (freezing === undefined || !(freezing.drop > 0)) return base
      const times = {
        value: freezes(thickness_mm, modulus, freezing),
        low: freezes(thickness_mm, least, freezing),
        high: freezes(thickness_mm, most, freezing),
      }
      const across = (time: number): number => 2000 * radiusToOutlast('rod', time, freezing)
      return {
        ...base,
        freezes_s: times,
        sprue_mm: { value: across(times.value), low: across(times.low), high: across(times.high) },
        ...(neck_mm === null
          ? {}
          : {
              // a neck may be a rod or a web: between the two
              neckFreezes_s: {
                low: freezes(neck_mm, neck_mm / 4, freezing),
                high: freezes(neck_mm, neck_mm / 2, freezing),
              },
            }),
      }
    })
  })

const mm = (value: number): string => `${value.toFixed(1)} mm`

/** Thick places behind a neck that no sprue of their own feeds: the neck freezes and cuts them off. */
export const judgeSections = (
  placed: readonly Pick<Placed, 'kind' | 'copy' | 'feeds'>[],
  sections: readonly ThickSection[],
): ArrangeProblem[] =>
  placed.flatMap((one) => {
    const own = sections.filter((section) => section.piece === one.kind.piece.id)
    return own.flatMap((section, place): ArrangeProblem[] => {
      if (section.neck_mm === null || one.feeds.some((feed) => feed.attach.place === place)) return []
      const { freezes_s, neckFreezes_s } = section
      const sure =
        freezes_s === undefined || neckFreezes_s === undefined
          ? 'a neck that much thinner freezes first'
          : `the neck freezes in ${neckFreezes_s.low.toFixed(0)} to ${neckFreezes_s.high.toFixed(0)} s, the place behind it in ${freezes_s.value.toFixed(0)} s (${freezes_s.low.toFixed(0)} to ${freezes_s.high.toFixed(0)})`
      return [
        {
          kind: 'neck-freezes-first',
          level: 'check',
          where: `${one.kind.piece.id}/${one.copy}`,
          what: `A thick place of ${one.kind.piece.name} ${one.copy}, ${mm(section.thickness_mm)}, has no sprue of its own and lies behind a neck of ${mm(section.neck_mm)}: ${sure}, and shrinkage pits may show there`,
          remedy: `give it a sprue of its own${section.sprue_mm === undefined ? '' : `, ${mm(section.sprue_mm.value)} across or more`}, or thicken the neck`,
        },
      ]
    })
  })
