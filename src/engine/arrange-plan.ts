import { type Arrangement, type ArrangeProblem, type ArrangeRequest, arrange } from './arrange/index.ts'
import { arrangeRequest } from './arrange-request.ts'
import { type ArrangementFacts, factsOfArrangement } from './arrangement-verdict.ts'
import type { TriangleMesh } from './piece/mesh/index.ts'
import type { Plan } from './plan.ts'

/** A plan's waxes given their places; no request where a piece lacks a solid or a sprue. */
export interface ArrangedPlan {
  readonly request?: ArrangeRequest
  readonly arrangement?: Arrangement
  /** of the request, then of the arrangement */
  readonly problems: readonly ArrangeProblem[]
  readonly facts: ArrangementFacts
}

/** Slow: some seconds. @param meshes  solids in mm by `shapeKey`; of a drawing, as drawn */
export const arrangePlan = (
  plan: Pick<Plan, 'shop' | 'pour' | 'pieces' | 'tree'>,
  meshes: Readonly<Record<string, TriangleMesh>>,
): ArrangedPlan => {
  const asked = arrangeRequest(plan, meshes)
  const arrangement = asked.request && arrange(asked.request)
  const problems = [...asked.problems, ...(arrangement?.problems ?? [])]
  return { request: asked.request, arrangement, problems, facts: factsOfArrangement(arrangement, problems) }
}
