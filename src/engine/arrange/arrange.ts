import type { Tree } from './clears.ts'
import { cornersOf, isOfStem, measureTree, sprueReach, withoutPoints } from './dimensions.ts'
import { ease } from './ease.ts'
import { fillet } from './fillets.ts'
import { canGrow, isTaken } from './grow.ts'
import { HAND } from './hand.ts'
import { isShort, judgeReduced, judgeStanding, judgeTight, leastSpare } from './judge.ts'
import { type Kind, prepareKind } from './kind.ts'
import { posesOf } from './poses.ts'
import { middleOf } from './reasons.ts'
import type { Arrangement, ArrangeProblem, ArrangeRequest, Clearance, RackFlask, Sprue } from './request.ts'
import { type Room, roomIn } from './room.ts'
import { improve, type Ready, spruesOn, type Wanted } from './search.ts'
import { sectionsOf } from './sections.ts'
import { spread } from './spread.ts'
import { sprueOf } from './sprue-of.ts'
import { adviseTaper } from './tapers.ts'
import { firstThat, placeLocked, QUICK, type Try, treeOf, tryFlask } from './try-flask.ts'
import { strain } from './vectors.ts'
import { sizeWords, whyNothingFits } from './why-nothing-fits.ts'

/** What the longer search may spend for each wax, in places tried, up to so many in all. */
const LONG = 15_000
const LONGEST = 400_000
/** What the quick search of a flask may spend for each wax, in places tried, where there is a larger flask to try after it. */
const EACH = 15_000
/** Triangles up to which a place costs about the same to try; above, the longer search tries fewer. */
const PLAIN = 5000

/** How far a matrix may be from a plain turn: the most that any of its columns' lengths or angles is off. */
const RIGID = 1e-6

const volumeOfRack = (flask: RackFlask): number => flask.diameter_mm ** 2 * flask.height_mm

const trianglesOf = ({ ready }: Wanted): number => ready.kind.outside.order.length

const worthOn = (left: number, all: number): boolean => left <= Math.min(0.5 * all, Math.max(2, 0.25 * all))

/**
 * Searches the flasks smaller than the one found longer, largest first, as long as each holds them: a flask in
 * which many waxes were left over is not begun.
 */
const searchSmaller = (request: ArrangeRequest, tries: readonly Try[]): Try | undefined => {
  let best: Try | undefined
  let misses = 0
  const fine = Math.max(...tries.flatMap(({ task }) => task?.wanted ?? []).map(trianglesOf), PLAIN)
  const waxes = Math.max(...tries.map(({ task }) => task?.wanted.length ?? 0))
  const work = {
    left: (Math.min(LONG * waxes, LONGEST) * (request.effort ?? 1) * PLAIN) / fine,
  }
  for (const one of [...tries].reverse()) {
    const { task, found } = one
    if (task === undefined || found === undefined) continue
    if (!worthOn(found.left.length, task.wanted.length)) continue
    const share = { left: work.left / 2 }
    const before = share.left
    const better = improve(task, found, share)
    work.left -= before - share.left
    const done = { ...one, found: better }
    if (treeOf(done) !== undefined) {
      best = done
      misses = 0
    } else {
      misses += 1
      if (misses > 1) break
    }
  }
  return best
}

interface Short {
  readonly short_mm: number
  /** it is a sprue that lacks most, not a wax */
  readonly bySprue: boolean
}

/** By how much locked waxes and their sprues break the clearances to a flask's wall and top at worst, mm. */
const lockedShort = (request: ArrangeRequest, room: Room, readies: readonly Ready[]): Short => {
  const tree = placeLocked(request, room, readies)
  const short = (reaches: readonly { readonly out: number; readonly high: number }[]): number =>
    Math.max(0, ...reaches.flatMap(({ out, high }) => [out - room.reach, high - room.top]))
  const waxes = short(
    tree.placed.map(cornersOf).map(({ out, high }) => ({ out: Math.hypot(out[0], out[1]), high: high[2] })),
  )
  const sprues = short([
    ...spruesOf(request, tree).map(sprueReach),
    { out: 0, high: tree.stemEnd + request.stem_mm / 2 },
  ])
  return { short_mm: Math.max(waxes, sprues), bySprue: sprues > waxes }
}

