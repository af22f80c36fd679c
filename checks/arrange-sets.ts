/**
 * Sets of waxes drawn by lot, the same every time, and their arrangements re-measured from matrices and meshes
 * alone. A third are given one flask made round an arrangement found in a larger one, so that it is known to be
 * possible with 0.1 mm to spare; every tenth can't fit, by its length or its volume.
 */
import { box, bracketOutline, type Shape, torus } from '../fixtures/meshes/shapes.ts'
import {
  type Arrangement,
  type ArrangeRequest,
  arrange,
  matrixOf,
  type PieceToArrange,
  sprueBody,
} from '../src/engine/arrange/index.ts'
import {
  lineToSurface,
  placedSurface,
  type Surface,
  surfaceToSurface,
  type V,
  within,
} from './brute-distance.ts'

export type Verdict = 'placed' | 'refused' | 'missed' | 'wrong'
export interface SetResult {
  readonly seed: number
  readonly sort: 'free' | 'only just' | 'impossible'
  readonly verdict: Verdict
  readonly violations: readonly string[]
}

const lots = (seed: number): (() => number) => {
  let state = Math.imul(seed, 2_654_435_761) >>> 0
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

/** A prism over any outline that its first corner sees the whole of. */
const prism = (outline: readonly (readonly [number, number])[], high: number): Shape => {
  const n = outline.length
  const positions = [0, high].flatMap((z) => outline.flatMap(([x, y]) => [x, y, z]))
  const corners: number[] = []
  for (let i = 0; i < n; i += 1) {
    const j = (i + 1) % n
    corners.push(i, j, n + j, i, n + j, n + i)
    if (i > 0 && j > 0) corners.push(0, j, i, n, n + i, n + j)
  }
  return { positions, corners }
}

/** Not convex: rings, brackets and crescents. */
const hollowOnes = (between: (low: number, high: number) => number): (() => Shape)[] => [
  () => torus(between(5, 11), between(0.8, 2), 20, 8),
  () => {
    const [a, b, t] = [between(10, 24), between(8, 20), between(2, 4)]
    return prism(bracketOutline(a, b, t), between(3, 8))
  },
  () => {
    const [r, n] = [between(6, 11), 8]
    const arc = Array.from({ length: n + 1 }, (_, k) => (Math.PI * k) / n)
    const outer = arc.map((turn) => [r * Math.cos(turn), r * Math.sin(turn)] as const)
    const inner = arc.reverse().map((turn) => [0.6 * r * Math.cos(turn), 0.6 * r * Math.sin(turn)] as const)
    return bent([...outer, ...inner], between(2, 5))
  },
]
/** A prism over a strip whose far side runs back along its near side. */
const bent = (outline: readonly (readonly [number, number])[], high: number): Shape => {
  const n = outline.length
  const { positions } = prism(outline, high)
  const corners: number[] = []
  for (let i = 0; i < n; i += 1) {
    const j = (i + 1) % n
    corners.push(i, j, n + j, i, n + j, n + i)
  }
  for (let i = 0; i + 1 < n / 2; i += 1) {
    const [a, b, c, d] = [i, i + 1, n - 2 - i, n - 1 - i]
    corners.push(a, c, b, a, d, c, n + a, n + b, n + c, n + a, n + c, n + d)
  }
  return { positions, corners }
}

const pieceOf = (id: string, { positions, corners }: Shape, copies: number): PieceToArrange => ({
  id,
  name: id,
  copies,
  mesh: { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) },
  standIn: false,
  sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the check' },
  keepClear: [],
  locked: new Map(),
})
const rules = { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 }
const requestOf = (
  pieces: PieceToArrange[],
  sizes: readonly (readonly [number, number])[],
): ArrangeRequest => ({
  pieces,
  flasks: sizes.map(([diameter_mm, height_mm]) => ({
    id: `${diameter_mm}x${height_mm}`,
    diameter_mm,
    height_mm,
  })),
  base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
  rules,
  stem_mm: 6,
  button_mm: 8,
})
const RACK = [
  [50.8, 63.5],
  [63.5, 76.2],
  [76.2, 88.9],
] as const

