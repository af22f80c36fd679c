import { GAPS } from './bores.ts'
import { judgeBubbles } from './bubbles.ts'
import type { Kind } from './kind.ts'
import { areSound, judgePlaced, type Standing } from './placed.ts'
import type { ArrangeProblem, ArrangeRequest, Clearance, ThickSection } from './request.ts'
import type { Room } from './room.ts'
import { spruesOn } from './search.ts'
import { judgeSections } from './sections.ts'

/** Models that the search stood for by a reduction of them. */
export const judgeReduced = (kinds: readonly Kind[]): ArrangeProblem[] =>
  kinds
    .filter(({ off }) => off > 0)
    .map(({ piece, off }) => ({
      kind: 'placed-by-reduced-model',
      level: 'note',
      where: piece.id,
      what: `${piece.name} is very fine: it was placed by a reduced model within ${off.toFixed(3)} mm of the true one, which was added to every clearance; the distances listed are from the true model`,
      remedy: 'nothing needs doing',
    }))

/** Metal so much thicker wants a cooler mould: what freezes in good time in one misruns in the other. */
const APART = 3

/** The thickest place of one piece against that of another: freezing time goes by the square of it. */
const judgeThickWithThin = (kinds: readonly Kind[]): ArrangeProblem[] => {
  const known = kinds.filter((kind) => !kind.piece.standIn && thickest(kind) > 0)
  const byThickness = [...known].sort((a, b) => thickest(b) - thickest(a))
  const [thick, thin] = [byThickness[0], byThickness[byThickness.length - 1]]
  if (thick === undefined || thin === undefined) return []
  const ratio = thickest(thick) / thickest(thin)
  if (!(ratio >= APART)) return []
  return [
    {
      kind: 'thick-with-thin',
      level: 'note',
      where: `${thick.piece.id}, ${thin.piece.id}`,
      what: `${thick.piece.name} is ${thickest(thick).toFixed(1)} mm thick where it is thickest and ${thin.piece.name} ${thickest(thin).toFixed(1)} mm, so it freezes about ${(ratio ** 2).toFixed(0)} times as slowly: one flask temperature does not suit both`,
      remedy:
        'pour them in two flasks, the thin ones in the hotter flask, or let the thin ones decide and expect coarser metal in the thick',
    },
  ]
}

export const thickest = (kind: Kind): number => kind.thickPlaces[0]?.thickness_mm ?? 0

/** Waxes that got fewer sprues than they have thick places, or one that no sound sprue reaches. */
const judgeReach = (
  standing: readonly Standing[],
  stemEnd: number,
  { stem_mm }: ArrangeRequest,
): ArrangeProblem[] => {
  const fewer = new Set<Kind>()
  const problems = standing.flatMap((one): ArrangeProblem[] => {
    const { kind, copy, feeds, locked } = one
    if (feeds.some(({ byHand }) => byHand)) return []
    const lacks = feeds.length < spruesOn(kind)
    if (!lacks && areSound(one, stemEnd, stem_mm)) return []
    if (lacks && !locked) {
      fewer.add(kind)
      return []
    }
    return [
      {
        kind: 'locked-out-of-reach',
        level: 'check',
        where: `${kind.piece.id}/${copy}`,
        what: `Where ${kind.piece.name} stands, no straight sprues of 30 to 60° reach all its thick places without passing close by it`,
        remedy: 'turn or lift the piece, place its sprue by hand, or accept the sprue as drawn',
      },
    ]
  })
  return [
    ...problems,
    ...[...fewer].map(
      (kind): ArrangeProblem => ({
        kind: 'fewer-sprues',
        level: 'check',
        where: kind.piece.id,
        what: `${kind.piece.name} would want ${spruesOn(kind)} sprues, and only one reaches it at a slope of 30 to 60°`,
        remedy: 'lock the piece where two sprues reach it, or feed its far end by a bar of sprue wax',
      }),
    ),
  ]
}

/**
 * Everything to say of waxes and sprues as they stand, whoever placed them.
 * @param clearances  of all of it, tightest first
 * @param words  what a place of a clearance is called
 */
export const judgeStanding = (
  request: ArrangeRequest,
  room: Room,
  kinds: readonly Kind[],
  standing: readonly Standing[],
  stemEnd: number,
  sections: readonly ThickSection[],
  clearances: readonly Clearance[],
  words: (place: string) => string,
): ArrangeProblem[] => [
  ...judgeReduced(kinds),
  ...judgeThickWithThin(kinds),
  ...judgeReach(standing, stemEnd, request),
  ...judgeSections(standing, sections),
  ...judgeBubbles(standing),
  ...standing.flatMap((one) => judgePlaced(one, room, request.stem_mm)),
  ...judgeByStem(clearances, request, words),
  ...clearances.filter(isShort).map(
    ({ between, distance_mm, needed_mm }): ArrangeProblem => ({
      kind: 'too-near',
      level: 'stop',
      where: between.join(', '),
      what:
        distance_mm < 0
          ? `${words(between[1])} goes ${(-distance_mm).toFixed(2)} mm past ${words(between[0])}, where ${needed_mm.toFixed(2)} mm to it is needed`
          : `${between.map(words).join(' and ')} are ${distance_mm.toFixed(2)} mm apart where ${needed_mm.toFixed(2)} mm is needed`,
      remedy: 'move one of them, or let it go and have it placed anew',
    }),
  ),
]

export const isShort = ({ distance_mm, needed_mm, byStem }: Clearance): boolean =>
  byStem !== true && distance_mm < needed_mm

/** Sprues nearer one another than a gap, though more than a gap outside the main sprue: thin plaster between them. */
const judgeByStem = (
  clearances: readonly Clearance[],
  { rules }: ArrangeRequest,
  words: (place: string) => string,
): ArrangeProblem[] => {
  const [tightest, ...more] = clearances.filter(({ byStem }) => byStem === true)
  if (tightest === undefined) return []
  const { between, distance_mm, needed_mm } = tightest
  const others = more.length === 0 ? '' : `; and ${more.length} more such pair${more.length > 1 ? 's' : ''}`
  return [
    {
      kind: 'sprues-run-together',
      level: 'note',
      where: between.join(', '),
      what: `By the main sprue, from ${rules.gap_mm.toFixed(1)} mm outside it on, ${between.map(words).join(' and ')} are ${distance_mm.toFixed(2)} mm apart${others}, and the plaster between them is thin; ${needed_mm.toFixed(1)} mm is asked from ${(GAPS * rules.gap_mm).toFixed(1)} mm outside it on, as sprues run together there`,
      remedy: 'work investment well in between them, or turn one of the waxes about the axis',
    },
  ]
}
