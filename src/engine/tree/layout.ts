import { type Footprint, gapBetween, reachOf, surelyApart } from './rectangles.ts'

/** One kind of piece to stand on the tree: outside sizes in m, as many as there are copies. */
export interface ToPlace {
  readonly id: string
  readonly copies: number
  readonly sizes: readonly [number, number, number]
  /** on each copy; 1 where it is not given */
  readonly sprues?: number
}

export interface Placement {
  readonly piece: string
  /** from 1 */
  readonly copy: number
  readonly footprint: Footprint
  /** height of its lower edge above the top of the base's cone */
  readonly bottom: number
  readonly height: number
}

/** One way to stand the pieces: how far it reaches out and up, and how it is fed. */
export interface Layout {
  readonly upright: 'longest' | 'middle'
  readonly tiers: number
  /** farthest reach from the flask's axis, m */
  readonly reach: number
  /** top of the highest piece above the top of the base's cone, m */
  readonly rise: number
  readonly stemLength: number
  readonly gateLength: number
  readonly placements: readonly Placement[]
}

export interface LayoutRule {
  /** wax to wax, m */
  readonly gap: number
  readonly stemDiameter: number
  /** shortest stem below the first gate, m */
  readonly shortest: number
  /** shortest gate, m */
  readonly gate: number
}

interface Standing {
  readonly piece: string
  readonly copy: number
  readonly width: number
  readonly depth: number
  readonly height: number
}

/** No ring is sought past this, m. */
const WIDEST = 4

/** A second sprue joins its wax this share of the longest side from the first: so much more main sprue runs beside it. */
const APART = 0.3

/** Gates leave the stem at this slope, so that wax drains and metal turns gently. */
const GATE_SLOPE = Math.PI / 4

const standUp = (piece: ToPlace, copy: number, upright: Layout['upright']): Standing => {
  const [least = 0, middle = 0, most = 0] = [...piece.sizes].sort((a, b) => a - b)
  return upright === 'longest'
    ? { piece: piece.id, copy, width: middle, depth: least, height: most }
    : { piece: piece.id, copy, width: most, depth: least, height: middle }
}

/** Footprints round the axis with their inner faces `inner` from it, sharing the circle by what each needs. */
const ring = (standing: readonly Standing[], inner: number, gap: number): Footprint[] => {
  const needs = standing.map((piece) => Math.atan2(piece.width / 2 + gap / 2, Math.max(inner, 1e-4)))
  const whole = needs.reduce((total, need) => total + 2 * need, 0)
  const share = (2 * Math.PI) / whole
  let angle = 0
  return standing.map((piece, index) => {
    const need = (needs[index] ?? 0) * share
    const at = angle + need
    angle = at + need
    const out = inner + piece.depth / 2
    return {
      x: out * Math.cos(at),
      y: out * Math.sin(at),
      halfWidth: piece.width / 2,
      halfDepth: piece.depth / 2,
      angle: at,
    }
  })
}

const clears = (prints: readonly Footprint[], gap: number): boolean => {
  const count = prints.length
  for (let i = 0; i < count; i += 1) {
    // past eight pieces only neighbours can touch: the ring is then wider than any piece is deep
    const last = count > 8 ? i + 1 : count - 1
    for (let j = i + 1; j <= last; j += 1) {
      const other = prints[j % count]
      const one = prints[i]
      if (one === undefined || other === undefined || one === other || surelyApart(one, other, gap)) continue
      if (gapBetween(one, other) < gap - 1e-9) return false
    }
  }
  return true
}

/** The tightest ring that keeps the gap, found by halving; the last tier may close over the stem's end. */
const tightestRing = (standing: readonly Standing[], rule: LayoutRule, stemInside: boolean): Footprint[] => {
  const [only] = standing
  if (standing.length === 1 && only !== undefined && !stemInside)
    return [{ x: 0, y: 0, halfWidth: only.width / 2, halfDepth: only.depth / 2, angle: 0 }]
  let low = stemInside ? rule.stemDiameter / 2 + rule.gap : rule.gap / 2
  if (clears(ring(standing, low, rule.gap), rule.gap)) return ring(standing, low, rule.gap)
  let high = Math.max(low * 2, 0.01)
  // a ring this wide fits no flask; a gap that is no number must not keep us here
  while (high < WIDEST && !clears(ring(standing, high, rule.gap), rule.gap)) high *= 2
  for (let step = 0; step < 14; step += 1) {
    const middle = (low + high) / 2
    if (clears(ring(standing, middle, rule.gap), rule.gap)) high = middle
    else low = middle
  }
  return ring(standing, high, rule.gap)
}

/**
 * Footprints side by side like books on the stem's end, the widest in the middle and the rest by turns on
 * either side of it, moved so that the whole reaches out as little as it can.
 */
