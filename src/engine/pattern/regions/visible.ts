import type { Mark } from '../drawing.ts'
import { isInside } from '../loops.ts'
import { type Arrangement, type Edge, NOWHERE, OUTSIDE } from './arrangement.ts'
import { boxOf } from './loops.ts'

const NONE = -1

/** What lies over one face of everything drawn, hidden or not. */
interface Cover {
  /** the topmost fill's mark, or -1 for bare paper */
  readonly top: number
  /** the smallest fill or closed line round the face that is not hidden by a later fill; -1 for none */
  readonly namedBy: number
}

export interface Covers {
  /** by face of the arrangement */
  readonly over: readonly Cover[]
  /** marks whose fill covers some face, hidden or not */
  readonly filling: ReadonlySet<number>
}

/** What covers each face; `sizes` tells by mark which of two closed lines is the inner one. */
export const coversOf = (
  arrangement: Arrangement,
  marks: readonly Mark[],
  sizes: readonly (number | undefined)[],
): Covers => {
  const { edges, faces } = arrangement
  const beside: { readonly face: number; readonly edge: Edge; readonly inward: boolean }[][] = Array.from(
    { length: faces.length + 1 },
    () => [],
  )
  for (const edge of edges) {
    if (edge.left === NOWHERE || edge.left === edge.right) continue
    beside[edge.right + 1]?.push({ face: edge.left, edge, inward: true })
    beside[edge.left + 1]?.push({ face: edge.right, edge, inward: false })
  }
  const covers: Cover[] = Array.from({ length: faces.length }, () => ({ top: NONE, namedBy: NONE }))
  const filling = new Set<number>()
  const seen = new Uint8Array(faces.length + 1)
  const winding = new Map<number, number>()
  const cross = (edge: Edge, inward: boolean): void => {
    for (const [mark, times] of edge.winds) {
      const now = (winding.get(mark) ?? 0) + (inward ? times : -times)
      if (now === 0) winding.delete(mark)
      else winding.set(mark, now)
    }
  }
  const coverHere = (): Cover => {
    let top = NONE
    for (const [mark, times] of winding) {
      const fill = marks[mark]?.fill
      if (fill === undefined || (fill.rule === 'evenodd' && times % 2 === 0)) continue
      filling.add(mark)
      if (mark > top) top = mark
    }
    let namedBy = top
    for (const mark of winding.keys()) {
      if (mark <= top || marks[mark]?.fill !== undefined) continue
      const smaller = (sizes[mark] ?? Number.POSITIVE_INFINITY) - (sizes[namedBy] ?? Number.POSITIVE_INFINITY)
      if (smaller < 0 || (smaller === 0 && mark > namedBy)) namedBy = mark
    }
    return { top, namedBy }
  }
  // From the endless face inward, crossing one edge at a time; the way back undoes what the way in did.
  const way: { readonly face: number; next: number; readonly edge?: Edge; readonly inward: boolean }[] = [
    { face: OUTSIDE, next: 0, inward: true },
  ]
  seen[0] = 1
  for (let here = way.at(-1); here !== undefined; here = way.at(-1)) {
    const door = beside[here.face + 1]?.[here.next]
    here.next += 1
    if (door === undefined) {
      way.pop()
      if (here.edge !== undefined) cross(here.edge, !here.inward)
    } else if (seen[door.face + 1] === 0) {
      seen[door.face + 1] = 1
      cross(door.edge, door.inward)
      covers[door.face] = coverHere()
      way.push({ face: door.face, next: 0, edge: door.edge, inward: door.inward })
    }
  }
  return { over: covers, filling }
}

export interface Seen {
  /** its centre line shows */
  readonly line: boolean
  /** it shows at all: as a line, or where two colours meet */
  readonly edge: boolean
}

/** By edge: what of it shows. A line is hidden where later fills lie over both of its sides. */
export const whatShows = (
  arrangement: Arrangement,
  marks: readonly Mark[],
  covers: readonly Cover[],
): Seen[] => {
  const { edges, faces } = arrangement
  const boxes = faces.map(({ outer }) => boxOf(outer))
  const topOf = (face: number): number => covers[face]?.top ?? NONE
  const faceRound = (x: number, y: number): number =>
    faces.findIndex(({ outer, holes }, at) => {
      const box = boxes[at]
      if (box === undefined || x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return false
      return isInside([outer, ...holes], x, y)
    })
  return edges.map((edge): Seen => {
    if (edge.left === NOWHERE) {
      if (edge.lines.length === 0) return { line: false, edge: false }
      const [ax, ay, bx, by] = edge.path as unknown as [number, number, number, number]
      const top = topOf(faceRound((ax + bx) / 2, (ay + by) / 2))
      const line = edge.lines.some((mark) => mark >= top)
      return { line, edge: line }
    }
    const left = topOf(edge.left)
    const right = topOf(edge.right)
    const line = edge.lines.some((mark) => mark >= Math.min(left, right))
    return { line, edge: line || marks[left]?.fill?.colour !== marks[right]?.fill?.colour }
  })
}