/**
 * The flasks that hold the locked waxes where they stand; where none does, the one they break least, and by how
 * much. A larger flask mends neither what they break of the base nor of the main sprue, so that is not asked here.
 */
const holding = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
): { readonly flasks: readonly RackFlask[] } & Short => {
  if (readies.every(({ kind }) => kind.piece.locked.size === 0))
    return { flasks: rack, short_mm: 0, bySprue: false }
  const each = rack.map((flask) => ({
    flask,
    ...lockedShort(request, roomIn(request, flask), readies),
  }))
  const short_mm = Math.min(...each.map((one) => one.short_mm))
  const least = each.filter((one) => one.short_mm <= short_mm)
  return {
    flasks: least.map(({ flask }) => flask),
    short_mm,
    bySprue: least.every(({ bySprue }) => bySprue),
  }
}

/** Sprues as they are to be built, in the order of their waxes. */
const spruesOf = (request: ArrangeRequest, tree: Tree): Sprue[] =>
  tree.placed.flatMap((one) =>
    one.feeds.map((feed) => sprueOf(request, one.kind, one, feed, one.feeds.length, tree.stemEnd)),
  )

/** A tree with its sprues, and every clearance from the true surfaces, tightest first. */
interface Measured {
  readonly tree: Tree
  readonly sprues: readonly Sprue[]
  readonly all: readonly Clearance[]
}

const measure = (request: ArrangeRequest, room: Room, found: Tree, kinds: readonly Kind[]): Measured => {
  // numbered by piece and copy, however the search came to them, so that a kept arrangement numbers them alike
  const placed = [...found.placed].sort(
    (a, b) => kinds.indexOf(a.kind) - kinds.indexOf(b.kind) || a.copy - b.copy,
  )
  const tree = { ...found, placed }
  const bare = adviseTaper(spruesOf(request, tree), request.stem_mm)
  const sprues = fillet(request, room, tree.placed, bare, tree.stemEnd)
  const all = measureTree(request, room, tree.placed, sprues, tree.stemEnd).map(withoutPoints)
  return { tree, sprues, all }
}

const arranged = (
  request: ArrangeRequest,
  room: Room,
  { tree, sprues, all }: Measured,
  kinds: readonly Kind[],
  problems: readonly ArrangeProblem[],
  roomier: RackFlask | undefined,
): Arrangement => {
  const sections = sectionsOf(request, kinds)
  return {
    fits: !all.some(isShort),
    flask: room.flask,
    placements: tree.placed.map((one) => ({
      piece: one.kind.piece.id,
      copy: one.copy,
      motion: one.motion,
      locked: one.locked,
    })),
    sprues,
    sections,
    stem: {
      from_mm: [0, 0, room.cone],
      to_mm: [0, 0, tree.stemEnd],
      diameter_mm: request.stem_mm,
    },
    clearances: all.filter((one) => !isOfStem(one)),
    stemClearances: all.filter(isOfStem),
    offAxis_mm: middleOf(request, tree.placed, sprues, tree.stemEnd),
    problems: [
      ...problems,
      ...judgeStanding(request, room, kinds, tree.placed, sprues, tree.stemEnd, sections, all),
      ...judgeTight(request, room, all, roomier),
    ],
  }
}

/** What a search that leaves room for the hand may spend in one flask: the waxes have places already. */
const FOR_ROOM = 25_000
/** Room sought beyond every clearance, mm, the most first. */
const ROOMY = [4 * HAND, 2 * HAND]
/** More waxes than this seldom have the most of it, and seeking it takes longer. */
const FEW = 6
/** What may be spent in all on room beyond what a hand asks: so much over how many waxes there are, and no more than on that. */
const FOR_MORE = 100_000
/** Room that a hand does not need is not bought with more sprue than this many times as much. */
const DEARER = 1.2

