import type { TriangleMesh } from './model-reading.ts'

/**
 * How the triangles of a welded mesh hang together. The side that leaves corner `i` of the corner list is
 * side `i`; its triangle is `floor(i / 3)`.
 */
export type Edges = {
  /** The side across from each side, or -1 where there is none. */
  twin: Int32Array
  /** 1 where a side and its twin run the same way: one of the two triangles is flipped. */
  sameWay: Uint8Array
  /** Sides with no triangle on the other side, as side numbers. */
  open: number[]
  /** Pairs of sides that run the same way. */
  misdirected: number
  /** Edges of four or more triangles that could be paired two by two. */
  crowded: number
  /** Edges whose triangles cannot be paired. */
  tangled: number
  /** A side on one of those, for showing where. */
  crowdedAt: number
  tangledAt: number
  misdirectedAt: number
}

const SORT_FROM = 24
export const nextSide = (side: number): number => (side % 3 === 2 ? side - 2 : side + 1)

/**
 * Pairs each side with the one across. Sides are put into buckets by their lower point (a counting sort:
 * memory is walked in order, where a hash of pairs would jump), then matched within their bucket.
 */
export function findEdges(mesh: TriangleMesh): Edges {
  const { positions, corners } = mesh
  const sides = corners.length
  const pointCount = positions.length / 3
  const starts = new Uint32Array(pointCount + 1)
  for (let s = 0; s < sides; s++) {
    const a = corners[s]!
    const b = corners[nextSide(s)]!
    starts[(a < b ? a : b) + 1]!++
  }
  for (let p = 0; p < pointCount; p++) starts[p + 1]! += starts[p]!
  const bucket = new Uint32Array(sides)
  const high = new Uint32Array(sides)
  const fill = starts.slice(0, pointCount)
  for (let s = 0; s < sides; s++) {
    const a = corners[s]!
    const b = corners[nextSide(s)]!
    const at = a < b ? fill[a]!++ : fill[b]!++
    bucket[at] = s
    high[at] = a < b ? b : a
  }

  const edges: Edges = {
    twin: new Int32Array(sides).fill(-1),
    sameWay: new Uint8Array(sides),
    open: [],
    misdirected: 0,
    crowded: 0,
    tangled: 0,
    crowdedAt: -1,
    tangledAt: -1,
    misdirectedAt: -1,
  }
  const group: number[] = []
  const crowds: Crowd[] = []
  for (let p = 0; p < pointCount; p++) {
    const from = starts[p]!
    const to = starts[p + 1]!
    if (to - from > SORT_FROM) sortBucket(bucket, high, from, to)
    const sorted = to - from > SORT_FROM
    for (let i = from; i < to; i++) {
      const other = high[i]!
      if (other === TAKEN) continue
      group.length = 0
      group.push(bucket[i]!)
      for (let j = i + 1; j < to; j++) {
        if (high[j] === other) {
          group.push(bucket[j]!)
          high[j] = TAKEN
        } else if (sorted) break
      }
      pairGroup(mesh, group, p, other, edges, crowds)
    }
  }
  if (crowds.length > 0) partCrowds(mesh, crowds, edges)
  return edges
}

/** An edge of four or more triangles: the sides that run up it and down it, between its lower and higher point. */
type Crowd = { up: number[]; down: number[]; low: number; high: number }

/**
 * Sides that already hang together elsewhere belong together here too; what is left is paired by angle alone.
 */
function partCrowds(mesh: TriangleMesh, crowds: readonly Crowd[], edges: Edges): void {
  const { shellOf } = findShells(edges)
  const shellOfSide = (side: number): number => shellOf[Math.floor(side / 3)]!
  for (const { up, down, low, high } of crowds) {
    const loose = { up: [] as number[], down: [] as number[] }
    for (const shell of new Set([...up, ...down].map(shellOfSide))) {
      const ups = up.filter((side) => shellOfSide(side) === shell)
      const downs = down.filter((side) => shellOfSide(side) === shell)
      if (ups.length === downs.length) pairByAngle(mesh, ups, downs, low, high, edges.twin)
      else {
        loose.up.push(...ups)
        loose.down.push(...downs)
      }
    }
    if (loose.up.length > 0) {
      loose.up.sort((s, t) => s - t)
      loose.down.sort((s, t) => s - t)
      pairByAngle(mesh, loose.up, loose.down, low, high, edges.twin)
    }
  }
}

const TAKEN = 0xffffffff

/** A fan round one point may hold every triangle of a file, so large buckets are sorted by their upper point. */
function sortBucket(bucket: Uint32Array, high: Uint32Array, from: number, to: number): void {
  const order = Array.from({ length: to - from }, (_, i) => from + i)
  order.sort((i, j) => high[i]! - high[j]! || bucket[i]! - bucket[j]!)
  const sides = order.map((i) => bucket[i]!)
  const points = order.map((i) => high[i]!)
  bucket.set(sides, from)
  high.set(points, from)
}

function pairGroup(
  mesh: TriangleMesh,
  group: number[],
  low: number,
  high: number,
  edges: Edges,
  crowds: Crowd[],
): void {
  const { corners } = mesh
  if (group.length === 2) {
    const [s, t] = group as [number, number]
    edges.twin[s] = t
    edges.twin[t] = s
    if (corners[s] === corners[t]) {
      edges.sameWay[s] = 1
      edges.sameWay[t] = 1
      edges.misdirected++
      if (edges.misdirectedAt < 0) edges.misdirectedAt = s
    }
    return
  }
  if (group.length === 1) {
    edges.open.push(group[0]!)
    return
  }
  const up = group.filter((s) => corners[s] === low)
  const down = group.filter((s) => corners[s] !== low)
  if (up.length !== down.length) {
    edges.tangled++
    if (edges.tangledAt < 0) edges.tangledAt = group[0]!
    return
  }
  edges.crowded++
  if (edges.crowdedAt < 0) edges.crowdedAt = group[0]!
  crowds.push({ up, down, low, high })
}

