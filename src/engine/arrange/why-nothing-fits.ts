import { closestAlone, closestOf } from './closest.ts'
import { canGrow, growthWithin } from './grow.ts'
import { thickest } from './judge.ts'
import { placeNames } from './place-words.ts'
import type { ArrangeProblem, ArrangeRequest, Closest, RackFlask } from './request.ts'
import type { Ready } from './search.ts'
import { fitsAlone, QUICK, type Try, treeOf, tryFlask } from './try-flask.ts'

export const sizeWords = ({ diameter_mm, height_mm }: RackFlask): string =>
  `${diameter_mm.toFixed(1)} × ${height_mm.toFixed(1)} mm`

/** What each search for advice may spend, as a share of the quick one: several are made. */
const FOR_ADVICE = 0.5

const holdsAll = (request: ArrangeRequest, flask: RackFlask, readies: readonly Ready[]): boolean =>
  treeOf(tryFlask(request, flask, readies, { work: FOR_ADVICE * QUICK })) !== undefined

/** The largest flask's attempt, or another's that left fewer waxes over. */
const closestTry = (
  request: ArrangeRequest,
  tooLarge: readonly Ready[],
  tries: readonly Try[],
): Closest | undefined => {
  const last = tries[tries.length - 1]
  const [large] = tooLarge
  if (last !== undefined && large !== undefined) return closestAlone(request, last.room, large)
  const [best] = tries
    .filter(({ found }) => found !== undefined)
    .sort(
      (a, b) =>
        (a.found?.left.length ?? 0) - (b.found?.left.length ?? 0) || tries.indexOf(b) - tries.indexOf(a),
    )
  return best?.task && best.found && closestOf(best.task, best.found)
}

/** Nearer than this a wax would have had room, mm. */
const ROOM_ENOUGH = 0.05

const howNear = (closest: Closest | undefined, { pieces }: ArrangeRequest): string => {
  const [first] = closest?.left ?? []
  if (closest === undefined || first === undefined) return ''
  const { placements, left, next } = closest
  const names = placeNames(pieces)
  const name = names(`${first.piece}/${first.copy}`)
  const count = `; ${placements.length} of ${placements.length + left.length} found a place`
  if (next === null || next.short_mm < ROOM_ENOUGH)
    return placements.length === 0
      ? ''
      : `${count}, and for the next, ${name}, there is room for the wax but none was found for its sprue`
  const by = `${next.short_mm.toFixed(1)} mm`
  const against = names(next.against)
  if (next.against === 'wall' || next.against === 'top')
    return `; at its best ${name} comes ${by} too near ${against}`
  return `${count}, and the next, ${name}, comes ${by} too near ${against}`
}

/** The same pieces with no sprues placed by hand on copies that are free; and the names of the copies that had some. */
const letGo = (
  readies: readonly Ready[],
): { readonly names: readonly string[]; readonly without: readonly Ready[] } => {
  const names: string[] = []
  const without = readies.map((ready): Ready => {
    const { piece } = ready.kind
    const held = [...(piece.placed ?? [])].filter(
      ([copy, sprues]) => sprues.length > 0 && !piece.locked.has(copy),
    )
    if (held.length === 0) return ready
    names.push(...held.map(([copy]) => `${piece.name} ${copy}`))
    const placed = new Map([...(piece.placed ?? [])].filter(([copy]) => piece.locked.has(copy)))
    return { ...ready, kind: { ...ready.kind, piece: { ...piece, placed } } }
  })
  return { names, without }
}

/** Where it is the caster's own sprues that leave no place for what is free. */
const heldByHand = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
): ArrangeProblem | undefined => {
  const { names, without } = letGo(readies)
  if (names.length === 0) return undefined
  const flask = rack.find((one) => holdsAll(request, one, without))
  if (flask === undefined) return undefined
  return {
    kind: 'placed-out-of-reach',
    level: 'stop',
    where: '/pour/tree/sprues',
    what: `With the sprues placed by hand on ${names.join(', ')} no place was found; without them everything fits in ${sizeWords(flask)}`,
    remedy: 'let those sprues go, or lock the piece where they are to reach the main sprue',
  }
}

