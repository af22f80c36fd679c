import type { ElementSymbol, FinenessGuard } from './lots.ts'
import { nameElement } from './lots.ts'

/** What to buy so that the same request can be made up, at the scale's step. */
export type Purchase = { lot: string; name: string; mass_kg: number }

/**
 * Why a charge cannot be made up. `where` is the path in the request that the remedy would change;
 * `buy` is the least metal that, added to the stock, meets every limit at once (absent: none would).
 */
export type ChargeProblem = { where: string; remedy: string } & (
  | { kind: 'bad-request'; found: string; wanted: string }
  | {
      kind: 'not-enough-metal'
      usable_kg: number
      target_kg: number
      short_kg: number
      setAside: string[]
      buy?: Purchase[]
    }
  | {
      kind: 'fineness-out-of-reach'
      counted: FinenessGuard
      best_ppt: number
      wanted_ppt: number
      buy?: Purchase[]
    }
  | { kind: 'too-fine'; lowest_ppt: number; most_ppt: number; buy?: Purchase[] }
  | {
      kind: 'element-out-of-limits'
      element: ElementSymbol
      side: 'least' | 'most'
      reachable: number
      limit: number
      buy?: Purchase[]
    }
  | {
      kind: 'forbidden-element'
      element: ElementSymbol
      lowest: number
      most: number
      from: string[]
      buy?: Purchase[]
    }
  | {
      kind: 'too-much-returned'
      leastShare: number
      most: number
      newMetalShort_kg: number
      buy?: Purchase[]
    }
  | { kind: 'limits-conflict'; limits: string[]; buy?: Purchase[] }
  | { kind: 'pieces-do-not-add-up'; nearestBelow_kg?: number; nearestAbove_kg?: number; buy?: Purchase[] }
  | { kind: 'too-few-lots'; most: number; fewest: number }
  | { kind: 'scale-too-coarse'; step_kg: number }
  | { kind: 'undecided'; why: string }
)

type Facts = ChargeProblem extends infer Problem
  ? Problem extends ChargeProblem
    ? Omit<Problem, 'remedy'>
    : never
  : never

/** Grams to as many figures as the eye wants; a face that shows other units says it in its own words. */
const grams = (mass_kg: number): string => `${Number((mass_kg * 1000).toPrecision(6))} g`
const perThousand = (ppt: number): string => `${ppt.toFixed(1)} parts per thousand`
const percent = (share: number): string => `${Number((share * 100).toPrecision(3))} %`

const listWords = (words: string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`

const buyWords = (buy: Purchase[] | undefined): string | undefined =>
  buy && buy.length > 0
    ? `buy or add ${listWords(buy.map((item) => `${grams(item.mass_kg)} of ${item.name}`))}`
    : undefined

const guardWords: Record<FinenessGuard, string> = {
  expected: 'fineness',
  'fifth percentile': 'fineness counted on (nineteen times in twenty at least this)',
  'worst case': 'worst-case fineness',
}

/** The trouble in plain words, without its remedy. */
export const inWords = (problem: ChargeProblem): string => {
  switch (problem.kind) {
    case 'bad-request':
      return `${problem.where} is ${problem.found}; ${problem.wanted} is wanted`
    case 'not-enough-metal': {
      const aside = problem.setAside.length > 0 ? `; set aside: ${listWords(problem.setAside)}` : ''
      return `the usable stock holds ${grams(problem.usable_kg)} of the ${grams(problem.target_kg)} wanted, ${grams(problem.short_kg)} short${aside}`
    }
    case 'fineness-out-of-reach':
      return `the best ${guardWords[problem.counted]} this stock can reach is ${perThousand(problem.best_ppt)}, ${perThousand(problem.wanted_ppt)} wanted`
    case 'too-fine':
      return `the lowest fineness this stock can be brought to is ${perThousand(problem.lowest_ppt)}, at most ${perThousand(problem.most_ppt)} wanted`
    case 'element-out-of-limits':
      return `${nameElement(problem.element)} can be brought to ${percent(problem.reachable)}, at ${problem.side} ${percent(problem.limit)} wanted`
    case 'forbidden-element':
      return `${nameElement(problem.element)} would be at least ${percent(problem.lowest)}, at most ${percent(problem.most)} allowed; it comes from ${listWords(problem.from)}`
    case 'too-much-returned':
      return `at least ${percent(problem.leastShare)} of the charge would be metal melted before, at most ${percent(problem.most)} wanted: ${grams(problem.newMetalShort_kg)} of new metal is missing`
    case 'limits-conflict':
      return `each limit can be met alone, but not ${listWords(problem.limits)} together from this stock`
    case 'pieces-do-not-add-up': {
      const near = [problem.nearestBelow_kg, problem.nearestAbove_kg].filter((mass) => mass !== undefined)
      const nearest =
        near.length > 0 ? `; the nearest that can be weighed is ${listWords(near.map(grams))}` : ''
      return `whole pieces and least amounts do not add up to the charge${nearest}`
    }
    case 'too-few-lots':
      return `at most ${problem.most} lots are wanted; it takes ${problem.fewest} to keep every limit`
    case 'scale-too-coarse':
      return `no charge in steps of ${grams(problem.step_kg)} keeps within every limit, though one between the steps would`
    case 'undecided':
      return `no make-up was found and none was ruled out (${problem.why})`
  }
}

const remedyFor = (facts: Facts): string => {
  const buy = 'buy' in facts ? buyWords(facts.buy) : undefined
  switch (facts.kind) {
    case 'bad-request':
      return `correct ${facts.where}`
    case 'not-enough-metal':
      return buy ?? (facts.setAside.length > 0 ? 'allow a lot that is set aside' : 'add metal to the stock')
    case 'fineness-out-of-reach':
      return buy ?? 'aim lower, or at a lower standard'
    case 'too-fine':
      return buy ?? 'add alloying metal, or raise the most fineness allowed'
    case 'element-out-of-limits':
      return buy ?? 'choose another alloy or other lots'
    case 'forbidden-element':
      return buy
        ? `leave out ${listWords(facts.from)} or send it to be refined; ${buy}`
        : `leave out ${listWords(facts.from)} or send it to be refined`
    case 'too-much-returned':
      return buy ?? 'add new metal'
    case 'limits-conflict':
      return buy ?? 'loosen one of them'
    case 'pieces-do-not-add-up':
      return facts.nearestAbove_kg !== undefined
        ? `weigh ${grams(facts.nearestAbove_kg)} instead, or cut a piece`
        : (buy ?? 'cut a piece, or lower a least amount')
    case 'too-few-lots':
      return `allow ${facts.fewest} lots`
    case 'scale-too-coarse':
      return 'weigh on a finer scale, make a larger charge, or loosen the limits a little'
    case 'undecided':
      return 'set aside some lots and try again'
  }
}

/** A problem with its remedy in words. */
export const problem = (facts: Facts): ChargeProblem =>
  ({ ...facts, remedy: remedyFor(facts) }) as ChargeProblem
