import { signedArea, turned } from '../loops.ts'
import { cutWhereTheyMeet, facesBetween } from './noding.ts'

/** A drawn run on the whole-number grid; a closed one repeats its first point. */
export interface GridRun {
  /** index of its mark, in paint order */
  readonly mark: number
  readonly path: Float64Array
  /** its centre line is drawn */
  readonly line: boolean
  /** it winds round an inside: it is filled, or it is a closed line */
  readonly winds: boolean
}

/** A piece of line between two nodes with all that is drawn along it. */
export interface Edge {
  readonly path: Float64Array
  readonly from: number
  readonly to: number
  /** marks whose centre line runs here */
  readonly lines: number[]
  /** by mark: how often it runs forward here, less how often backward */
  readonly winds: Map<number, number>
  /** the face to its left and to its right; OUTSIDE is the endless one, NOWHERE where the edge bounds no face */
  left: number
  right: number
  /** whether it belongs to the outline of that face, rather than to one of its holes */
  leftOutline: boolean
  rightOutline: boolean
}

/** One run on its way through a node, as the edges by which it comes and goes; backward edges are ~edge. */
export interface Passage {
  readonly node: number
  readonly run: number
  readonly comes: number
  readonly goes: number
}

export interface Face {
  /** runs anticlockwise, on the grid, first point not repeated */
  readonly outer: Float64Array
  /** each runs clockwise */
  readonly holes: readonly Float64Array[]
}

export interface Arrangement {
  readonly edges: readonly Edge[]
  readonly faces: readonly Face[]
  readonly passages: readonly Passage[]
}

export const OUTSIDE = -1
export const NOWHERE = -2
export const unfaced = { left: OUTSIDE, right: OUTSIDE, leftOutline: false, rightOutline: false }

/** Grid steps lie within 5e7 of the middle, so that both of a place fit one whole number exactly. */
const KEY = 2 ** 27
const keyOf = (x: number, y: number): number => x * KEY + y
const PAIR = 2 ** 26

const xy = (path: Float64Array, at: number): readonly [number, number] => {
  const i = at < 0 ? path.length + 2 * at : 2 * at
  return [path[i] as number, path[i + 1] as number]
}

/** Cuts runs where they meet, gathers what lies along each piece, and finds the faces on both sides of it. */
export const arrange = (runs: readonly GridRun[]): Arrangement => {
  const nodes = new Map<number, number>()
  const nodeOf = ([x, y]: readonly [number, number]): number => {
    const key = keyOf(x, y)
    const known = nodes.get(key)
    if (known !== undefined) return known
    nodes.set(key, nodes.size)
    return nodes.size - 1
  }
  const edges: Edge[] = []
  // Two pieces that leave a node toward the same next point are one piece, because all meeting points are cut.
  const starts = new Map<number, number>()
  const passages: Passage[] = []
  let before: { run: number; first: number; last: number; start: number } | undefined
  const closeRun = (): void => {
    if (before === undefined) return
    const { run, first, last, start } = before
    const end = last >= 0 ? (edges[last] as Edge).to : (edges[~last] as Edge).from
    if (end === start) passages.push({ node: end, run, comes: last, goes: first })
  }
  for (const { run, path } of cutWhereTheyMeet(runs.map(({ path }) => path))) {
    if (path.length < 4) continue
    const drawn = runs[run] as GridRun
    const from = nodeOf(xy(path, 0))
    const to = nodeOf(xy(path, -1))
    if (from === to && path.length < 8) continue
    const out = from * PAIR + nodeOf(xy(path, 1))
    const back = to * PAIR + nodeOf(xy(path, -2))
    let way = starts.get(out)
    if (way === undefined) {
      way = edges.length
      edges.push({ path, from, to, lines: [], winds: new Map(), ...unfaced })
      starts.set(out, way)
      if (out !== back) starts.set(back, ~way)
    }
    const edge = edges[way >= 0 ? way : ~way] as Edge
    if (drawn.line && !edge.lines.includes(drawn.mark)) edge.lines.push(drawn.mark)
    if (drawn.winds) edge.winds.set(drawn.mark, (edge.winds.get(drawn.mark) ?? 0) + (way >= 0 ? 1 : -1))
    if (before?.run !== run) {
      closeRun()
      before = { run, first: way, last: way, start: from }
    } else {
      passages.push({ node: from, run, comes: before.last, goes: way })
      before.last = way
    }
  }
  closeRun()
  return { edges, faces: facesAlong(edges), passages }
}

/** Finds the faces that edges bound, and writes to each edge the faces on both sides of it. */
export const facesAlong = (edges: readonly Edge[]): Face[] => {
  const nodes = new Map<number, number>()
  const nodeOf = (path: Float64Array, at: number): number => {
    const key = keyOf(...xy(path, at))
    const known = nodes.get(key)
    if (known === undefined) nodes.set(key, nodes.size)
    return known ?? nodes.size - 1
  }
  const starts = new Map<number, number>()
  edges.forEach(({ path }, index) => {
    starts.set(nodeOf(path, 0) * PAIR + nodeOf(path, 1), index)
    starts.set(nodeOf(path, -1) * PAIR + nodeOf(path, -2), ~index)
  })
  const faces = facesBetween(edges.map(({ path }) => path)).map(
    ([outer, ...holes]): Face => ({
      outer: signedArea(outer as Float64Array) > 0 ? (outer as Float64Array) : turned(outer as Float64Array),
      holes: holes.map((hole) => (signedArea(hole) < 0 ? hole : turned(hole))),
    }),
  )
  const bounding = new Set<number>()
  faces.forEach((face, at) => {
    for (const loop of [face.outer, ...face.holes]) {
      const count = loop.length / 2
      let here = nodes.get(keyOf(...xy(loop, 0)))
      for (let i = 1; i <= count; i += 1) {
        const next = nodes.get(keyOf(...xy(loop, i % count)))
        const way = here === undefined || next === undefined ? undefined : starts.get(here * PAIR + next)
        here = next
        if (way === undefined) continue
        const index = way >= 0 ? way : ~way
        bounding.add(index)
        // The face lies to the left of its loops, outline and holes alike.
        const edge = edges[index] as Edge
        if (way >= 0) {
          edge.left = at
          edge.leftOutline = loop === face.outer
        } else {
          edge.right = at
          edge.rightOutline = loop === face.outer
        }
      }
    }
  })
  edges.forEach((edge, index) => {
    if (bounding.has(index)) return
    edge.left = NOWHERE
    edge.right = NOWHERE
  })
  return faces
}
