import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  addUp,
  decide,
  type Figure,
  moneyOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import { type ClientsMetal, clientsMetalVerdict, keepAccount } from './clients-metal.ts'
import { massPrice, metalLost, metalSold, shareOf } from './formulas.ts'
import { type Labour, type LabourStep, planLabour } from './labour.ts'
import { priceMetal } from './metal-price.ts'
import type { PriceInput } from './price-input.ts'
import {
  type Chance,
  findChance,
  type MouldFirst,
  planSecondTry,
  type SecondTry,
  weighMould,
} from './second-try.ts'

/** One line of "where the money goes". */
export interface PriceLine {
  readonly name: 'metal' | 'metal lost' | 'stone' | 'wax' | 'powder' | 'power' | 'gas' | 'labour'
  readonly amount: Quantity
}

/** What a client could be given: one plain figure, and nothing of the shop's own sums. */
export interface ClientQuote {
  readonly price: number
  /** metal and stones as they stand in the price, and the making as what is left of it */
  readonly lines: readonly { readonly words: Words; readonly amount: number }[]
  readonly deposit: number
  readonly words: Words
}

export interface PriceAnswer {
  readonly lines: readonly PriceLine[]
  readonly labour: Labour
  readonly metalPrice?: Quantity
  /** money in the crucible on the day, most of which comes back as metal */
  readonly tiedUp?: Quantity
  readonly direct?: Quantity
  readonly overhead?: Quantity
  readonly chance: Chance
  readonly secondTry?: SecondTry
  readonly margin?: Quantity
  /** what to ask: everything above together */
  readonly ask?: Quantity
  /** what the client is quoted: what to ask, rounded up, or the caster's own figure; waits for the caster's hours */
  readonly quoted?: Quantity
  /** half of what is quoted, before the wax is spent */
  readonly deposit?: Quantity
  readonly quote?: ClientQuote
  /** the steps whose hours are usual ones, for which the quote waits */
  readonly quoteWaitsFor: readonly string[]
  readonly mould?: MouldFirst
  readonly clientsMetal?: ClientsMetal
  /** small costs that are not in the sum because they are not known */
  readonly leftOut: readonly string[]
  readonly answer: RoomAnswer
}

/** A quote holds this long, and while the metal stays within this share of today's price. Common practice. */
const QUOTE_DAYS = 30
const METAL_MAY_MOVE = 'a tenth'
const HALF = 0.5

const halfToBegin = (): Quantity =>
  root({
    id: 'price.half',
    title: 'Share asked to begin with',
    unit: '1',
    value: HALF,
    kind: 'usual',
    source: 'common practice: 50 to 60 in 100',
  })

const stoneLines = (roots: Roots, pour: Pour): Quantity[] =>
  pour.pieces.flatMap((piece, index) => {
    const path = `/pour/pieces/${index}/seat/price`
    if (piece.seat === undefined || !roots.has(path)) return []
    const each = roots.at(path, `Price of the ${piece.seat.name}`, { unit: 'money' })
    const count = roots.at(`/pour/pieces/${index}/quantity`, `How many of ${piece.name}`)
    return [
      shareOf(
        { sum: each, share: count },
        { id: `price.stone.${piece.id}`, title: `Stones for ${piece.name}` },
      ),
    ]
  })

interface Lines {
  readonly lines: readonly PriceLine[]
  readonly leftOut: readonly string[]
  readonly metalPrice?: Quantity
  readonly fineShare?: Quantity
  readonly problems: readonly Problem[]
  /** false when the metal belongs in the price and has no figure */
  readonly whole: boolean
}

const planLines = (input: PriceInput, labour: Labour): Lines => {
  const { roots, shop, pour, alloyIndex, finishedMassTotal, castMassTotal } = input
  const lines: PriceLine[] = []
  const leftOut: string[] = []
  const problems: Problem[] = []
  const clients = pour.price.clientsMetal
  const metal = priceMetal(roots, shop, alloyIndex, input.fineness)
  if (!clients) {
    problems.push(...metal.problems)
    if (finishedMassTotal === undefined)
      problems.push({
        kind: 'finished-mass-missing',
        where: '/pour/pieces',
        what: say`The finished weight is not known yet, so there is no price.`,
        remedy: say`Give every piece a weight.`,
      })
    if (finishedMassTotal && metal.price) {
      lines.push({
        name: 'metal',
        amount: metalSold({ mass: finishedMassTotal, price: metal.price }, { id: 'price.metal' }),
      })
      if (castMassTotal)
        lines.push({
          name: 'metal lost',
          amount: metalLost(
            {
              cast: castMassTotal,
              finished: finishedMassTotal,
              gone: roots.at('/shop/prices/unrecoveredLoss', 'Share of the loss never recovered'),
              price: metal.price,
            },
            { id: 'price.metalLost' },
          ),
        })
      else leftOut.push('metal lost in finishing')
    }
  }
  const stones = stoneLines(roots, pour)
  if (stones.length > 0)
    lines.push({
      name: 'stone',
      amount: addUp({ id: 'price.stones', title: 'Stones', says: 'every stone, times how many' }, stones),
    })
  if (pour.pieces.some((piece) => piece.seat !== undefined && piece.seat.price === undefined))
    leftOut.push('a stone without a price')
  if (input.waxMass)
    lines.push({
      name: 'wax',
      amount: massPrice(
        {
          mass: input.waxMass,
          price: roots.at('/shop/prices/wax_g', 'Price of wax', { unit: 'money/kg', scale: 1000 }),
        },
        { id: 'price.wax' },
      ),
    })
  else leftOut.push('wax')
  if (input.powderCost) lines.push({ name: 'powder', amount: input.powderCost })
  else leftOut.push('investment')
  if (input.energyCost) lines.push({ name: 'power', amount: input.energyCost })
  else leftOut.push('power for the kiln')
  lines.push({
    name: 'gas',
    amount: roots.at('/shop/prices/gas_pour', 'Gas for a pour', { unit: 'money' }),
  })
  lines.push({ name: 'labour', amount: labour.cost })
  const whole = clients || lines.some((line) => line.name === 'metal')
  return { lines, leftOut, metalPrice: metal.price, fineShare: metal.fineShare, problems, whole }
}

