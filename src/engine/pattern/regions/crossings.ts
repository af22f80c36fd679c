import type { Mark, PatternProblem, Place } from '../drawing.ts'
import type { Arrangement, Edge, GridRun, Passage } from './arrangement.ts'
import { regionProblems } from './problems.ts'
import type { Seen } from './visible.ts'

/** At a place where more lines than this meet, only this many are looked at. */
const AT_ONE_PLACE = 40
const NAMED = 10

/** Direction in which a way leaves its node, and a number that tells it from all other ways out. */
const leaving = (edges: readonly Edge[], way: number): { readonly turn: number; readonly end: number } => {
  const { path } = edges[way >= 0 ? way : ~way] as Edge
  const i = way >= 0 ? 0 : path.length - 2
  const j = way >= 0 ? 2 : path.length - 4
  const turn = Math.atan2(
    (path[j + 1] as number) - (path[i + 1] as number),
    (path[j] as number) - (path[i] as number),
  )
  return { turn, end: way }
}

const doCross = (edges: readonly Edge[], a: Passage, b: Passage): boolean => {
  const [a1, a2, b1, b2] = [~a.comes, a.goes, ~b.comes, b.goes].map((way) => leaving(edges, way)) as [
    ReturnType<typeof leaving>,
    ReturnType<typeof leaving>,
    ReturnType<typeof leaving>,
    ReturnType<typeof leaving>,
  ]
  if (new Set([a1.end, a2.end, b1.end, b2.end]).size < 4) return false
  const [low, high] = a1.turn < a2.turn ? [a1.turn, a2.turn] : [a2.turn, a1.turn]
  const between = (turn: number): boolean => turn > low && turn < high
  return between(b1.turn) !== between(b2.turn)
}

/** Where outlines that show cross themselves or one another; lines that only touch are not said. */
export const findCrossings = (
  arrangement: Arrangement,
  runs: readonly GridRun[],
  seen: readonly Seen[],
  marks: readonly Mark[],
  placeOf: (x: number, y: number) => Place,
): PatternProblem[] => {
  const { edges, passages } = arrangement
  const shows = ({ run, comes, goes }: Passage): boolean =>
    [comes, goes].every((way) => {
      const one = seen[way >= 0 ? way : ~way]
      return runs[run]?.line ? one?.line : one?.edge
    })
  const atNode = new Map<number, Passage[]>()
  for (const passage of passages) {
    if (!shows(passage)) continue
    const others = atNode.get(passage.node)
    if (others === undefined) atNode.set(passage.node, [passage])
    else if (others.length < AT_ONE_PLACE) others.push(passage)
  }
  const found = new Map<
    string,
    { readonly a: number; readonly b: number; count: number; readonly at: Place }
  >()
  for (const here of atNode.values())
    here.forEach((one, n) => {
      for (const other of here.slice(n + 1)) {
        const [a, b] = [runs[one.run], runs[other.run]].sort((x, y) => (x?.mark ?? 0) - (y?.mark ?? 0))
        if (a === undefined || b === undefined) continue
        if (a.mark !== b.mark && !(a.line && b.line)) continue
        if (!doCross(edges, one, other)) continue
        const key = `${a.mark} ${b.mark}`
        const known = found.get(key)
        if (known !== undefined) known.count += 1
        else {
          const { path } = edges[one.goes >= 0 ? one.goes : ~one.goes] as Edge
          const i = one.goes >= 0 ? 0 : path.length - 2
          found.set(key, {
            a: a.mark,
            b: b.mark,
            count: 1,
            at: placeOf(path[i] as number, path[i + 1] as number),
          })
        }
      }
    })
  const idOf = (mark: number): string => marks[mark]?.id ?? ''
  const [itself, others] = [true, false].map((self) =>
    [...found.values()].filter(({ a, b }) => (a === b) === self),
  )
  const said: PatternProblem[] = []
  for (const { a, count, at } of (itself ?? []).slice(0, NAMED))
    said.push(regionProblems.selfCrossing(idOf(a), count, at))
  if (itself !== undefined && itself.length > NAMED)
    said.push(regionProblems.andMore('self-crossing', itself.length - NAMED))
  for (const { a, b, count, at } of (others ?? []).slice(0, NAMED))
    said.push(regionProblems.crossing(idOf(a), idOf(b), count, at))
  if (others !== undefined && others.length > NAMED)
    said.push(regionProblems.andMore('crossing-outlines', others.length - NAMED))
  return said
}
