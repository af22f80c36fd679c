import type { Placed, Tree } from './clears.ts'
import { findFeeds } from './feeds.ts'
import type { Kind } from './kind.ts'
import { beginSearch, emptyTree, innerOf, placeNext } from './place.ts'
import { placedFeeds, steepest } from './placed.ts'
import type { ArrangeRequest, RackFlask } from './request.ts'
import { type Room, roomIn } from './room.ts'
import { type Found, fill, type Ready, seatsOf, spruesOn, TASTES, type Task } from './search.ts'
import { move, undoing } from './vectors.ts'

/** What a wax by itself may spend, and the quick search of all, in places tried. */
const ALONE = 20_000
export const QUICK = 400_000

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

/** Whether one copy finds a place in an empty flask, with one sprue at least. */
export const fitsAlone = (request: ArrangeRequest, flask: RackFlask, ready: Ready): boolean => {
  const room = roomIn(request, flask)
  const { kind } = ready
  const one = { ...ready, kind: { ...kind, piece: { ...kind.piece, copies: 1 } } }
  return (
    inRoom([one.kind], room) &&
    tryAlone(request, room, [one], seatsOf(request, room, [one], false)).none.length === 0
  )
}

export interface Try {
  readonly room: Room
  /** undefined where the search was not begun, as the room is too small for all or one of them */
  readonly task: Task | undefined
  readonly found: Found | undefined
  readonly tooLarge: readonly Kind[]
  readonly fewer: ReadonlySet<Kind>
}

export const treeOf = ({ found }: Try): Tree | undefined =>
  found?.left.length === 0 ? found.tree : undefined

/**
 * The quick search of one flask.
 * @param single  with one sprue on each wax, for want of room for more
 * @param work  what it may spend, in places tried
 */
export const tryFlask = (
  request: ArrangeRequest,
  flask: RackFlask,
  readies: readonly Ready[],
  { single = false, work = QUICK } = {},
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
  return { room, task, found: fill(task, { left: work }), tooLarge: [], fewer }
}

/** The caster's own places, kept as they are whatever they break; what they break is measured and judged after. */
export const placeLocked = (request: ArrangeRequest, room: Room, readies: readonly Ready[]): Tree => {
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

export const firstThat = <T, R>(list: readonly T[], find: (one: T) => R | undefined): R | undefined => {
  for (const one of list) {
    const found = find(one)
    if (found !== undefined) return found
  }
  return undefined
}