/**
 * Why nothing fits, by how much, and what would do; and how near the search came.
 * @param rack  smallest first
 * @param tries  of each of its flasks
 */
export const whyNothingFits = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
  tries: readonly Try[],
): { readonly problem: ArrangeProblem; readonly closest?: Closest } => {
  const largest = rack[rack.length - 1]
  if (largest === undefined)
    return {
      problem: {
        kind: 'no-flask',
        level: 'stop',
        where: '/shop/flasks',
        what: 'The rack has no flask that may be taken',
        remedy: 'mark the flasks you own under Shop',
      },
    }
  const byHand = heldByHand(request, rack, readies)
  const last = tries[tries.length - 1]
  const { without } = letGo(readies)
  const tooLarge =
    last?.task === undefined
      ? without.filter((ready) => isFree(ready) && !rack.some((flask) => fitsAlone(request, flask, ready)))
      : []
  const found = closestTry(request, tooLarge, tries)
  const closest = found && { closest: found }
  if (byHand !== undefined) return { problem: byHand, ...closest }
  const chosen = request.isChosen === true
  const inRack = `the largest, ${sizeWords(largest)}, included`
  if (tooLarge.length > 0) {
    const grown = growUntil(request, largest, (flask) =>
      tooLarge.every((ready) => fitsAlone(request, flask, ready)),
    )
    return {
      problem: {
        kind: 'too-large',
        level: 'stop',
        where: tooLarge.map(({ kind }) => kind.piece.id).join(', '),
        what: `${tooLarge.map(({ kind }) => kind.piece.name).join(', ')}${tooLarge.length === 1 ? ' by itself' : ', each by itself,'} found ${chosen ? `no place in the flask chosen, ${sizeWords(largest)}` : `a place in no flask of the rack, ${inRack}`}: ${grownWords(request, largest, grown)}, for ${tooLarge.length === 1 ? 'that alone' : 'each of them alone'}${howNear(found, request)}`,
        remedy: `${chosen ? `${LEAVE_OPEN}; or ` : grown === undefined ? '' : 'add a larger flask, '}make the piece smaller, or cast it in parts and join them`,
      },
      ...closest,
    }
  }
  const grown = growUntil(request, largest, (flask) => holdsAll(request, flask, readies))
  return {
    problem: {
      kind: 'nothing-fits',
      level: 'stop',
      where: '/shop/flasks',
      what: `No way was found to place all the pieces in ${chosen ? `the flask chosen, ${sizeWords(largest)}` : `a flask of the rack, ${inRack}`}: ${grownWords(request, largest, grown)}${howNear(found, request)}`,
      remedy: chosen
        ? LEAVE_OPEN
        : (twoFlasks(request, rack, readies, tries) ??
          `${grown === undefined ? '' : 'add a larger flask, or '}pour the pieces in more flasks than one: no way was found to part them over two, though not every way was tried`),
    },
    ...closest,
  }
}

const isFree = ({ kind: { piece } }: Ready): boolean => piece.locked.size < piece.copies

const grownWords = (request: ArrangeRequest, largest: RackFlask, grown: RackFlask | undefined): string => {
  const { wide, high } = growthWithin(request, largest)
  if (grown === undefined && !canGrow(request, largest)) return 'and the casting machine takes none larger'
  return grown === undefined
    ? `none was found in ${wide < HALF_AGAIN || high < HALF_AGAIN ? 'the largest that the casting machine takes' : 'one half as large again'} either`
    : `one of ${sizeWords(grown)} would do, ${[
        [grown.diameter_mm - largest.diameter_mm, 'wider'] as const,
        [grown.height_mm - largest.height_mm, 'higher'] as const,
      ]
        .filter(([by]) => by > ROOM_ENOUGH)
        .map(([by, way]) => `${by.toFixed(1)} mm ${way}`)
        .join(' and ')}`
}

const LEAVE_OPEN =
  'leave the flask open, so that the others of the rack are tried too, or choose a larger one'

