import { GAPS } from './bores.ts'
import { judgeBubbles } from './bubbles.ts'
import { isAsked, isOnlyTold } from './dimensions.ts'
import { canGrow, isTaken } from './grow.ts'
import { HAND } from './hand.ts'
import { hubOf } from './hub.ts'
import type { Kind } from './kind.ts'
import { judgePace } from './pace.ts'
import { numbersWords, placeNames } from './place-words.ts'
import { areSound, judgePlaced, type Standing } from './placed.ts'
import type { ArrangeProblem, ArrangeRequest, Clearance, RackFlask, Sprue, ThickSection } from './request.ts'
import type { Room } from './room.ts'
import { spruesOn } from './search.ts'
import { judgeJoints, judgeSections } from './sections.ts'

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
 */
export const judgeStanding = (
  request: ArrangeRequest,
  room: Room,
  kinds: readonly Kind[],
  standing: readonly Standing[],
  sprues: readonly Sprue[],
  stemEnd: number,
  sections: readonly ThickSection[],
  clearances: readonly Clearance[],
): ArrangeProblem[] => [
  ...judgeFlask(request, room),
  ...judgeReduced(kinds),
  ...judgeThickWithThin(kinds),
  ...judgeReach(standing, stemEnd, request),
  ...judgeSections(standing, sections),
  ...judgeJoints(standing, sections),
  ...judgeBubbles(standing),
  ...standing.flatMap((one, index) =>
    judgePlaced(
      one,
      room,
      request.stem_mm,
      standing.slice(0, index).reduce((sum, { feeds }) => sum + feeds.length, 0),
    ),
  ),
  ...judgeByStem(clearances, request, standing),
  ...judgeFillets(sprues),
  ...judgeHub(sprues, request, room, stemEnd),
  ...judgePace(standing, sprues, sections, request),
  ...judgeShort(clearances.filter(isShort), standing, placeNames(request.pieces)),
]

/** A flask that was chosen, or is all there is, and that the casting machine does not take. */
const judgeFlask = (request: ArrangeRequest, { flask }: Room): ArrangeProblem[] =>
  isTaken(request, flask)
    ? []
    : [
        {
          kind: 'flask-beyond-machine',
          level: 'check',
          where: '/pour/flask',
          what: `This flask, ${flask.diameter_mm.toFixed(1)} × ${flask.height_mm.toFixed(1)} mm inside, is larger than the casting machine takes: a tree built for it can’t be spun there`,
          remedy: 'choose a flask that the machine takes, or another machine, before you build this tree',
        },
      ]

/** By how much the tightest of the distances that are asked is more than it must be, mm. */
export const leastSpare = (clearances: readonly Clearance[]): number =>
  Math.min(...clearances.filter(isAsked).map((one) => one.distance_mm - one.needed_mm), Infinity)

/**
 * Distances kept, but by less than a hand sets a wax: the tree as it is built may well break them.
 * @param roomier  the smallest flask found in which a hand has room
 */
export const judgeTight = (
  request: ArrangeRequest,
  room: Room,
  clearances: readonly Clearance[],
  roomier?: RackFlask,
): ArrangeProblem[] => {
  const words = placeNames(request.pieces)
  const tight = clearances.filter((one) => isAsked(one) && !isShort(one) && isTight(one))
  const [first] = tight
  if (first === undefined) return []
  const { between, distance_mm, needed_mm } = first
  const ruler = 'build it with a ruler at each of these and measure them again before the flask goes on'
  return [
    {
      kind: 'no-room-for-the-hand',
      level: 'check',
      where: between.join(', '),
      what: `${tight.length === 1 ? 'One distance is' : `${tight.length} distances are`} kept by less than ${HAND.toFixed(1)} mm, about as near as a hand sets a wax: from ${words(between[1])} to ${words(between[0])} there is ${distance_mm.toFixed(2)} mm where ${needed_mm.toFixed(2)} mm is needed`,
      remedy:
        roomier === undefined
          ? `${ruler}; or ${canGrow(request, room.flask) ? 'take a larger flask, or pour ' : 'pour '}fewer waxes in it`
          : `take the flask of ${roomier.diameter_mm.toFixed(1)} × ${roomier.height_mm.toFixed(1)} mm, which has room for the hand; or ${ruler}`,
    },
  ]
}

const isTight = ({ distance_mm, needed_mm }: Clearance): boolean => distance_mm - needed_mm < HAND

/** A fillet under this is none that a hand could build, mm. */
const LEAST_FILLET = 0.2

const judgeFillets = (sprues: readonly Sprue[]): ArrangeProblem[] => {
  const bare = sprues.flatMap(({ fillet_mm }, index) => (fillet_mm < LEAST_FILLET ? [index + 1] : []))
  if (bare.length === 0) return []
  return [
    {
      kind: 'no-room-for-a-fillet',
      level: 'note',
      where: '/pour/tree/sprues',
      what: `${bare.length === 1 ? 'Sprue' : 'Sprues'} ${numbersWords(bare)} ${bare.length === 1 ? 'has' : 'have'} no room for a fillet where ${bare.length === 1 ? 'it joins its wax: what' : 'they join their waxes: what'} is near stands too near for one to be built up`,
      remedy:
        'fill what overhangs and melt the joint in cleanly all round, with no crack, and build nothing out beyond the sprue’s own width',
    },
  ]
}

/** A lump is told from here on, and is something to look at where it stays liquid so many times as long as the main sprue. */
const LUMP = 1.5
const HEAVY_LUMP = 3

