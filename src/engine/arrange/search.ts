import { type Placed, spruesClear, type Tree } from './clears.ts'
import type { Kind } from './kind.ts'
import { beginSearch, placeNext, type Search, sideSeats, type Taste, type Work } from './place.ts'
import type { Pose } from './poses.ts'
import type { ArrangeRequest } from './request.ts'
import type { Room } from './room.ts'
import { minus, sizeOf } from './vectors.ts'

export const TASTES: readonly Taste[] = [
  { height: 1, circle: 0.4, reach: 0.4, onEnd: true },
  { height: 0.4, circle: 1, reach: 0, onEnd: false },
  { height: 1, circle: 0.3, reach: -0.3, onEnd: false },
  { height: 0.3, circle: 0.3, reach: 1, onEnd: true },
]
const MOST_TURNS = 4
const NEARLY = 0.6
const MOST_SPRUES = 3

export interface Ready {
  readonly kind: Kind
  readonly poses: readonly Pose[]
}

export interface Wanted {
  readonly ready: Ready
  readonly copy: number
}

/** How far a search came: the best tree, and the waxes that found no place on it. */
export interface Found {
  readonly tree: Tree
  readonly left: readonly Wanted[]
}

/** What one flask is searched for: the waxes to place, and every seat that its room alone allows. */
export interface Task {
  readonly request: ArrangeRequest
  readonly room: Room
  /** the caster's own places, never moved */
  readonly start: Tree
  readonly wanted: readonly Wanted[]
  /** kinds that get a single sprue, for want of room for more */
  readonly fewer: ReadonlySet<Kind>
  readonly seats: ReadonlyMap<Kind, ReturnType<typeof sideSeats>>
}

/** How many sprues one copy gets: as many as it has thick places, unless the caster says. */
export const spruesOn = (kind: Kind): number =>
  kind.piece.sprue.countAsked
    ? kind.piece.sprue.count
    : Math.min(MOST_SPRUES, Math.max(kind.piece.sprue.count, kind.thickPlaces.length))

/** Seats in coarse steps for the quick search, in fine ones for the long. */
export const seatsOf = (
  request: ArrangeRequest,
  room: Room,
  readies: readonly Ready[],
  fine: boolean,
): Task['seats'] => {
  const [outward, upward] = fine ? ([12, 16] as const) : ([5, 8] as const)
  return new Map(
    readies.map(({ kind, poses }) => [kind, sideSeats(request, kind, poses, room, outward, upward)]),
  )
}

/**
 * Puts waxes on one after the other up to the first that finds no place; with lots, goes on past it.
 * @param most  what each may spend
 */
const placeAll = (
  { request, room, fewer, seats }: Task,
  begin: Tree,
  order: readonly Wanted[],
  tasteOf: (one: Wanted) => Taste,
  work: Work,
  lot?: () => number,
  most = Infinity,
): Found => {
  let tree = begin
  const left: Wanted[] = []
  const searches = new Map<string, Search>()
  for (const [index, one] of order.entries()) {
    const { kind, poses } = one.ready
    const taste = tasteOf(one)
    const key = `${kind.piece.id} ${TASTES.indexOf(taste)}`
    const search = searches.get(key) ?? beginSearch(seats.get(kind) ?? [], taste, lot)
    searches.set(key, search)
    const count = fewer.has(kind) ? 1 : spruesOn(kind)
    const own = { left: Math.min(most, work.left) }
    const given = own.left
    const next = placeNext(request, room, tree, kind, poses, one.copy, count, taste, search, own)
    work.left -= given - own.left
    if (next !== undefined) tree = next
    else if (lot === undefined) return { tree, left: [one, ...left, ...order.slice(index + 1)] }
    else left.push(one)
  }
  return { tree, left }
}

/** What each wax may spend in the first round, in places tried: where one taste finds no place for long, another often has it at once. */
const AT_FIRST = 4000

/** Waxes put on one by one, soon given up at first; one that finds no place goes first in the next turn. */
export const fill = (task: Task, work: Work): Found => {
  const quick = fillBy(task, work, AT_FIRST)
  if (quick.left.length === 0) return quick
  const found = fillBy(task, work, Infinity)
  return found.left.length <= quick.left.length ? found : quick
}