const AGAIN: readonly PriceLine['name'][] = ['wax', 'powder', 'power', 'gas']

const quoteLines = (input: PriceInput, lines: readonly PriceLine[], price: number): ClientQuote['lines'] => {
  const { shop, pour, alloyIndex, finishedMassTotal } = input
  const alloy = shop.alloys[alloyIndex]?.name ?? 'Metal'
  const stones = pour.pieces.flatMap((piece) => (piece.seat ? [piece.seat.name] : []))
  const shown = lines.flatMap((line) => {
    if (line.name === 'metal')
      return [{ words: say`${alloy}, about ${finishedMassTotal ?? ''} finished`, amount: line.amount.value }]
    return line.name === 'stone' ? [{ words: say`${stones.join(', ')}`, amount: line.amount.value }] : []
  })
  const making = price - shown.reduce((sum, line) => sum + line.amount, 0)
  return [...shown, { words: say`Carving, casting and finishing`, amount: making }]
}

const OWN_QUOTE = '/pour/price/quote'

/** A price as it is said: up to the next whole unit, five or ten, by its size. */
const roundUp = (sum: number): number => {
  const step = sum >= 1000 ? 10 : sum >= 100 ? 5 : 1
  return Math.ceil(sum / step - 1e-9) * step
}

/** The caster's own figure, else what to ask, rounded up. Hours that nobody entered are no base for a promise. */
const quoteFor = (roots: Roots, ask: Quantity | undefined, hoursAreUsual: boolean): Quantity | undefined =>
  roots.has(OWN_QUOTE)
    ? roots.at(OWN_QUOTE, 'Quoted to the client', { unit: 'money', kind: 'asked' })
    : ask === undefined || hoursAreUsual
      ? undefined
      : decide({
          id: 'price.quoted',
          title: 'Quoted to the client',
          unit: 'money',
          says: 'what to ask, rounded up to a whole unit: to five from a hundred, to ten from a thousand',
          source: 'common practice: a quote is one round figure, and it is kept',
          inputs: { ask },
          body: (n) => roundUp(n.ask),
        })

const quoteUnderCost = (quoted: Quantity | undefined, cost: Quantity | undefined): Verdict[] =>
  quoted === undefined || cost === undefined || quoted.value >= cost.value
    ? []
    : [
        {
          id: 'price.quote',
          part: 'price',
          verdict: 'check',
          title: say`The quote is less than it costs you`,
          reason: say`Quoted ${quoted}; it costs you ${cost}, without margin.`,
          remedy: say`quote more, or know why not`,
          where: OWN_QUOTE,
        },
      ]

const quoteWords = (input: PriceInput, metalPrice: Quantity | undefined, deposit: Figure): Words => {
  const metal = input.shop.alloys[input.alloyIndex]?.metal ?? 'metal'
  return input.pour.price.clientsMetal || metalPrice === undefined
    ? say`Good for ${QUOTE_DAYS} days. Half to begin, ${deposit}, and half when it is ready. Metal of your own is weighed, assayed and kept on a separate account; unused metal is returned.`
    : say`Good for ${QUOTE_DAYS} days; if ${metal} moves by more than ${METAL_MAY_MOVE}, the metal is charged at the day's price. Half to begin, ${deposit}, and half when it is ready.`
}

const metalDated = (shop: Shop): Verdict => ({
  id: 'price.metal',
  part: 'price',
  title: say`Price of the metal`,
  ...(shop.prices.asOf === undefined
    ? {
        verdict: 'check' as const,
        reason: say`The metal prices carry no date, and metal moves within days.`,
        remedy: say`Enter today's prices with their date.`,
      }
    : { verdict: 'pass' as const, reason: say`Entered: ${shop.prices.asOf}.`, remedy: say`` }),
  where: '/shop/prices/asOf',
})