/** A tree in this flask with every distance kept by so much more, mm. */
const withRoom = (
  request: ArrangeRequest,
  flask: RackFlask,
  readies: readonly Ready[],
  single: boolean,
  more: number,
  work: number,
): Tree | undefined => {
  const { wall_mm, gap_mm, topPerDiameter, topLeast_mm } = request.rules
  const top = Math.max(topLeast_mm, topPerDiameter * flask.diameter_mm) + more
  const rules = {
    wall_mm: wall_mm + more,
    gap_mm: gap_mm + more,
    byStem_mm: gap_mm,
    topPerDiameter: 0,
    topLeast_mm: top,
  }
  const roomy = { ...request, rules }
  const tried = tryFlask(roomy, flask, readies, { single, work })
  const tree = tried.fewer.size > 0 && !single ? undefined : treeOf(tried)
  return tree && spread(roomy, tried.room, tree)
}

/** Sprues and main sprue, mm. */
const sprueLength = ({ sprues, tree }: Measured): number =>
  sprues.reduce((sum, { length_mm }) => sum + length_mm, tree.stemEnd)

/** Larger flasks that are looked at for room: one far larger than the waxes need is no advice. */
const LOOKED_AT = 2

/**
 * What was found, with room for the hand where this flask has it; where it has not, that is told, with the smallest
 * flask of the rack that has.
 * @param larger  flasks that come after this one in the rack
 */
const builtByHand = (
  request: ArrangeRequest,
  { room, fewer }: Try,
  tree: Tree,
  readies: readonly Ready[],
  larger: readonly RackFlask[],
  notes: readonly ArrangeProblem[],
): Arrangement => {
  const kinds = readies.map(({ kind }) => kind)
  const spreadOut = spread(request, room, tree)
  const first = measure(request, room, spreadOut, kinds)
  const spare = leastSpare(first.all)
  // what the caster locked or sprued stays where it is, room or none
  const isFree = kinds.every(
    ({ piece: { locked, placed } }) => locked.size === 0 && (placed?.size ?? 0) === 0,
  )
  const roomyTree = (flask: RackFlask, more = HAND, work = FOR_ROOM): Tree | undefined =>
    isFree ? withRoom(request, flask, readies, fewer.size > 0, more, work) : undefined
  const waxes = tree.placed.length
  const more = firstThat(
    ROOMY.slice(waxes > FEW ? 1 : 0).filter((wanted) => wanted > spare),
    (wanted) => roomyTree(room.flask, wanted, Math.min(FOR_ROOM, FOR_MORE / waxes)),
  )
  const freer = more ?? (spare < HAND ? (roomyTree(room.flask) ?? ease(request, room, spreadOut)) : undefined)
  const second = freer === undefined ? first : measure(request, room, freer, kinds)
  const isWorth = spare < HAND || sprueLength(second) <= DEARER * sprueLength(first)
  const best = leastSpare(second.all) > spare && isWorth ? second : first
  const roomier =
    leastSpare(best.all) < HAND
      ? larger
          .filter((flask) => isTaken(request, flask))
          .slice(0, LOOKED_AT)
          .find((flask) => roomyTree(flask) !== undefined)
      : undefined
  return arranged(request, room, best, kinds, notes, roomier)
}

const nothing = (problems: readonly ArrangeProblem[]): Arrangement => ({
  fits: false,
  flask: null,
  placements: [],
  sprues: [],
  sections: [],
  stem: null,
  clearances: [],
  stemClearances: [],
  offAxis_mm: null,
  problems,
})

/**
 * Places every piece in the smallest flask that does, with its sprues, and measures what came of it. The same
 * request gives the same arrangement to the bit. Where nothing fits, the problems say by how much.
 */