const fillBy = (task: Task, work: Work, most: number): Found => {
  const { wanted, start } = task
  let best: Found = { tree: start, left: wanted }
  for (const taste of TASTES) {
    let order = [...wanted]
    for (let turn = 0; turn < MOST_TURNS && work.left > 0; turn += 1) {
      const found = placeAll(task, start, order, () => taste, work, undefined, most)
      if (found.left.length < best.left.length) best = found
      const [first] = found.left
      if (first === undefined) return found
      // going first again, or far from done: another order of the same taste won't mend it
      if (order[0]?.ready === first.ready || found.left.length > (1 - NEARLY) * wanted.length) break
      order = [first, ...order.filter((one) => one !== first)]
    }
  }
  return best
}

/** A row of numbers that looks drawn by lot and is the same every time. */
const lots = (seed: number): (() => number) => {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

const MOST_TAKEN = 12

const without = (start: Tree, tree: Tree, taken: ReadonlySet<Placed>): Tree => {
  const placed = tree.placed.filter((one) => !taken.has(one))
  return {
    placed,
    stemEnd: Math.max(start.stemEnd, ...placed.flatMap((one) => one.feeds.map((feed) => feed.axisZ))),
    ended: placed.some((one) => one.onEnd),
  }
}

const shuffled = <T>(list: readonly T[], next: () => number): T[] => {
  const mixed = [...list]
  for (let k = mixed.length - 1; k > 0; k -= 1) {
    const other = Math.floor(next() * (k + 1))
    const [a, b] = [mixed[k], mixed[other]]
    if (a !== undefined && b !== undefined) [mixed[k], mixed[other]] = [b, a]
  }
  return mixed
}

/**
 * Whether all sprues are still as far apart as they need: where waxes were taken off, the main sprue may end lower
 * than it did when the others were held against one another, and sprues may run together only beside it.
 */
const spruesApart = ({ request, room }: Task, tree: Tree): boolean =>
  tree.placed.every(
    (one) =>
      one.locked ||
      spruesClear(request, room, { ...tree, placed: tree.placed.filter((other) => other !== one) }, one),
  )

/**
 * Takes a few neighbours off the best tree so far, and puts them and those that were left on anew in another
 * order and by other tastes, as long as the work lasts. No step may leave more waxes out than the one before.
 */
export const improve = (coarse: Task, begin: Found, work: Work): Found => {
  const readies = [...new Set(coarse.wanted.map(({ ready }) => ready))]
  const task = { ...coarse, seats: seatsOf(coarse.request, coarse.room, readies, true) }
  const next = lots(task.wanted.length * 7919 + Math.round(task.room.reach * 1000))
  let best = begin
  const wantedOf = new Map(task.wanted.map((one) => [`${one.ready.kind.piece.id}/${one.copy}`, one]))
  while (work.left > 0 && best.left.length > 0) {
    const free = best.tree.placed.filter((one) => !one.locked)
    const middle = free[Math.floor(next() * free.length)]
    const count = Math.min(free.length, 1 + Math.floor(next() * Math.min(MOST_TAKEN, 0.5 * free.length + 1)))
    const taken = new Set(
      middle === undefined
        ? []
        : free
            .map((one) => ({ one, far: sizeOf(minus(one.centre, middle.centre)) }))
            .sort((a, b) => a.far - b.far)
            .slice(0, count)
            .map(({ one }) => one),
    )
    const back = [...taken].flatMap((one) => wantedOf.get(`${one.kind.piece.id}/${one.copy}`) ?? [])
    const order =
      next() < 0.5
        ? [...shuffled(best.left, next), ...shuffled(back, next)]
        : shuffled([...best.left, ...back], next)
    const common = TASTES[Math.floor(next() * TASTES.length)]
    const mixed = next() < 0.5
    const tasteOf = (): Taste =>
      (mixed ? TASTES[Math.floor(next() * TASTES.length)] : common) ?? {
        height: 1,
        circle: 1,
        reach: 0,
        onEnd: true,
      }
    work.left -= 1
    const found = placeAll(task, without(task.start, best.tree, taken), order, tasteOf, work, next)
    if (found.left.length > best.left.length) continue
    if (found.left.length > 0 || spruesApart(task, found.tree)) best = found
  }
  return best
}