/** To two figures: usual hours are no better known than that. */
const inHours = (seconds: number): string => `${Number((seconds / 3600).toPrecision(2))} h`

const labourEntered = (labour: Labour): Verdict => {
  const base = { id: 'price.labour', part: 'price', where: '/pour/price/labour_h' } as const
  const usual = labour.steps.filter((step) => step.usual)
  const names = (steps: readonly LabourStep[]): string => steps.map((step) => step.name).join(', ')
  if (usual.length === 0)
    return {
      ...base,
      verdict: 'pass',
      title: say`Hours in the price`,
      reason: say`${labour.cost} for ${names(labour.steps)}.`,
      remedy: [],
    }
  const hours = addUp(
    { id: 'price.usualHours', title: 'Usual hours in the price', says: 'usual hours, added up' },
    usual.map((step) => step.time),
  )
  return {
    ...base,
    verdict: 'check',
    title: say`Hours in the price: usual, not yours`,
    reason: say`Nobody entered hours for ${names(usual)}. The price holds usual ones, about ${inHours(hours.value)}, and ${inHours(hours.low)} to ${inHours(hours.high)} would be no surprise: carving time is hard to estimate.`,
    remedy: say`enter your own hours of carving, casting and finishing; 0 where there is none`,
  }
}

/**
 * What the pour costs and what to ask: metal at what replacing it costs today, what is never recovered,
 * consumables, stones, labour by step, overhead, the share of a second try, margin. Without a finished weight
 * or a metal price there is no sum: a price that lacks its metal would mislead.
 */
export const planPrice = (input: PriceInput): PriceAnswer => {
  const { roots, shop, pour } = input
  const labour = planLabour(roots, pour)
  const { lines, leftOut, metalPrice, fineShare, problems, whole } = planLines(input, labour)
  const chance = findChance(roots, shop, pour)
  const repeated = lines.filter((line) => AGAIN.includes(line.name)).map((line) => line.amount)
  const secondTry = planSecondTry([...(labour.again ? [labour.again] : []), ...repeated], chance.chance)
  const mould = labour.carving && weighMould(roots, labour.carving, chance.chance)

  const direct = whole
    ? addUp(
        { id: 'price.direct', title: 'Materials and labour', says: 'every line together', unit: 'money' },
        lines.map((line) => line.amount),
      )
    : undefined
  const overhead =
    direct &&
    shareOf(
      { sum: direct, share: roots.at('/shop/prices/overhead', 'Overhead of the shop') },
      { id: 'price.overhead', title: 'For the shop' },
    )
  const cost =
    direct &&
    overhead &&
    addUp(
      {
        id: 'price.cost',
        title: 'What it costs you',
        says: 'materials and labour, overhead, and the share of a second try',
      },
      [direct, overhead, ...(secondTry?.share ? [secondTry.share] : [])],
    )
  const margin =
    cost &&
    shareOf(
      { sum: cost, share: roots.at('/shop/prices/margin', 'Margin') },
      { id: 'price.margin', title: 'Margin' },
    )
  const ask =
    cost &&
    margin &&
    addUp({ id: 'price.ask', title: 'Ask', says: 'what it costs, and the margin' }, [cost, margin])
  const quoteWaitsFor = labour.steps.filter((step) => step.usual).map((step) => step.name)
  const quoted = quoteFor(roots, ask, quoteWaitsFor.length > 0)
  const deposit =
    quoted && shareOf({ sum: quoted, share: halfToBegin() }, { id: 'price.deposit', title: 'To begin with' })
  const tiedUp =
    input.metalCost ??
    (input.charge && metalPrice
      ? metalSold(
          { mass: input.charge, price: metalPrice },
          { id: 'price.tiedUp', title: 'Metal in the crucible' },
        )
      : undefined)
  const clientsMetal = pour.price.clientsMetal && fineShare ? keepAccount(input, fineShare) : undefined
  const verdicts: Verdict[] = [
    ...(pour.price.clientsMetal ? [clientsMetalVerdict(clientsMetal)] : [metalDated(shop)]),
    labourEntered(labour),
    ...quoteUnderCost(quoted, cost),
    chance.verdict,
  ]
  return {
    lines,
    labour,
    metalPrice,
    tiedUp: pour.price.clientsMetal ? undefined : tiedUp,
    direct,
    overhead,
    chance,
    secondTry,
    margin,
    ask,
    quoted,
    deposit,
    quoteWaitsFor,
    quote:
      quoted && deposit
        ? {
            price: quoted.value,
            lines: quoteLines(input, lines, quoted.value),
            deposit: deposit.value,
            words: say`${moneyOf(quoted.value)}. ${quoteWords(input, metalPrice, moneyOf(deposit.value))}`,
          }
        : undefined,
    mould,
    clientsMetal,
    leftOut,
    answer: { verdicts, cautions: [], problems: [...problems, ...chance.problems] },
  }
}
