import type { Placed, Tree } from './clears.ts'
import { closestAlone, closestOf } from './closest.ts'
import { cornersOf, isOfStem, measureTree, sprueReach, withoutPoints } from './dimensions.ts'
import { findFeeds } from './feeds.ts'
import { fillet } from './fillets.ts'
import { isShort, judgeReduced, judgeStanding, thickest } from './judge.ts'
import { type Kind, prepareKind } from './kind.ts'
import { beginSearch, emptyTree, innerOf, placeNext } from './place.ts'
import { placedFeeds, steepest } from './placed.ts'
import { posesOf } from './poses.ts'
import { middleOf } from './reasons.ts'
import type { Arrangement, ArrangeProblem, ArrangeRequest, Closest, RackFlask, Sprue } from './request.ts'
import { type Room, roomIn } from './room.ts'
import {
  type Found,
  fill,
  improve,
  type Ready,
  seatsOf,
  spruesOn,
  TASTES,
  type Task,
  type Wanted,
} from './search.ts'
import { sectionsOf } from './sections.ts'
import { spread } from './spread.ts'
import { sprueOf } from './sprue-of.ts'
import { adviseTaper } from './tapers.ts'
import { move, strain, undoing } from './vectors.ts'

/** What each search may spend, in places tried; the longer one for each wax, up to so many in all. */
const ALONE = 20_000
const QUICK = 400_000
const LONG = 15_000
const LONGEST = 400_000
/** Triangles up to which a place costs about the same to try; above, the longer search tries fewer. */
const PLAIN = 5000

const volumeOfRack = (flask: RackFlask): number => flask.diameter_mm ** 2 * flask.height_mm

/** Kinds that find no place in an empty flask; and those that find one only with a single sprue. */
const tryAlone = (
  request: ArrangeRequest,
  room: Room,
  readies: readonly Ready[],
  seats: Task['seats'],
): { readonly none: readonly Kind[]; readonly fewer: ReadonlySet<Kind> } => {
  const none: Kind[] = []
  const fewer = new Set<Kind>()
  const fits = ({ kind, poses }: Ready, count: number): boolean =>
    TASTES.some(
      (taste) =>
        placeNext(
          request,
          room,
          emptyTree(room),
          kind,
          poses,
          1,
          count,
          taste,
          beginSearch(seats.get(kind) ?? [], taste),
          { left: ALONE },
        ) !== undefined,
    )
  for (const ready of readies) {
    const count = spruesOn(ready.kind)
    if (fits(ready, count)) continue
    if (count > 1 && fits(ready, 1)) fewer.add(ready.kind)
    else none.push(ready.kind)
  }
  return { none, fewer }
}

const inRoom = (kinds: readonly Kind[], room: Room): boolean => {
  const metal = kinds.reduce((sum, kind) => sum + kind.piece.copies * kind.volume_mm3, 0)
  return room.reach > 0 && metal < Math.PI * room.reach ** 2 * Math.max(0, room.top - room.bottom)
}

const firstThat = <T, R>(list: readonly T[], find: (one: T) => R | undefined): R | undefined => {
  for (const one of list) {
    const found = find(one)
    if (found !== undefined) return found
  }
  return undefined
}

interface Try {
  readonly room: Room
  /** undefined where the search was not begun, as the room is too small for all or one of them */
  readonly task: Task | undefined
  readonly found: Found | undefined
  readonly tooLarge: readonly Kind[]
  readonly fewer: ReadonlySet<Kind>
}

const treeOf = ({ found }: Try): Tree | undefined => (found?.left.length === 0 ? found.tree : undefined)