/** Sprues that meet the main sprue at one height run together into a lump that freezes after it, fed by nothing. */
const judgeHub = (
  sprues: readonly Sprue[],
  { stem_mm }: ArrangeRequest,
  room: Room,
  stemEnd: number,
): ArrangeProblem[] => {
  const hub = hubOf(sprues, stem_mm, room.cone, stemEnd)
  if (hub === undefined || hub.outlasts < LUMP) return []
  const heavy = hub.outlasts >= HEAVY_LUMP
  return [
    {
      kind: 'sprues-meet-in-a-lump',
      level: heavy ? 'check' : 'note',
      where: '/pour/tree/sprues',
      what: `Sprues ${numbersWords(hub.sprues)} meet the main sprue at about one height, ${(hub.at_mm - room.cone).toFixed(1)} mm above the base’s cone: by volume over cooled area, ${hub.modulus_mm.toFixed(2)} mm, that lump stays liquid about ${hub.outlasts.toFixed(1)} times as long as the main sprue, ${stem_mm.toFixed(1)} mm across. Nothing feeds it then, and it pits${heavy ? '; so heavy a lump heats the plaster between the sprues, which is thin there, and may draw on a sprue that is still liquid' : ', in metal that is cut off: while each sprue outlasts its wax none of that reaches the waxes'}`,
      remedy: heavy
        ? 'let some of them meet the main sprue higher or lower, or take a thicker main sprue'
        : 'where you can, let them meet the main sprue at different heights, which makes less of a lump',
    },
  ]
}

/** The waxes of sprues by their numbers: a sprue stands where its wax does. */
const ownersOf = (standing: readonly Standing[]): ((place: string) => string) => {
  const owners = standing.flatMap(({ kind, copy, feeds }) => feeds.map(() => `${kind.piece.id}/${copy}`))
  return (place) =>
    place.startsWith('sprue/') ? (owners[Number(place.slice('sprue/'.length)) - 1] ?? place) : place
}

/** Distances that are too short, said once for two waxes with their sprues, or for one and the flask: the tightest of them. */
const judgeShort = (
  short: readonly Clearance[],
  standing: readonly Standing[],
  words: (place: string) => string,
): ArrangeProblem[] => {
  const ownerOf = ownersOf(standing)
  const groups = new Map<string, Clearance[]>()
  for (const one of short) {
    const key = one.between.map(ownerOf).sort().join(', ')
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()].flatMap(([tightest, ...more]): ArrangeProblem[] => {
    if (tightest === undefined) return []
    const { between, distance_mm, needed_mm } = tightest
    const others =
      more.length === 0
        ? ''
        : `, and ${more.length} more distance${more.length > 1 ? 's' : ''} between the same, sprues with them, ${more.length > 1 ? 'are' : 'is'} too short`
    return [
      {
        kind: 'too-near',
        level: 'stop',
        where: between.join(', '),
        what:
          distance_mm < 0
            ? `${words(between[1])} goes ${(-distance_mm).toFixed(2)} mm past ${words(between[0])}, where ${needed_mm.toFixed(2)} mm to it is needed${others}`
            : `${between.map(words).join(' and ')} ${nearWords(tightest)} where ${needed_mm.toFixed(2)} mm is needed${others}`,
        remedy: 'move one of them, or let it go and have it placed anew',
      },
    ]
  })
}

/** Nearer than this, in mm, two things are told as one. */
const MEET = 0.005

export const isShort = (one: Clearance): boolean => !isOnlyTold(one) && one.distance_mm < one.needed_mm

/** How near two sprues come, as a sentence about them goes on. */
const nearWords = ({ distance_mm }: Clearance): string =>
  distance_mm > MEET ? `are ${distance_mm.toFixed(2)} mm apart` : 'run into one another'

const andMore = ({ length }: readonly unknown[]): string =>
  length === 0 ? '' : `; and ${length} more such pair${length > 1 ? 's' : ''}`

/**
 * Sprues nearer one another than a gap where that stops nothing: thin plaster between them, or none. By the main
 * sprue any two may be; two of one wax may be anywhere.
 */
const judgeByStem = (
  clearances: readonly Clearance[],
  { rules, pieces }: ArrangeRequest,
  standing: readonly Standing[],
): ArrangeProblem[] => {
  const words = placeNames(pieces)
  const [tightest, ...more] = clearances.filter(({ byStem }) => byStem === true)
  const [closest, ...others] = clearances.filter(({ oneWax }) => oneWax === true)
  const found: ArrangeProblem[] = []
  if (tightest !== undefined)
    found.push({
      kind: 'sprues-run-together',
      level: 'note',
      where: tightest.between.join(', '),
      what: `By the main sprue, from ${rules.gap_mm.toFixed(1)} mm outside it on, ${tightest.between.map(words).join(' and ')} ${nearWords(tightest)}${andMore(more)}, and the plaster between them is thin; ${tightest.needed_mm.toFixed(1)} mm is asked from ${(GAPS * rules.gap_mm).toFixed(1)} mm outside it on, as sprues run together there`,
      remedy:
        'where the gap is under 1 mm fill it with wax, as so thin a wall of plaster breaks off into the metal; work investment well into the rest, or turn one of the waxes about the axis',
    })
  if (closest !== undefined) {
    const meet = closest.distance_mm <= MEET
    found.push({
      kind: meet ? 'sprues-of-one-wax-meet' : 'sprues-of-one-wax-near',
      level: meet ? 'check' : 'note',
      where: closest.between.join(', '),
      what: `${closest.between.map(words).join(' and ')}, both on ${words(ownersOf(standing)(closest.between[0]))}, ${nearWords(closest)}${andMore(others)}: ${meet ? 'the corner of plaster between them washes into the metal, and they feed as one' : 'the plaster between them is thin and may break off into the metal'}`,
      remedy: meet
        ? 'let them join the wax farther apart, let one meet the main sprue lower, or take one off'
        : 'let them join the wax farther apart, or work investment well in between them',
    })
  }
  return found
}