const surfacesOf = (request: ArrangeRequest, { placements }: Arrangement) =>
  placements.map(({ piece, copy, motion }) => {
    const mesh = request.pieces.find(({ id }) => id === piece)?.mesh ?? { positions: [], corners: [] }
    return {
      name: `${piece}/${copy}`,
      matrix: matrixOf(motion),
      surface: placedSurface(mesh, matrixOf(motion)),
    }
  })

const HAIR = 1e-9
/** A round bar of 64 sides is drawn up to 0.2 % fuller than its circle. */
const DRAWN = 0.01
/** Every so many of the sets have the solids of their sprues held too: it takes ten times as long. */
const BODIES = 10
const extent = (surface: Surface): { out: number; low: number; high: number } => {
  const points = surface.flatMap(({ corners }) => corners)
  return {
    out: Math.max(...points.map(([x, y]) => Math.hypot(x, y))),
    low: Math.min(...points.map(([, , z]) => z)),
    high: Math.max(...points.map(([, , z]) => z)),
  }
}

/** Points of a sprue's line where it is farther from the main sprue than three gaps: within, sprues run together. */
const outOfStem = (
  { stem_mm }: ArrangeRequest,
  { from_mm: [, , foot], to_mm: [, , end] }: { readonly from_mm: V; readonly to_mm: V },
  from: V,
  to: V,
): V[] =>
  Array.from({ length: 121 }, (_, k): V => {
    const [x, y, z] = from.map((value, axis) => value + ((to[axis] ?? 0) - value) * (k / 120)) as unknown as V
    return [x, y, z]
  }).filter(
    ([x, y, z]) => Math.hypot(x, y, z - Math.min(end, Math.max(foot, z))) >= stem_mm / 2 + 3 * rules.gap_mm,
  )

/** Points on the rim of a flat end of a round bar whose middle line runs from there to `to`. */
const rimOf = (from: V, to: V, radius: number): V[] => {
  const way = from.map((value, k) => (to[k] ?? 0) - value)
  const size = Math.hypot(...way)
  const [a = 0, b = 0, c = 0] = way.map((value) => value / size)
  // square to the line: a level direction, and the one square to both; an upright bar has any
  const flat = Math.hypot(a, b)
  const [u, v] = flat > 1e-9 ? [-b / flat, a / flat] : [1, 0]
  const [p, q, r] = [-c * v, c * u, a * v - b * u]
  return Array.from({ length: 360 }, (_, k): V => {
    const [cos, sin] = [Math.cos((k * Math.PI) / 180), Math.sin((k * Math.PI) / 180)]
    return [
      from[0] + radius * (u * cos + p * sin),
      from[1] + radius * (v * cos + q * sin),
      from[2] + radius * r * sin,
    ]
  })
}

/** A sprue that is found is no shorter from its wax to the main sprue, mm: room for a hot tool; common practice. */
const LEAST_SPRUE = 6