/** The quick search of one flask. @param single  with one sprue on each wax, for want of room for more */
const tryFlask = (
  request: ArrangeRequest,
  flask: RackFlask,
  readies: readonly Ready[],
  single = false,
): Try => {
  const room = roomIn(request, flask)
  const none = { room, task: undefined, found: undefined, tooLarge: [], fewer: new Set<Kind>() }
  if (
    !inRoom(
      readies.map(({ kind }) => kind),
      room,
    )
  )
    return none
  const start = placeLocked(request, room, readies)
  const free = readies.filter(({ kind }) => kind.piece.locked.size < kind.piece.copies)
  const seats = seatsOf(request, room, free, false)
  const { none: tooLarge, fewer: alone } = tryAlone(request, room, free, seats)
  const fewer = single ? new Set(free.map(({ kind }) => kind).filter((kind) => spruesOn(kind) > 1)) : alone
  if (tooLarge.length > 0) return { ...none, tooLarge, fewer }
  const wanted = free
    .flatMap((ready) =>
      Array.from({ length: ready.kind.piece.copies }, (_, index) => ({ ready, copy: index + 1 })).filter(
        ({ copy }) => !ready.kind.piece.locked.has(copy),
      ),
    )
    .sort((a, b) => b.ready.kind.radius - a.ready.kind.radius)
  const task: Task = { request, room, start, wanted, fewer, seats }
  return { room, task, found: fill(task, { left: QUICK }), tooLarge: [], fewer }
}

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

/** The caster's own places, kept as they are whatever they break; what they break is measured and judged after. */
const placeLocked = (request: ArrangeRequest, room: Room, readies: readonly Ready[]): Tree => {
  let tree = emptyTree(room)
  for (const { kind } of readies)
    for (const [copy, motion] of kind.piece.locked) {
      const end = { end: tree.stemEnd, ended: false }
      const byHand = placedFeeds(kind, copy, motion, room, end)
      const feeds =
        byHand.length > 0
          ? byHand
          : (findFeeds(request, kind, motion, room, spruesOn(kind), [], end) ??
            findFeeds(request, kind, motion, room, 1, [], end) ??
            steepest(kind, motion, room))
      const one: Placed = {
        kind,
        copy,
        motion,
        back: undoing(motion),
        centre: move(motion, kind.centre),
        inner: innerOf(kind, motion),
        feeds,
        locked: true,
        onEnd: false,
      }
      tree = {
        placed: [...tree.placed, one],
        stemEnd: Math.max(tree.stemEnd, ...feeds.map((feed) => feed.axisZ)),
        ended: false,
      }
    }
  return tree
}

/** By how much locked waxes and their sprues break the clearances to a flask's wall and top at worst, mm. */
const lockedShort = (request: ArrangeRequest, room: Room, readies: readonly Ready[]): number => {
  const tree = placeLocked(request, room, readies)
  const reaches = [
    ...tree.placed
      .map(cornersOf)
      .map(({ out, high }) => ({ out: Math.hypot(out[0], out[1]), high: high[2] })),
    ...spruesOf(request, tree).map(sprueReach),
  ]
  return Math.max(0, ...reaches.flatMap(({ out, high }) => [out - room.reach, high - room.top]))
}

/**
 * The flasks that hold the locked waxes where they stand; where none does, the one they break least, and by how
 * much. A larger flask mends neither what they break of the base nor of the main sprue, so that is not asked here.
 */
const holding = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
): { readonly flasks: readonly RackFlask[]; readonly short_mm: number } => {
  if (readies.every(({ kind }) => kind.piece.locked.size === 0)) return { flasks: rack, short_mm: 0 }
  const each = rack.map((flask) => ({
    flask,
    short_mm: lockedShort(request, roomIn(request, flask), readies),
  }))
  const short_mm = Math.min(...each.map((one) => one.short_mm))
  return { flasks: each.filter((one) => one.short_mm <= short_mm).map(({ flask }) => flask), short_mm }
}

/** Sprues as they are to be built, in the order of their waxes. */
const spruesOf = (request: ArrangeRequest, tree: Tree): Sprue[] =>
  tree.placed.flatMap((one) =>
    one.feeds.map((feed) => sprueOf(request, one.kind, one, feed, one.feeds.length, tree.stemEnd)),
  )

/** The arrangement measured: every clearance from the true surfaces. */
const measured = (
  request: ArrangeRequest,
  room: Room,
  found: Tree,
  kinds: readonly Kind[],
  problems: readonly ArrangeProblem[],
): Arrangement => {
  // numbered by piece and copy, however the search came to them, so that a kept arrangement numbers them alike
  const placed = [...found.placed].sort(
    (a, b) => kinds.indexOf(a.kind) - kinds.indexOf(b.kind) || a.copy - b.copy,
  )
  const tree = { ...found, placed }
  const bare = adviseTaper(spruesOf(request, tree), request.stem_mm)
  const sections = sectionsOf(request, kinds)
  const sprues = fillet(request, room, tree.placed, bare, tree.stemEnd)
  const all = measureTree(request, room, tree.placed, sprues, tree.stemEnd).map(withoutPoints)
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
      ...judgeStanding(request, room, kinds, tree.placed, tree.stemEnd, sections, all, (place) => place),
    ],
  }
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