export const arrange = (request: ArrangeRequest): Arrangement => {
  const notes: ArrangeProblem[] = []
  const copies = request.pieces.reduce((sum, piece) => sum + piece.copies, 0)
  if (copies === 0)
    return nothing([
      {
        kind: 'no-pieces',
        level: 'stop',
        where: '/pieces',
        what: 'There is no piece to place',
        remedy: 'give a piece with its model, or with its weight and caliper sizes',
      },
    ])
  for (const piece of request.pieces)
    for (const [copy, motion] of piece.locked)
      if (!(strain(motion) < RIGID) || copy < 1 || copy > piece.copies)
        return nothing([
          {
            kind: 'locked-not-rigid',
            level: 'stop',
            where: `${piece.id}/${copy}`,
            what:
              copy < 1 || copy > piece.copies
                ? `A place is given for copy ${copy} of ${piece.name}, of which there are ${piece.copies}`
                : `The place given for copy ${copy} of ${piece.name} is no plain turn and shift: it would stretch or mirror the piece, by ${strain(motion).toPrecision(2)} where ${RIGID} is let pass`,
            remedy:
              'give a 4 × 4 matrix whose turn keeps lengths and angles, with as many digits as it was written with',
          },
        ])
  const readies = request.pieces.map((piece): Ready => {
    const kind = prepareKind(piece)
    return { kind, poses: posesOf(kind, spruesOn(kind)) }
  })
  const kinds = readies.map(({ kind }) => kind)
  for (const { kind, poses } of readies) {
    if (poses.length === 0)
      return nothing([
        ...judgeReduced(kinds),
        {
          kind: 'no-place-for-a-sprue',
          level: 'stop',
          where: kind.piece.id,
          what: `No place was found on ${kind.piece.name} where a straight sprue ${kind.piece.sprue.diameter_mm.toFixed(1)} mm across can leave it without passing through it or close by it`,
          remedy: 'clear some of the faces kept free, or ask for a thinner sprue',
        },
      ])
  }
  const sorted = [...request.flasks].sort(
    (a, b) => volumeOfRack(a) - volumeOfRack(b) || a.diameter_mm - b.diameter_mm,
  )
  const { flasks: rack, short_mm, bySprue } = holding(request, sorted, readies)
  if (short_mm > 0 && sorted.length > 1)
    notes.push({
      kind: 'locked-in-no-flask',
      level: 'stop',
      where: bySprue ? '/pour/tree/sprues' : '/pour/tree/locked',
      what: `No flask of the rack holds ${bySprue ? 'the sprues of the locked waxes' : 'the locked waxes where they stand'}: the one that lacks least, ${sizeWords(rack[0] ?? { id: '', diameter_mm: 0, height_mm: 0 })}, lacks ${short_mm.toFixed(1)} mm`,
      remedy: bySprue
        ? 'let the sprue that reaches highest or farthest out meet the main sprue lower, or join its wax farther in'
        : `move the locked waxes inward or down, or let them go${sorted.some((flask) => !canGrow(request, flask)) ? '' : ', or add a larger flask'}`,
    })
  const tries: Try[] = []
  // a larger flask in which every wax gets the sprues it wants goes before a smaller one in which it does not
  let won: Try | undefined
  let starved: { readonly one: Try; readonly smaller: readonly Try[] } | undefined
  for (const flask of rack) {
    // the last of the rack is looked through whatever it takes: after it nothing is left but to refuse
    const work = flask === rack.at(-1) ? QUICK : Math.min(QUICK, EACH * copies)
    const one = tryFlask(request, flask, readies, { work })
    if (treeOf(one) === undefined) tries.push(one)
    else if (one.fewer.size === 0) {
      won = one
      break
    } else starved ??= { one, smaller: [...tries] }
  }
  won =
    won === undefined && starved !== undefined
      ? (searchSmaller(request, starved.smaller) ?? starved.one)
      : (searchSmaller(
          request,
          tries.filter(({ fewer }) => fewer.size === 0),
        ) ?? won)
  if (won !== undefined && starved !== undefined && won.fewer.size === 0)
    for (const kind of starved.one.fewer)
      notes.push({
        kind: 'smaller-with-fewer',
        level: 'note',
        where: kind.piece.id,
        what: `A flask of ${starved.one.room.flask.diameter_mm} × ${starved.one.room.flask.height_mm} mm would hold everything too, with one sprue on ${kind.piece.name} instead of ${spruesOn(kind)}; feeding goes before size`,
        remedy: 'ask for one sprue on it if you know that it fills and feeds so',
      })
  if (won === undefined && kinds.some((kind) => spruesOn(kind) > 1))
    won = firstThat(rack, (flask) => {
      const one = tryFlask(request, flask, readies, { single: true })
      return treeOf(one) === undefined ? undefined : one
    })
  const tree = won && treeOf(won)
  if (won !== undefined && tree !== undefined) {
    return builtByHand(request, won, tree, readies, rack.slice(rack.indexOf(won.room.flask) + 1), notes)
  }
  const { problem, closest } = whyNothingFits(request, rack, readies, tries)
  return { ...nothing([...judgeReduced(kinds), problem]), ...(closest && { closest }) }
}