/**
 * Four or more triangles along one edge: each is paired with the next one round, going through the metal,
 * so that bodies which only touch come apart again. Triangles that lie on one another are paired in the
 * order of the file, so that a body written twice stays two bodies.
 */
function pairByAngle(
  { positions, corners }: TriangleMesh,
  up: number[],
  down: number[],
  low: number,
  high: number,
  twin: Int32Array,
): void {
  const from = low * 3
  const to = high * 3
  const axis = [0, 1, 2].map((k) => positions[to + k]! - positions[from + k]!)
  const length = Math.hypot(...axis) || 1
  const w = axis.map((v) => v / length)
  const outward = (side: number): number[] => {
    const apex = corners[nextSide(nextSide(side))]! * 3
    const d = [0, 1, 2].map((k) => positions[apex + k]! - positions[from + k]!)
    const along = d[0]! * w[0]! + d[1]! * w[1]! + d[2]! * w[2]!
    return d.map((v, k) => v - along * w[k]!)
  }
  const cross = (a: number[], b: number[]): number[] => [
    a[1]! * b[2]! - a[2]! * b[1]!,
    a[2]! * b[0]! - a[0]! * b[2]!,
    a[0]! * b[1]! - a[1]! * b[0]!,
  ]
  const u = outward(up[0]!)
  const v = cross(w, u)
  const dot = (a: number[], b: number[]): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!
  const angle = (side: number): number => {
    const d = outward(side)
    return Math.atan2(dot(d, v), dot(d, u))
  }
  // Seen along the edge, a triangle that takes it upward has its metal clockwise of itself or anticlockwise?
  // Its normal is edge x apex direction, a quarter turn anticlockwise; the metal lies on the other hand.
  const full = 2 * Math.PI
  const tie = 1e-7
  const clockwise = (a: number, b: number): number => {
    const turn = (((a - b) % full) + full) % full
    return turn < tie ? full : turn
  }
  const downAngles = down.map(angle)
  const left = new Set(down.keys())
  for (const s of up) {
    const a = angle(s)
    let best = -1
    let least = Infinity
    for (const k of left) {
      const turn = clockwise(a, downAngles[k]!)
      if (turn < least - tie) {
        least = turn
        best = k
      }
    }
    left.delete(best)
    twin[s] = down[best]!
    twin[down[best]!] = s
  }
}

export type ShellMap = {
  count: number
  /** The shell of each triangle. */
  shellOf: Int32Array
  /** 1 for triangles that must turn about to agree with the first triangle of their shell. */
  turned: Uint8Array
  /** Shells in which going round brings one back on the other side. */
  oneSided: Set<number>
}

/** Walks from triangle to triangle across paired sides. */
export function findShells(edges: Edges): ShellMap {
  const { twin, sameWay } = edges
  const triangles = twin.length / 3
  const shellOf = new Int32Array(triangles).fill(-1)
  const turned = new Uint8Array(triangles)
  const oneSided = new Set<number>()
  const queue = new Int32Array(triangles)
  let count = 0
  for (let seed = 0; seed < triangles; seed++) {
    if (shellOf[seed]! >= 0) continue
    const shell = count++
    shellOf[seed] = shell
    let head = 0
    let tail = 0
    queue[tail++] = seed
    while (head < tail) {
      const t = queue[head++]!
      for (let side = t * 3; side < t * 3 + 3; side++) {
        const across = twin[side]!
        if (across < 0) continue
        const other = (across - (across % 3)) / 3
        const way = turned[t]! ^ sameWay[side]!
        if (shellOf[other]! < 0) {
          shellOf[other] = shell
          turned[other] = way
          queue[tail++] = other
        } else if (turned[other] !== way) oneSided.add(shell)
      }
    }
  }
  return { count, shellOf, turned, oneSided }
}

/** Whether each edge is shared by exactly two opposed triangles. */
export const isClosed = (edges: Edges): boolean =>
  edges.open.length === 0 && edges.misdirected === 0 && edges.tangled === 0

/**
 * The rims of holes: rings of points, in the direction that a filling triangle's sides must run.
 * A ring that touches itself at a point is parted there. Null where the open sides do not form rings.
 */
export function findRims({ corners }: TriangleMesh, open: readonly number[]): number[][] | null {
  // The filling runs each open side the other way: from its end to its start.
  const onward = new Map<number, number[]>()
  for (const side of open) {
    const from = corners[nextSide(side)]!
    const list = onward.get(from)
    if (list) list.push(corners[side]!)
    else onward.set(from, [corners[side]!])
  }
  const rims: number[][] = []
  for (const start of onward.keys()) {
    while (onward.get(start)?.length) {
      const path = [start]
      const placeOf = new Map([[start, 0]])
      for (;;) {
        const next = onward.get(path.at(-1)!)?.pop()
        if (next === undefined) {
          if (path.length > 1) return null
          break
        }
        const seen = placeOf.get(next)
        if (seen === undefined) {
          placeOf.set(next, path.length)
          path.push(next)
        } else {
          const ring = path.splice(seen)
          rims.push(ring)
          for (const point of ring) placeOf.delete(point)
          path.push(next)
          placeOf.set(next, path.length - 1)
          if (path.length === 1) break
        }
      }
    }
  }
  return rims
}
