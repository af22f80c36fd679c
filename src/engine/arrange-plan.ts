import {
  type Arrangement,
  type ArrangeProblem,
  type ArrangeRequest,
  arrange,
  type MetalBody,
} from './arrange/index.ts'
import { arrangeRequest } from './arrange-request.ts'
import { type ArrangementFacts, factsOfArrangement } from './arrangement-verdict.ts'
import { measureArrangement } from './measure-arrangement.ts'
import type { Solids, TriangleMesh } from './piece/mesh/index.ts'
import type { Plan } from './plan.ts'

/** A plan's waxes given their places; no request where a piece lacks a solid or a sprue. */
export interface ArrangedPlan {
  readonly request?: ArrangeRequest
  readonly arrangement?: Arrangement
  /** pieces, sprues and button as one solid, where a solid modeller was handed in and could join them */
  readonly body?: MetalBody
  /** of the request, then of the arrangement */
  readonly problems: readonly ArrangeProblem[]
  readonly facts: ArrangementFacts
}

/**
 * Slow: some seconds, or as long as a few distances take where every wax is locked.
 * @param meshes  solids in mm by `shapeKey`; of a drawing, as drawn
 * @param solids  measures what came of it, so that the plan reckons with it; only judged without
 * @param effort  how long to look for a smaller flask, as a multiple of the usual
 */
export const arrangePlan = (
  plan: Pick<Plan, 'shop' | 'pour' | 'pieces' | 'tree'>,
  meshes: Readonly<Record<string, TriangleMesh>>,
  solids?: Solids,
  effort?: number,
): ArrangedPlan => {
  const { request, problems: lacking } = arrangeRequest(plan, meshes)
  const asked = {
    request: request && effort !== undefined ? { ...request, effort } : request,
    problems: lacking,
  }
  const arrangement = asked.request && arrange(asked.request)
  const problems = [...asked.problems, ...(arrangement?.problems ?? [])]
  const found =
    solids !== undefined && asked.request !== undefined && arrangement?.flask != null
      ? measureArrangement(asked.request, arrangement, solids)
      : undefined
  if (found !== undefined && 'problem' in found) problems.push(found.problem)
  const made = found !== undefined && 'measured' in found ? found : undefined
  return {
    request: asked.request,
    arrangement,
    body: made?.body,
    problems,
    facts: factsOfArrangement(arrangement, problems, made?.measured),
  }
}
