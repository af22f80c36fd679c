import { freezingTimeOfPlace, radiusToOutlast } from '../physics/freezing-time.ts'
import { modulusWithin, NECK_SHARE, type ThickPlace } from '../piece/mesh/thick-places.ts'
import { roundedUp } from '../quantity/words.ts'
import type { Placed } from './clears.ts'
import type { Kind } from './kind.ts'
import { numbersWords } from './place-words.ts'
import type { ArrangeProblem, ArrangeRequest, ThickSection } from './request.ts'

/** Seconds; lengths in mm. */
const freezes = (
  thickness: number,
  modulus: number,
  freezing: NonNullable<ArrangeRequest['freezing']>,
): number => freezingTimeOfPlace(thickness / 1000, modulus / 1000, freezing)

/** How many times as long as this section a round sprue of that width stays liquid; its range by the section's. */
export const outlasts = (
  section: ThickSection,
  diameter_mm: number,
  freezing: ArrangeRequest['freezing'],
): { readonly value: number; readonly low: number; readonly high: number } | undefined => {
  const { freezes_s } = section
  if (freezing === undefined || freezes_s === undefined) return undefined
  const time = freezes(diameter_mm, diameter_mm / 4, freezing)
  // both stand in the same mould, so what is not known of that falls out
  const { known = 1 } = freezing
  return {
    value: time / freezes_s.value,
    low: (time * known) / freezes_s.high,
    high: time / (freezes_s.low * known),
  }
}

/** One of the thick places of a piece, with how long it stays liquid where that is known. */
export const sectionOf = (
  { piece }: Pick<Kind, 'piece'>,
  { parts, neck_mm, at_mm }: ThickPlace,
  freezing: ArrangeRequest['freezing'],
): ThickSection => {
  const thicker = piece.thicker ?? 1
  const last = parts.reduce((one, other) =>
    freezing !== undefined &&
    freezes(other.thickness_mm, other.modulus_mm, freezing) >
      freezes(one.thickness_mm, one.modulus_mm, freezing)
      ? other
      : one,
  )
  const [thickness_mm, modulus_mm] = [last.thickness_mm * thicker, last.modulus_mm * thicker]
  const { least, most } = modulusWithin(thickness_mm, modulus_mm)
  const base = {
    piece: piece.id,
    at_mm,
    thickness_mm,
    modulus_mm: { value: modulus_mm, low: least, high: most },
    neck_mm,
  }
  if (freezing === undefined || !(freezing.drop > 0)) return base
  const times = {
    value: freezes(thickness_mm, modulus_mm, freezing),
    low: freezes(thickness_mm, least, freezing),
    high: freezes(thickness_mm, most, freezing),
  }
  const { known = 1 } = freezing
  const across = (time: number): number => 2000 * radiusToOutlast('rod', time, freezing)
  return {
    ...base,
    freezes_s: { value: times.value, low: times.low / known, high: times.high * known },
    sprue_mm: { value: across(times.value), low: across(times.low), high: across(times.high) },
    ...(neck_mm === null
      ? {}
      : {
          // a neck may be a rod or a web: between the two
          neckFreezes_s: {
            low: freezes(neck_mm, neck_mm / 4, freezing) / known,
            high: freezes(neck_mm, neck_mm / 2, freezing) * known,
          },
        }),
  }
}

/**
 * The thick places of each piece that need feed, with the necks between them. Modulus is volume over cooling
 * area of the metal that belongs to the place, a quarter either way for where the place ends, though never less than a
 * ball's nor more than a plate's of that thickness. A stand-in has none: nobody knows where it is thick.
 */
export const sectionsOf = ({ freezing }: ArrangeRequest, kinds: readonly Kind[]): ThickSection[] =>
  kinds.flatMap((kind) =>
    kind.piece.standIn ? [] : kind.thickPlaces.map((place) => sectionOf(kind, place, freezing)),
  )

const mm = (value: number): string => `${value.toFixed(1)} mm`

/** Of what is asked at least: no tenth less than it. */
const mmOrMore = (value: number): string => mm(roundedUp(value, 1))

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
          remedy: `give it a sprue of its own${section.sprue_mm === undefined ? '' : `, ${mmOrMore(section.sprue_mm.high)} across or more`}, or thicken the neck`,
        },
      ]
    })
  })

/** A sprue this much thinner than the least that its section may ask is solid in two thirds of the time at most. */
const SURELY = 0.8

/** A share as it is told, to the nearest 5 %: it rests on spots. */
export const roughly = (share: number): number => 5 * Math.round(20 * share)

/** A joint that meets wax with less of its section than this hangs on its edge. */
const HALF = 0.5

/** One sprue where it joins. */
interface OneJoint {
  readonly number: number
  readonly share: number
  /** on the face that is worked in relief */
  readonly worked: boolean
  readonly thickness_mm: number
}

/** Sprues that feed one place of a kind, as wide as one another. */
interface Joints {
  readonly kind: Kind
  readonly where: string
  /** on which wax, as their sentence goes on */
  readonly on: string
  readonly byHand: boolean
  readonly across: number
  readonly place: number
  readonly joints: OneJoint[]
}