/** Everything an arrangement must hold to, from its matrices, sprues and the files' meshes. */
export const violationsOf = (request: ArrangeRequest, answer: Arrangement): string[] => {
  const { flask, sprues, stem } = answer
  if (flask === null || stem === null) return ['no flask']
  const found: string[] = []
  const need = rules.gap_mm - HAIR
  const top = Math.max(request.rules.topLeast_mm, request.rules.topPerDiameter * flask.diameter_mm)
  const placed = surfacesOf(request, answer)
  const wanted = request.pieces.flatMap(({ id, copies }) =>
    Array.from({ length: copies }, (_, k) => `${id}/${k + 1}`),
  )
  if (
    wanted.sort().join() !==
    placed
      .map(({ name }) => name)
      .sort()
      .join()
  )
    found.push('not every copy once')
  placed.forEach(({ name, matrix, surface }, index) => {
    const axes = [0, 1, 2].map((k) => [matrix[k], matrix[4 + k], matrix[8 + k]]) as unknown as [V, V, V]
    // a turn keeps its axes square to one another and of length 1
    axes.forEach((p, at) => {
      for (const [back, q] of axes.slice(0, at + 1).entries()) {
        const want = back === at ? 1 : 0
        if (Math.abs(p[0] * q[0] + p[1] * q[1] + p[2] * q[2] - want) > HAIR) found.push(`${name} strained`)
      }
    })
    const { out, low, high } = extent(surface)
    if (flask.diameter_mm / 2 - out < request.rules.wall_mm - HAIR) found.push(`${name} by the wall`)
    if (flask.height_mm - high < top - HAIR) found.push(`${name} by the top`)
    if (low - request.base.depth_mm < need) found.push(`${name} by the base`)
    if (lineToSurface(stem.from_mm, stem.to_mm, surface, 50) - request.stem_mm / 2 < need)
      found.push(`${name} by the main sprue`)
    for (const other of placed.slice(index + 1)) {
      if (surfaceToSurface(surface, other.surface, rules.gap_mm) < need)
        found.push(`${name} by ${other.name}`)
      const [p, q] = [surface[0]?.corners[0], other.surface[0]?.corners[0]]
      if ((p && within(p, other.surface)) || (q && within(q, surface))) found.push(`${name} in ${other.name}`)
    }
  })
  sprues.forEach(({ piece, copy, from_mm, to_mm, axis_mm, diameter_mm, fillet_mm }, index) => {
    for (const { name, surface } of placed) {
      // as far as the axis: its lower side lies outside the main sprue past where its middle enters that
      const apart = lineToSurface(from_mm, axis_mm, surface, 50)
      if (name === `${piece}/${copy}`) {
        if (lineToSurface(from_mm, from_mm, surface, 50) > 1e-6)
          found.push(`sprue ${index + 1} misses ${name}`)
      } else {
        if (apart - diameter_mm / 2 < need) found.push(`sprue ${index + 1} by ${name}`)
        const atJoint = lineToSurface(from_mm, from_mm, surface, 50) - diameter_mm / 2 - fillet_mm
        if (atJoint < need) found.push(`the fillet of sprue ${index + 1} by ${name}`)
        const told = answer.clearances.find(
          ({ between: [a, b] }) => a === `sprue/${index + 1}` && b === name,
        )?.distance_mm
        const real = Math.max(0, Math.min(apart - diameter_mm / 2, atJoint))
        if (told === undefined || Math.abs(told - real) > 1e-6)
          found.push(`sprue ${index + 1} to ${name} is told as ${told}, and is ${real}`)
      }
    }
    const whole = Math.hypot(...from_mm.map((value, k) => value - (to_mm[k] ?? 0)))
    if (whole < LEAST_SPRUE - HAIR) found.push(`sprue ${index + 1} is only ${whole} mm long`)
    const level = Math.hypot(from_mm[0] - to_mm[0], from_mm[1] - to_mm[1]) / whole
    for (const end of [from_mm, to_mm]) {
      const [, , z] = end
      const out = Math.max(...rimOf(end, axis_mm, diameter_mm / 2).map(([x, y]) => Math.hypot(x, y)))
      if (flask.diameter_mm / 2 - out < request.rules.wall_mm) found.push(`sprue ${index + 1} by the wall`)
      if (flask.height_mm - z - (diameter_mm / 2) * level < top) found.push(`sprue ${index + 1} by the top`)
    }
    const stations = outOfStem(request, stem, from_mm, to_mm)
    sprues.slice(index + 1).forEach((other, k) => {
      const others = outOfStem(request, stem, other.from_mm, other.to_mm)
      const least = Math.min(
        ...stations.flatMap(([x, y, z]) => others.map(([a, b, c]) => Math.hypot(x - a, y - b, z - c))),
      )
      if (least - (diameter_mm + other.diameter_mm) / 2 < need)
        found.push(`sprue ${index + 1} by sprue ${index + k + 2}`)
    })
  })
  return found
}

/** Every so many of a sprue's points: they lie 64 to a ring. */
const EVERY = 5