const sizeWords = ({ diameter_mm, height_mm }: RackFlask): string =>
  `${diameter_mm.toFixed(1)} × ${height_mm.toFixed(1)} mm`

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
      if (!(strain(motion) < 1e-6) || copy < 1 || copy > piece.copies)
        return nothing([
          {
            kind: 'locked-not-rigid',
            level: 'stop',
            where: `${piece.id}/${copy}`,
            what: `The place given for copy ${copy} of ${piece.name} is no plain turn and shift of one of its copies: it would stretch or mirror the piece, or there is no such copy`,
            remedy: 'give a 4 × 4 matrix whose turn keeps lengths and angles',
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
          what: `No place was found on ${kind.piece.name} where a straight sprue ${kind.piece.sprue.diameter_mm} mm across can leave it without passing through it or close by it`,
          remedy: 'clear some of the faces kept free, or ask for a thinner sprue',
        },
      ])
  }
  const sorted = [...request.flasks].sort(
    (a, b) => volumeOfRack(a) - volumeOfRack(b) || a.diameter_mm - b.diameter_mm,
  )
  const { flasks: rack, short_mm } = holding(request, sorted, readies)
  if (short_mm > 0 && sorted.length > 1)
    notes.push({
      kind: 'locked-in-no-flask',
      level: 'stop',
      where: '/pour/tree/locked',
      what: `No flask of the rack holds the locked waxes where they stand: the one that lacks least, ${sizeWords(rack[0] ?? { id: '', diameter_mm: 0, height_mm: 0 })}, lacks ${short_mm.toFixed(1)} mm`,
      remedy: 'move the locked waxes inward or down, let them go, or add a larger flask',
    })
  const tries: Try[] = []
  // a larger flask in which every wax gets the sprues it wants goes before a smaller one in which it does not
  let won: Try | undefined
  let starved: { readonly one: Try; readonly smaller: readonly Try[] } | undefined
  for (const flask of rack) {
    const one = tryFlask(request, flask, readies)
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
      const one = tryFlask(request, flask, readies, true)
      return treeOf(one) === undefined ? undefined : one
    })
  const tree = won && treeOf(won)
  if (won !== undefined && tree !== undefined) {
    return measured(request, won.room, spread(request, won.room, tree), kinds, notes)
  }
  const closest = closestTry(request, readies, tries)
  return {
    ...nothing([
      ...judgeReduced(kinds),
      ...whyNothingFits(request, rack, readies, tries, closest),
      ...heldByHand(request),
    ]),
    ...(closest && { closest }),
  }
}

/** The largest flask's attempt, or another's that left fewer waxes over. */
const closestTry = (
  request: ArrangeRequest,
  readies: readonly Ready[],
  tries: readonly Try[],
): Closest | undefined => {
  const last = tries[tries.length - 1]
  if (last === undefined) return undefined
  const large = readies.find(({ kind }) => last.tooLarge.includes(kind))
  if (large !== undefined) return closestAlone(request, last.room, large)
  const [best] = tries
    .filter(({ found }) => found !== undefined)
    .sort(
      (a, b) =>
        (a.found?.left.length ?? 0) - (b.found?.left.length ?? 0) || tries.indexOf(b) - tries.indexOf(a),
    )
  return best?.task && best.found && closestOf(best.task, best.found)
}

const howNear = (closest: Closest | undefined): string => {
  if (closest?.next == null) return ''
  const { placements, left, next } = closest
  const name = `${next.placement.piece}/${next.placement.copy}`
  const by = `${next.short_mm.toFixed(1)} mm`
  if (next.against === 'wall' || next.against === 'top')
    return `; at its best ${name} comes ${by} too near the ${next.against}`
  return `; ${placements.length} of ${placements.length + left.length} found a place, and the next, ${name}, comes ${by} too near ${next.against}`
}

