import { type ArrangeRequest, revolved, type Sprue, sprueBody } from '../../engine/arrange/index.ts'
import type { TriangleMesh } from '../../engine/piece/mesh/index.ts'
import type { Paint, ScenePart } from './arrangement-scene.ts'
import { edgesOf, type ReliefEdges } from './relief-edges.ts'

const STILL = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]
const DOME_STEPS = 8

const drawn = new Map<string, { mesh: TriangleMesh; edges: ReliefEdges }>()
const MANY = 200

/** A shape made once, so that a part that did not change is not sent to the graphics card again. */
const once = (name: string, make: () => TriangleMesh): { mesh: TriangleMesh; edges: ReliefEdges } => {
  let found = drawn.get(name)
  if (found === undefined) {
    const mesh = make()
    found = { mesh, edges: edgesOf(mesh) }
    drawn.set(name, found)
    for (const old of [...drawn.keys()].slice(0, -MANY)) drawn.delete(old)
  }
  return found
}

export interface TreeParts {
  readonly base: ArrangeRequest['base']
  readonly stem_mm: number
  readonly button_mm: number
  readonly sprues: readonly Sprue[]
}

export const stemEndOf = (base: ArrangeRequest['base'], sprues: readonly Sprue[]): number =>
  Math.max(base.depth_mm, ...sprues.map(({ axis_mm }) => axis_mm[2]))

/** Sprues, main sprue, and the base's cone, or the button that the metal makes of it. */
export const treeParts = (
  { base, stem_mm, button_mm, sprues }: TreeParts,
  paint: Paint,
  chosen: number | undefined,
  near: ReadonlySet<string>,
): ScenePart[] => {
  const bars = sprues.map((sprue, index): ScenePart => {
    const { from_mm, axis_mm, to_mm, sunk_mm, outward, diameter_mm, stemEnd_mm, fillet_mm } = sprue
    const name = `sprue/${index + 1}`
    return {
      id: name,
      ...once(
        `sprue ${[...from_mm, ...to_mm, ...axis_mm, ...outward, sunk_mm, diameter_mm, stemEnd_mm, fillet_mm].join()}`,
        () => sprueBody(sprue),
      ),
      motion: STILL,
      paint,
      picked: true,
      ...(chosen === index ? { mark: 'chosen' as const } : near.has(name) && { mark: 'near' as const }),
    }
  })
  const end = stemEndOf(base, sprues)
  const radius = stem_mm / 2
  const stem = once(`stem ${base.depth_mm} ${end} ${radius}`, () =>
    revolved([
      [radius, base.depth_mm - 0.01],
      ...Array.from({ length: DOME_STEPS + 1 }, (_, k): [number, number] => {
        const turn = (Math.PI / 2) * (k / DOME_STEPS)
        return [k === DOME_STEPS ? 0 : radius * Math.cos(turn), end + radius * Math.sin(turn)]
      }),
    ]),
  )
  const { mouth_mm, neck_mm, depth_mm } = base
  const deep = Math.min(button_mm, depth_mm)
  const wide = neck_mm / 2 + ((mouth_mm - neck_mm) / 2) * (deep / depth_mm)
  const foot =
    paint === 'metal'
      ? once(`button ${wide} ${deep} ${neck_mm} ${depth_mm}`, () =>
          revolved([
            [wide, depth_mm - deep],
            [neck_mm / 2, depth_mm],
          ]),
        )
      : once(`cone ${mouth_mm} ${neck_mm} ${depth_mm}`, () =>
          revolved([
            [mouth_mm / 2, 0],
            [neck_mm / 2, depth_mm],
          ]),
        )
  return [
    ...bars,
    { id: 'stem', ...stem, motion: STILL, paint },
    { id: 'foot', ...foot, motion: STILL, paint: paint === 'metal' ? 'metal' : 'base' },
  ]
}

/** The mould: what the investment leaves round the waxes. */
export const mouldPart = (shape: { mesh: TriangleMesh; edges: ReliefEdges }): ScenePart => ({
  id: 'mould',
  ...shape,
  motion: STILL,
  paint: 'investment',
  cut: true,
})
