import type { Alloy, Pour, Shop } from '../documents/index.ts'
import { standardsMet } from '../materials/fineness-standards.ts'
import {
  keyOf,
  massOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
} from '../quantity/index.ts'
import { type ChargeAnswer, type ChargeRequest, inWords, makeUpFromFine } from './make-up/index.ts'
import { makeUpRequest } from './request.ts'

export interface ChargeLine {
  readonly lot: string
  readonly name: string
  readonly mass: number
}

export interface ChargePlan {
  /** the request and its key, for whoever works out the slow answer */
  readonly request?: ChargeRequest
  readonly key?: string
  /** true while the least-cost make-up is still being worked out and the rule's stands in */
  readonly byRule: boolean
  readonly lines: readonly ChargeLine[]
  readonly fineness?: Quantity
  readonly cost?: Quantity
  readonly returnedShare?: number
  /** the make-up puts fine metal and copper together for the first time */
  readonly fineWithCopper: boolean
  readonly standards: readonly string[]
  readonly answer: RoomAnswer
}

export interface ChargeInput {
  readonly shop: Shop
  readonly pour: Pour
  readonly alloy: Alloy
  readonly toWeigh?: Quantity
  readonly makeUps: Readonly<Record<string, ChargeAnswer>>
}

const NOTHING: RoomAnswer = { verdicts: [], cautions: [], problems: [] }

/** Grams of each lot, the fineness that makes, what it costs, and which marks it may carry. */
export const planCharge = (input: ChargeInput): ChargePlan => {
  const { shop, pour, alloy, toWeigh } = input
  if (toWeigh === undefined)
    return { byRule: false, fineWithCopper: false, lines: [], standards: [], answer: NOTHING }
  const request = makeUpRequest(shop, pour, alloy, toWeigh.value)
  const key = keyOf(request)
  const solved = input.makeUps[key]
  const stockless = request.lots.length === 0
  const made = solved ?? makeUpFromFine(request)
  const verdicts: Verdict[] = []
  const problems: Problem[] = []

  if (made.kind === 'cannot') {
    if (solved === undefined && !stockless)
      return { request, key, byRule: true, fineWithCopper: false, lines: [], standards: [], answer: NOTHING }
    made.problems.forEach((problem, index) => {
      verdicts.push({
        id: `charge.makeUp${index === 0 ? '' : `.${index + 1}`}`,
        part: 'charge',
        verdict: 'stop',
        title: say`The stock cannot make this charge`,
        reason: say`${inWords(problem)}`,
        remedy: say`${problem.remedy}`,
        where: '/shop/lots',
      })
    })
    return {
      request,
      key,
      byRule: false,
      lines: [],
      fineWithCopper: false,
      standards: [],
      answer: { verdicts, cautions: [], problems },
    }
  }

  const low = made.fineness.low_ppt
  const fineness = root({
    id: 'charge.fineness',
    title: 'Fineness',
    unit: 'ppt',
    value: made.fineness.expected_ppt,
    low,
    high: made.fineness.high_ppt,
    kind: 'usual',
    source: 'alligation of the lots: each lot’s assay taken as its own, with half a step of the scale',
  })
  const least = alloy.fineness_ppt?.least
  if (least !== undefined)
    verdicts.push(
      low >= least
        ? {
            id: 'charge.fineness',
            part: 'charge',
            verdict: 'pass',
            title: say`Fineness ${made.fineness.expected_ppt.toFixed(1)}`,
            reason: say`At least ${low.toFixed(1)}, nineteen pours in twenty; ${String(least)} is wanted.`,
            remedy: [],
          }
        : {
            id: 'charge.fineness',
            part: 'charge',
            verdict: made.fineness.expected_ppt < least ? 'stop' : 'check',
            title: say`Fineness may be under ${String(least)}`,
            reason: say`Expected ${made.fineness.expected_ppt.toFixed(1)}, and as low as ${low.toFixed(1)}.`,
            remedy: say`aim higher, or have the returns assayed`,
            where: '/pour/charge/fineness_ppt',
          },
    )
  if (made.by === 'rule')
    for (const note of made.notes)
      if (
        note.kind === 'beyond-stock' &&
        pour.charge.fromStock &&
        shop.lots.length > 0 &&
        solved !== undefined
      )
        verdicts.push({
          id: `charge.stock.${note.lot}`,
          part: 'charge',
          verdict: 'check',
          title: say`Not enough ${note.name}`,
          reason: say`${massOf(note.short_kg)} more than the lot holds.`,
          remedy: say`add a lot under Metal`,
          where: '/shop/lots',
        })
  const kinds = made.lines.map((line) => shop.lots.find((lot) => lot.id === line.lot)?.kind)
  const fineWithCopper =
    alloy.metal !== 'copper' &&
    Object.keys(made.composition).length > 1 &&
    (stockless || (kinds.includes('fine') && kinds.includes('alloying')))
  if (pour.charge.fromStock && shop.lots.length === 0)
    verdicts.push({
      id: 'charge.noStock',
      part: 'charge',
      verdict: 'check',
      title: say`No metal on the shelf yet`,
      reason: say`The make-up is reckoned as if fine metal and alloying metal were at hand.`,
      remedy: say`enter your lots under Metal`,
      where: '/shop/lots',
    })
  const standards =
    alloy.metal === 'copper'
      ? []
      : standardsMet(alloy.metal, low, { soldered: false }).map(
          (row) => `${row.jurisdiction}: ${row.mark} (${row.source})`,
        )
  return {
    request,
    key,
    byRule: solved === undefined && !stockless,
    lines: made.lines.map((line) => ({ lot: line.lot, name: line.name, mass: line.mass_kg })),
    fineness,
    cost:
      made.cost === undefined
        ? undefined
        : root({
            id: 'charge.cost',
            title: 'Metal in the charge',
            unit: 'money',
            value: made.cost,
            kind: 'usual',
            source: 'each lot’s mass times its price',
          }),
    returnedShare: made.returnedShare,
    fineWithCopper,
    standards,
    answer: { verdicts, cautions: [], problems },
  }
}