const HALF_AGAIN = 1.5
const GROWTH = [1.05, 1.1, 1.2, 1.35, HALF_AGAIN]

/**
 * The largest flask made wider and higher, as far as the casting machine takes it, until it holds them; and then one of
 * the two alone where that is enough.
 */
const growUntil = (
  request: ArrangeRequest,
  largest: RackFlask,
  holds: (flask: RackFlask) => boolean,
): RackFlask | undefined => {
  const most = growthWithin(request, largest)
  if (!canGrow(request, largest)) return undefined
  const grown = (wide: number, high: number): RackFlask => ({
    id: largest.id,
    diameter_mm: largest.diameter_mm * Math.min(wide, most.wide),
    height_mm: largest.height_mm * Math.min(high, most.high),
  })
  if (!holds(grown(HALF_AGAIN, HALF_AGAIN))) return undefined
  const least = GROWTH.find((by) => by === HALF_AGAIN || holds(grown(by, by))) ?? HALF_AGAIN
  return [grown(least, 1), grown(1, least)].find(holds) ?? grown(least, least)
}

/** Waxes this much thicker than others do better in a flask of their own heat. */
const THICKER = 1.2
/** Cuts tried between the thicker waxes and the thinner: by half of them, and between two kinds. */
const MOST_CUTS = 4

/** Whether two flasks would do, heavy waxes in one and light ones in the other: each then gets its own heat. */
const twoFlasks = (
  request: ArrangeRequest,
  rack: readonly RackFlask[],
  readies: readonly Ready[],
  tries: readonly Try[],
): string | undefined => {
  const free = [...readies].sort((a, b) => thickest(b.kind) - thickest(a.kind))
  const each = free.flatMap((ready) => Array.from({ length: ready.kind.piece.copies }, () => ready))
  const half = Math.ceil(each.length / 2)
  /** Whether the waxes before a cut are thicker than all after it. */
  const partsThick = (cut: number): boolean => {
    const [before, after] = [each[cut - 1], each[cut]]
    return (
      before !== undefined && after !== undefined && thickest(before.kind) > THICKER * thickest(after.kind)
    )
  }
  const cuts = each
    .map((_, index) => index)
    .filter((index) => index > 0 && (index === half || each[index] !== each[index - 1]))
    .sort((a, b) => Number(partsThick(b)) - Number(partsThick(a)) || Math.abs(a - half) - Math.abs(b - half))
    .slice(0, MOST_CUTS)
  const flasksFor = (parts: readonly (readonly Ready[])[]): string | undefined => {
    const words: string[] = []
    for (const part of parts) {
      const flask = rack.find((one) => holdsAll(request, one, part))
      if (flask === undefined) return undefined
      words.push(`${namesOf(part)} in ${sizeWords(flask)}`)
    }
    return words.join(', ')
  }
  for (const cut of cuts) {
    const words = flasksFor([counted(each.slice(0, cut)), counted(each.slice(cut))])
    if (words !== undefined)
      return `pour in two flasks${partsThick(cut) ? ', the thicker waxes apart from the thinner' : ''}: ${words}`
  }
  const [fullest] = [...tries].reverse().flatMap(({ task, found }) => (task && found ? [found] : []))
  const left = fullest?.left.map(({ ready }) => ready) ?? []
  const rest = [...each]
  for (const ready of left) rest.splice(rest.indexOf(ready), 1)
  if (left.length === 0 || rest.length === 0) return undefined
  const words = flasksFor([counted(rest), counted(left)])
  return words && `pour in two flasks: ${words}`
}

/** Waxes of one flask taken together by kind, none of them locked there. */
const counted = (part: readonly Ready[]): Ready[] =>
  [...new Set(part)].map((ready) => ({
    ...ready,
    kind: {
      ...ready.kind,
      piece: {
        ...ready.kind.piece,
        copies: part.filter((one) => one === ready).length,
        locked: new Map(),
      },
    },
  }))

const namesOf = (part: readonly Ready[]): string =>
  part.map(({ kind }) => `${kind.piece.copies} × ${kind.piece.name}`).join(', ')