const row = (standing: readonly Standing[], gap: number): Footprint[] => {
  const widest = standing
    .map((_, index) => index)
    .sort((a, b) => (standing[b]?.width ?? 0) - (standing[a]?.width ?? 0))
  const order: number[] = []
  widest.forEach((index, turn) => {
    if (turn % 2 === 0) order.push(index)
    else order.unshift(index)
  })
  const print: Footprint[] = []
  let from = 0
  for (const index of order) {
    const piece = standing[index]
    if (piece === undefined) continue
    print[index] = {
      x: 0,
      y: from + piece.depth / 2,
      halfWidth: piece.width / 2,
      halfDepth: piece.depth / 2,
      angle: Math.PI / 2,
    }
    from += piece.depth + gap
  }
  const moved = (by: number): Footprint[] => print.map((one) => ({ ...one, y: one.y - by }))
  const reachMoved = (by: number): number => Math.max(...moved(by).map(reachOf))
  let low = 0
  let high = from
  // the reach is the greatest of convex distances, so thirds close on its least
  for (let step = 0; step < 24; step += 1) {
    const one = low + (high - low) / 3
    const other = high - (high - low) / 3
    if (reachMoved(one) <= reachMoved(other)) high = other
    else low = one
  }
  return moved((low + high) / 2)
}

const reachOfAll = (prints: readonly Footprint[]): number => Math.max(...prints.map(reachOf))

/** Ring or row, whichever reaches out less; a row needs the stem's end to itself. */
const tightest = (standing: readonly Standing[], rule: LayoutRule, stemInside: boolean): Footprint[] => {
  const round = tightestRing(standing, rule, stemInside)
  if (stemInside || standing.length < 2 || standing.length > 8) return round
  const side = row(standing, rule.gap)
  return reachOfAll(side) < reachOfAll(round) ? side : round
}

/** Stands the pieces upright round one stem in this many tiers. */
export const layOut = (
  pieces: readonly ToPlace[],
  rule: LayoutRule,
  upright: Layout['upright'],
  tiers: number,
): Layout => {
  const standing = pieces
    .flatMap((piece) => Array.from({ length: piece.copies }, (_, copy) => standUp(piece, copy + 1, upright)))
    .sort((a, b) => b.height - a.height || (a.piece < b.piece ? -1 : a.piece > b.piece ? 1 : a.copy - b.copy))
  const perTier = Math.ceil(standing.length / tiers)
  const placements: Placement[] = []
  let stemLength = rule.shortest
  let gateLength = rule.gate
  let rise = 0
  let reach = 0
  for (let tier = 0; tier < tiers; tier += 1) {
    const here = standing.slice(tier * perTier, (tier + 1) * perTier)
    if (here.length === 0) break
    const prints = tightest(here, rule, tier < tiers - 1)
    const outward = Math.max(
      ...prints.map((print) => Math.max(0, Math.hypot(print.x, print.y) - rule.stemDiameter / 2)),
    )
    const gate = Math.max(rule.gate, outward / Math.cos(GATE_SLOPE))
    gateLength = Math.max(gateLength, gate)
    const climb = gate * Math.sin(GATE_SLOPE)
    // above the tier below by the gap, and its gates above the stem's own start by the shortest sprue
    const bottom =
      tier === 0 ? rule.shortest + climb : Math.max(rise + rule.gap, stemLength + rule.shortest + climb)
    stemLength = bottom - climb
    here.forEach((piece, index) => {
      const print = prints[index]
      if (print === undefined) return
      placements.push({
        piece: piece.piece,
        copy: piece.copy,
        footprint: print,
        bottom,
        height: piece.height,
      })
      reach = Math.max(reach, reachOf(print))
    })
    rise = Math.max(rise, ...here.map((piece) => bottom + piece.height))
  }
  const along = Math.max(
    0,
    ...pieces.map(({ sprues = 1, sizes }) => (sprues > 1 ? APART * Math.max(...sizes) : 0)),
  )
  const stem = stemLength + along
  return { upright, tiers, reach, rise: Math.max(rise, stem), stemLength: stem, gateLength, placements }
}

/**
 * The ways to stand these pieces that a caster would try: longest or middle side up, in one to four tiers.
 * Each piece is taken as the box of its outside sizes, so true gaps are never less than these.
 */
export const layouts = (pieces: readonly ToPlace[], rule: LayoutRule): Layout[] => {
  const count = pieces.reduce((total, piece) => total + piece.copies, 0)
  if (count === 0) return []
  const tiers = [1, 2, 3, 4].filter((number) => number <= count)
  return tiers.flatMap((number) =>
    (['longest', 'middle'] as const).map((upright) => layOut(pieces, rule, upright, number)),
  )
}

/** Of these ways the one that takes the least room. */
export const compactest = (ways: readonly Layout[]): Layout | undefined => {
  const room = ({ reach, rise }: Layout): number => reach ** 2 * rise
  return ways.reduce<Layout | undefined>(
    (least, one) => (least === undefined || room(one) < room(least) ? one : least),
    undefined,
  )
}