/** Sprues placed by hand on copies that are free: they may be why no place was found. */
const heldByHand = ({ pieces }: ArrangeRequest): ArrangeProblem[] =>
  pieces.flatMap((piece) =>
    [...(piece.placed ?? [])]
      .filter(([copy, sprues]) => sprues.length > 0 && !piece.locked.has(copy))
      .map(
        ([copy]): ArrangeProblem => ({
          kind: 'placed-out-of-reach',
          level: 'check',
          where: `${piece.id}/${copy}`,
          what: `${piece.name} ${copy} was only tried with the sprues placed on it by hand`,
          remedy: 'let those sprues go, or lock the piece where they are to reach it',
        }),
      ),
  )

const whyNothingFits = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
  tries: readonly Try[],
  closest: Closest | undefined,
): ArrangeProblem[] => {
  const largest = rack[rack.length - 1]
  if (largest === undefined)
    return [
      {
        kind: 'no-flask',
        level: 'stop',
        where: '/shop/flasks',
        what: 'The rack has no flask that may be taken',
        remedy: 'mark the flasks you own under Shop',
      },
    ]
  const tooLarge = tries[tries.length - 1]?.tooLarge ?? []
  const grown = growUntilFit(request, largest, readies)
  const by =
    grown === undefined
      ? 'even one half as large again would not do'
      : `it fits in one of ${sizeWords(grown)}, ${(grown.diameter_mm - largest.diameter_mm).toFixed(1)} mm wider and ${(grown.height_mm - largest.height_mm).toFixed(1)} mm higher`
  if (tooLarge.length > 0)
    return [
      {
        kind: 'too-large',
        level: 'stop',
        where: tooLarge.map((kind) => kind.piece.id).join(', '),
        what: `${tooLarge.map((kind) => kind.piece.name).join(', ')} by itself does not fit the largest flask, ${sizeWords(largest)}: ${by}${howNear(closest)}`,
        remedy: 'add a larger flask, make the piece smaller, or cast it in parts and join them',
      },
    ]
  return [
    {
      kind: 'nothing-fits',
      level: 'stop',
      where: '/shop/flasks',
      what: `No way was found to place all the pieces in the largest flask, ${sizeWords(largest)}: ${by}${howNear(closest)}`,
      remedy:
        twoFlasks(request, rack, readies) ?? 'pour the pieces in three flasks or more, or add a larger flask',
    },
  ]
}

const GROWTH = [1.05, 1.1, 1.2, 1.35, 1.5]

/** The largest flask made wider, higher or both until the pieces fit; the least growth found. */
const growUntilFit = (
  request: ArrangeRequest,
  largest: RackFlask,
  readies: readonly Ready[],
): RackFlask | undefined => {
  for (const by of GROWTH)
    for (const [wide, high] of [
      [by, 1],
      [1, by],
      [by, by],
    ] as const) {
      const flask = {
        id: largest.id,
        diameter_mm: largest.diameter_mm * wide,
        height_mm: largest.height_mm * high,
      }
      if (treeOf(tryFlask(request, flask, readies)) !== undefined) return flask
    }
  return undefined
}

/** Whether two flasks would do, heavy waxes in one and light ones in the other: each then gets its own heat. */
const twoFlasks = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
): string | undefined => {
  const byThickness = [...readies].sort((a, b) => thickest(b.kind) - thickest(a.kind))
  const each = byThickness.flatMap(({ kind, poses }) =>
    Array.from({ length: kind.piece.copies }, () => ({ kind, poses })),
  )
  const half = Math.ceil(each.length / 2)
  const parts = [each.slice(0, half), each.slice(half)].map((part) => {
    const counts = new Map<Ready, number>()
    for (const ready of byThickness) counts.set(ready, part.filter((one) => one.kind === ready.kind).length)
    return [...counts].flatMap(([ready, copies]) =>
      copies === 0
        ? []
        : [{ ...ready, kind: { ...ready.kind, piece: { ...ready.kind.piece, copies, locked: new Map() } } }],
    )
  })
  const flasks = parts.map((part) =>
    rack.find((flask) => treeOf(tryFlask(request, flask, part)) !== undefined),
  )
  const [first, second] = flasks
  if (first === undefined || second === undefined) return undefined
  const names = (part: readonly Ready[] | undefined): string =>
    (part ?? []).map(({ kind }) => `${kind.piece.copies} × ${kind.piece.name}`).join(', ')
  return `pour in two flasks, the thicker waxes apart from the thinner: ${names(parts[0])} in ${sizeWords(first)}, ${names(parts[1])} in ${sizeWords(second)}`
}