/** The sprues' own solids, as they are exported, against what is told of them: the end let into the wax is the wax's. */
export const bodyViolationsOf = (request: ArrangeRequest, answer: Arrangement): string[] => {
  const { flask, sprues, clearances } = answer
  if (flask === null) return []
  const told = (name: string, place: string): number =>
    clearances.find(
      ({ between }) => between.join() === `${name},${place}` || between.join() === `${place},${name}`,
    )?.distance_mm ?? Number.NaN
  const placed = surfacesOf(request, answer)
  return sprues.flatMap((sprue, index) => {
    const name = `sprue/${index + 1}`
    const { positions } = sprueBody(sprue)
    const points = Array.from({ length: positions.length / 3 }, (_, k): V => {
      const [x = 0, y = 0, z = 0] = positions.slice(3 * k, 3 * k + 3)
      return [x, y, z]
    }).filter((_, k) => k % EVERY === 0)
    const out = Math.max(...points.map(([x, y]) => Math.hypot(x, y)))
    const found =
      flask.diameter_mm / 2 - out < Math.max(told(name, 'wall'), request.rules.wall_mm) - DRAWN
        ? [`the body of ${name} by the wall`]
        : []
    for (const { name: wax, surface } of placed)
      if (wax !== `${sprue.piece}/${sprue.copy}`) {
        const least = Math.min(...points.map((point) => lineToSurface(point, point, surface, 50)))
        if (least < Math.min(told(name, wax), 50) - DRAWN) found.push(`the body of ${name} by ${wax}`)
      }
    return found
  })
}

const drawnPieces = (seed: number): PieceToArrange[] => {
  const next = lots(seed)
  const between = (low: number, high: number): number => low + (high - low) * next()
  const convex = (): Shape => box(between(6, 26), between(4, 14), between(2, 6))
  return Array.from({ length: 1 + Math.floor(next() * 3) }, (_, k) => {
    const hollow = hollowOnes(between)
    const shape = seed % 2 === 0 ? hollow[Math.floor(next() * hollow.length)]?.() : undefined
    return pieceOf(`kind-${k + 1}`, shape ?? convex(), 1 + Math.floor(next() * 3))
  })
}

export const runSet = (seed: number): SetResult => {
  const pieces = drawnPieces(seed)
  if (seed % 10 === 9) {
    // longer than the longest line in any room of the rack, or more metal than the largest room holds
    const far = Math.hypot(76.2 - 2 * 6.35, 88.9 - 19.05 - 16.2)
    const extra =
      seed % 20 === 9 ? pieceOf('long', box(far + 1, 4, 3), 1) : pieceOf('bulk', box(25, 25, 25), 12)
    const answer = arrange(requestOf([...pieces, extra], RACK))
    const said =
      !answer.fits &&
      answer.problems.some(({ level, what }) => level === 'stop' && /\d mm|half as large/.test(what))
    return { seed, sort: 'impossible', verdict: said ? 'refused' : 'wrong', violations: [] }
  }
  const just = seed % 3 === 0
  let request = requestOf(pieces, just ? [[76.2, 88.9]] : RACK)
  if (just) {
    const known = arrange(request)
    if (known.fits && violationsOf(request, known).length === 0) {
      const all = surfacesOf(request, known).map(({ surface }) => extent(surface))
      const diameter = 2 * (Math.max(...all.map(({ out }) => out)) + rules.wall_mm) + 0.1
      const height =
        Math.max(...all.map(({ high }) => high)) + Math.max(rules.topLeast_mm, 0.25 * diameter) + 0.1
      request = requestOf(pieces, [[diameter, height]])
    }
  }
  const answer = arrange(request)
  const sort = just ? 'only just' : 'free'
  if (!answer.fits) {
    const said = answer.problems.some(({ level }) => level === 'stop')
    return { seed, sort, verdict: said ? 'missed' : 'wrong', violations: [] }
  }
  const ofBodies = seed % BODIES < 2 ? bodyViolationsOf(request, answer) : []
  return { seed, sort, verdict: 'placed', violations: [...violationsOf(request, answer), ...ofBodies] }
}