/** Every sprue placed by hand, and those of a kind that were found, taken together by the thick place they feed. */
const jointsOf = (placed: readonly Pick<Placed, 'kind' | 'copy' | 'feeds'>[]): Joints[] => {
  const found = new Map<string, Joints>()
  let number = 0
  for (const { kind, copy, feeds } of placed)
    for (const { attach, diameter_mm = kind.piece.sprue.diameter_mm, ...feed } of feeds) {
      number += 1
      // one that was found is said to be what it was when it was found, kept or not
      const byHand = feed.byHand === true && feed.found !== true
      const { id, name } = kind.piece
      const key = byHand ? `${number}` : `${id}, ${attach.place}`
      const joints = found.get(key)?.joints ?? []
      joints.push({
        number,
        share: attach.share,
        worked: attach.worked && !attach.rim,
        thickness_mm: attach.thickness_mm,
      })
      found.set(key, {
        kind,
        where: byHand ? `${id}/${copy}` : id,
        on: byHand ? `placed on ${name} ${copy}` : `on ${name}`,
        byHand,
        across: diameter_mm,
        place: attach.place,
        joints,
      })
    }
  return [...found.values()]
}

/** What is said of one sprue or of several: with its number, and a verb that goes with it. */
const saidOf = (
  on: string,
  joints: readonly OneJoint[],
): { readonly words: string; readonly isOne: boolean } => {
  const isOne = joints.length === 1
  const numbers = numbersWords(joints.map(({ number }) => number))
  return { words: `${isOne ? 'Sprue' : 'Sprues'} ${numbers}, ${on},`, isOne }
}

/** Sprues too thin for the metal that the solid shows where they join, and joints that hang over an edge. */
export const judgeJoints = (
  placed: readonly Pick<Placed, 'kind' | 'copy' | 'feeds'>[],
  sections: readonly ThickSection[],
): ArrangeProblem[] =>
  jointsOf(placed).flatMap(({ kind, where, on, byHand, across, place, joints }): ArrangeProblem[] => {
    const problems: ArrangeProblem[] = []
    const section = sections.filter(({ piece }) => piece === kind.piece.id)[place]
    const solid = section?.sprue_mm
    // of a stand-in the plan says what its calipers ask, except of a sprue placed by hand
    const needed = solid?.value ?? (byHand ? kind.piece.sprue.needed_mm : undefined)
    const thin =
      section === undefined
        ? []
        : joints.filter(({ thickness_mm }) => thickness_mm < NECK_SHARE * section.thickness_mm)
    if (section !== undefined && thin.length > 0) {
      const { words, isOne } = saidOf(on, thin)
      problems.push({
        kind: 'feeds-through-thinner',
        level: 'check',
        where,
        what: `${words} ${isOne ? 'joins' : 'join'} where the wax is ${mm(Math.min(...thin.map(({ thickness_mm }) => thickness_mm)))} thick and must feed ${mm(section.thickness_mm)} through that: the thinner metal freezes first, and shrinkage pits may show behind it`,
        remedy: 'join it at the thick place, give that a sprue of its own, or thicken the way to it',
      })
    }
    const surely =
      solid !== undefined && solid.high > solid.value
        ? `, and ${mmOrMore(solid.high)} or more to be sure of it`
        : ''
    const isSurely = solid !== undefined && across < SURELY * solid.low
    if (needed !== undefined && across < needed - 1e-9) {
      const { words, isOne } = saidOf(on, joints)
      problems.push({
        kind: 'sprue-too-thin',
        level: isSurely ? 'stop' : 'check',
        where,
        what: `${words} ${isOne ? 'is' : 'are'} ${mm(across)} across; by freezing time ${mm(needed)}${solid === undefined ? '' : ` (${solid.low.toFixed(1)} to ${mm(solid.high)})`} outlasts the section ${isOne ? 'it feeds' : 'they feed'}${section === undefined ? '' : `, ${mm(section.thickness_mm)} thick in the solid`}`,
        remedy: isSurely
          ? `make it ${mmOrMore(needed)} or more${surely}: so thin it is solid before what it feeds, and the piece may not even fill`
          : `make it ${mmOrMore(needed)} or more${surely}, or accept that shrinkage may show where it joins`,
      })
    }
    const worked = joints.filter((joint) => joint.worked)
    if (worked.length > 0) {
      const { words, isOne } = saidOf(on, worked)
      problems.push({
        kind: 'sprue-on-worked-face',
        level: 'check',
        where,
        what: `${words} ${isOne ? 'joins' : 'join'} the face that is worked in relief, where the other is plain: what stands there is cut and filed away with the sprue`,
        remedy:
          'keep that face clear, ask for one sprue or a thinner one, or turn the wax and join it by hand',
      })
    }
    const over = joints.filter(({ share }) => share < HALF)
    if (over.length > 0) {
      const { words, isOne } = saidOf(on, over)
      problems.push({
        kind: 'joint-over-edge',
        level: byHand ? 'check' : 'note',
        where,
        what: `${words} ${isOne ? 'meets wax with only' : 'meet wax with as little as'} about ${roughly(Math.min(...over.map(({ share }) => share)))} % of ${isOne ? 'its section; the rest hangs' : 'their sections; the rest hang'} over an edge`,
        remedy: byHand
          ? 'join it farther in, take it thinner, or press its end flat and build the joint up with wax'
          : 'press its end flat to the thickness of the wax there and build the joint up with wax all round, or ask for a thinner sprue',
      })
    }
    return problems
  })
