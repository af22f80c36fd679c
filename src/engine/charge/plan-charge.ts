import type { Alloy, Pour, Roots, Shop } from '../documents/index.ts'
import { standardsMet } from '../materials/fineness-standards.ts'
import {
  keyOf,
  massOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  reckon,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import {
  buyableFor,
  type ChargeAnswer,
  type ChargeProblem,
  type ChargeRequest,
  causesOf,
  type ChargeLine as MadeLine,
  makeUpFromFine,
} from './make-up/index.ts'
import { makeUpRequest } from './request.ts'
import { restUnknown } from './rest-unknown.ts'

export interface ChargeLine {
  readonly lot: string
  readonly name: string
  readonly mass: number
  /** the whole pieces taken, where the lot is made of pieces [kg] */
  readonly pieces?: readonly number[]
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
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly alloy: Alloy
  readonly toWeigh?: Quantity
  /** the least that fills the pieces, whatever the button [kg] */
  readonly leastToFill?: number
  /** what each piece of the pour would leave to the others, were it cast another day */
  readonly pieces?: readonly { readonly name: string; readonly castMass?: Quantity }[]
  readonly makeUps: Readonly<Record<string, ChargeAnswer>>
}

const NOTHING: RoomAnswer = { verdicts: [], cautions: [], problems: [] }

const PRINCIPAL_NAME = { Ag: 'silver', Au: 'gold', Cu: 'copper' } as const

/** Fineness of the made-up charge, resting on each lot's assay and each weighing. */
const finenessOf = (input: ChargeInput, request: ChargeRequest, lines: readonly MadeLine[]): Quantity => {
  const { roots, shop } = input
  const { principal } = request.alloy
  const step = request.scaleStep_kg
  const inputs: Record<string, Quantity> = {}
  lines.forEach((line, index) => {
    const lotIndex = shop.lots.findIndex((lot) => lot.id === line.lot)
    const path = `/shop/lots/${lotIndex}/composition/${principal}`
    const title = `${PRINCIPAL_NAME[principal]} in ${line.name}`
    inputs[`mass${index + 1}`] = root({
      id: `charge.lot.${line.lot}`,
      title: `${line.name}, weighed off`,
      unit: 'kg',
      value: line.mass_kg,
      u: step / Math.sqrt(12),
      kind: 'asked',
      source: `as made up; the scale reads to ${step * 1000} g`,
    })
    inputs[`share${index + 1}`] =
      lotIndex >= 0 && roots.has(path)
        ? roots.at(path, title, { unit: '1', scale: 1 })
        : root({
            id: `charge.share.${line.lot}`,
            title,
            unit: '1',
            value:
              lotIndex >= 0
                ? 0
                : (buyableFor(request).find((lot) => lot.id === line.lot)?.composition[principal]?.value ??
                  0),
            kind: 'usual',
            source:
              lotIndex >= 0
                ? 'not named in the lot, so taken as none'
                : 'commercial fine metal, common practice',
          })
  })
  return reckon({
    id: 'charge.fineness',
    title: 'Fineness',
    unit: 'ppt',
    says: `each lot’s mass times its share of ${PRINCIPAL_NAME[principal]}, added up, over the charge`,
    source: 'alligation: conservation of mass',
    inputs,
    body: (n) => {
      let fine = 0
      let whole = 0
      lines.forEach((_, index) => {
        const mass = n[`mass${index + 1}`] ?? 0
        fine += mass * (n[`share${index + 1}`] ?? 0)
        whole += mass
      })
      return (1000 * fine) / whole
    },
  })
}

const capital = (words: Words): Words => {
  const [first, ...rest] = words
  return typeof first === 'string' ? [first.charAt(0).toUpperCase() + first.slice(1), ...rest] : words
}

/** Where metal is short by little: what would do without buying, if anything would. */
const doWithLess = (input: ChargeInput, lead: ChargeProblem): Words => {
  if (lead.kind !== 'not-enough-metal') return []
  if (input.leastToFill !== undefined && lead.usable_kg >= input.leastToFill - 1e-9)
    return say`; or make the button smaller, by a base with a smaller mouth: ${massOf(lead.usable_kg)} still fills the pieces, and only the button wants more`
  const enough = (input.pieces ?? [])
    .flatMap(({ name, castMass }) => (castMass === undefined ? [] : [{ name, castMass }]))
    .filter(({ castMass }) => castMass.low >= lead.short_kg)
    .toSorted((a, b) => a.castMass.value - b.castMass.value)
  const [least] = enough
  return least === undefined || (input.pieces ?? []).length < 2
    ? []
    : say`; or leave ${least.name} for another pour, ${least.castMass} and its sprue`
}

/** Metal used before whose rest nobody stated, in this pour's reach: it is left aside, and that is said. */
const leftAside = (shop: Shop, pour: Pour): Verdict[] => {
  if (!pour.charge.fromStock) return []
  const wanted = pour.charge.lots
  return shop.lots.flatMap((lot, index): Verdict[] =>
    lot.mass_g > 0 && restUnknown(lot) && (wanted === undefined || wanted.includes(lot.id))
      ? [
          {
            id: `charge.aside.${lot.id}`,
            part: 'charge',
            // asked for by name, it is missed; else the charge does without it
            verdict: wanted === undefined ? 'pass' : 'check',
            title: say`${lot.name} is left aside`,
            reason: say`Its rest is not known, and lead or cadmium in it can harm.`,
            remedy: wanted === undefined ? [] : say`state what else is in it, or have it assayed`,
            where: `/shop/lots/${index}/composition`,
          },
        ]
      : [],
  )
}

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
  const verdicts: Verdict[] = leftAside(shop, pour)
  const problems: Problem[] = []

  if (made.kind === 'cannot') {
    if (solved === undefined && !stockless)
      return { request, key, byRule: true, fineWithCopper: false, lines: [], standards: [], answer: NOTHING }
    const refused = made.problems.find((problem) => problem.kind === 'bad-request')
    const causes = causesOf(refused === undefined ? made.problems : [refused])
    causes.forEach(({ lead, trouble, remedy }, index) => {
      verdicts.push({
        id: `charge.makeUp${index === 0 ? '' : `.${index + 1}`}`,
        part: 'charge',
        verdict: 'stop',
        title: say`The stock cannot make this charge`,
        // a charge past anything a shop weighs is an earlier figure gone wrong, not a matter of lots
        ...(lead.kind === 'bad-request'
          ? {
              reason: say`A charge of ${massOf(toWeigh.value)} is past what can be made up.`,
              remedy: say`look at the weights, volumes and units of the pieces again`,
            }
          : {
              reason: capital(say`${trouble}.`),
              remedy: say`${remedy}${doWithLess(input, lead)}`,
            }),
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

  // an alloy with no fineness to reach is made of grain bought as it is, whose assay the lot may not name
  const fineness =
    alloy.fineness_ppt === undefined
      ? root({
          id: 'charge.fineness',
          title: 'Fineness',
          unit: 'ppt',
          value: made.fineness.expected_ppt,
          low: made.fineness.low_ppt,
          high: made.fineness.high_ppt,
          kind: 'usual',
          source: 'the lots as they are listed, or the middle of the alloy’s own limits',
        })
      : finenessOf(input, request, made.lines)
  const { low } = fineness
  const least = alloy.fineness_ppt?.least
  const inThousand = (ppt: number): string =>
    `${Number(ppt.toFixed(1))} in 1000${alloy.metal === 'gold' ? `, ${Number(((24 * ppt) / 1000).toFixed(1))} karat` : ''}`
  if (least !== undefined)
    verdicts.push(
      low >= least
        ? {
            id: 'charge.fineness',
            part: 'charge',
            verdict: 'pass',
            title: say`Fineness ${inThousand(fineness.value)}`,
            reason: say`At least ${inThousand(low)}, nineteen pours in twenty; ${inThousand(least)} is wanted.`,
            remedy: [],
          }
        : {
            id: 'charge.fineness',
            part: 'charge',
            verdict: fineness.value < least ? 'stop' : 'check',
            title: say`Fineness may be under ${inThousand(least)}`,
            reason: say`Expected ${inThousand(fineness.value)}, and as low as ${inThousand(low)}.`,
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
    lines: made.lines.map((line) => ({
      lot: line.lot,
      name: line.name,
      mass: line.mass_kg,
      ...(line.pieces_kg !== undefined && { pieces: line.pieces_kg }),
    })),
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
