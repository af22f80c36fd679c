import type { ChargeAnswer } from './answer.ts'
import { composeAnswer, keepsLimits } from './answer.ts'
import { checkRequest } from './check-request.ts'
import { explainCannot } from './explain-cannot.ts'
import { findCharge } from './find-charge.ts'
import { limitsOf } from './limits.ts'
import type { LinearSolver } from './linear-model.ts'
import type { ChargeRequest, CountedLot } from './lots.ts'
import { countLots } from './lots.ts'
import { problem } from './problems.ts'
import { toSteps } from './round-to-scale.ts'

/**
 * The cheapest charge from the stock that keeps every limit, in masses the scale can weigh.
 *
 * @param request plain JSON; see ChargeRequest for units and ranges
 * @param solver a linear solver the face has loaded
 * @returns lines that sum to the target to the last scale step, or every reason why there is no such charge.
 * Equal requests (lots in any order) give equal answers.
 */
export const makeUpCharge = async (request: ChargeRequest, solver: LinearSolver): Promise<ChargeAnswer> => {
  const bad = checkRequest(request)
  if (bad.length > 0) return { kind: 'cannot', problems: bad }

  const { lots, setAside } = countLots(request)
  const found = await findCharge(
    {
      request,
      lots,
      total: toSteps(request.target_kg, request.scaleStep_kg),
      limits: limitsOf(request),
      guarded: true,
      objective: { direction: 'least', perStep: pricesPerStep(request, lots) },
    },
    solver,
  )
  if (found.kind === 'found') {
    // The solver works to a tolerance; what is handed on was counted again in whole steps.
    if (!keepsLimits(request, lots, found.counts)) {
      const why = "the solver's answer did not hold a limit when counted again"
      return { kind: 'cannot', problems: [problem({ kind: 'undecided', where: 'lots', why })] }
    }
    const answer = composeAnswer(request, lots, found.counts, found.pieces, 'solved')
    return { ...answer, notes: [...answer.notes, ...found.notes] }
  }
  if (found.kind === 'undecided') {
    return { kind: 'cannot', problems: [problem({ kind: 'undecided', where: 'lots', why: found.why })] }
  }
  return { kind: 'cannot', problems: await explainCannot(request, lots, setAside, solver) }
}

// A lot's price falls by this share of the dearest price for each earlier melt when old returns are wanted
// first: enough to settle between like lots, too little to outweigh a real difference in cost.
const leaningPerMelt = 0.002

const pricesPerStep = (request: ChargeRequest, lots: CountedLot[]): number[] => {
  const prices = lots.map(({ lot }) => lot.price_per_kg * request.scaleStep_kg)
  if (!request.preferOldReturns) return prices
  const unit = Math.max(...prices, 0) > 0 ? Math.max(...prices) : request.scaleStep_kg
  return prices.map((price, index) => price - leaningPerMelt * unit * (lots[index]?.lot.generation ?? 0))
}
