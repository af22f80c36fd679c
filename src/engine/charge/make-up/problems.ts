import { METRIC, massOf, say, type Words, writeWords } from '../../quantity/index.ts'
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
      /** those of them whose make-up is only half told */
      untold?: string[]
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

/** Shares and fineness alike, so that one sentence never mixes parts in 1000 with percent. */
export const partsIn1000 = (share: number): string => `${Number((share * 1000).toPrecision(4))} in 1000`

const joined = (items: readonly Words[]): Words =>
  items.reduce<Words>(
    (words, item, at) => say`${words}${at === 0 ? '' : at === items.length - 1 ? ' and ' : ', '}${item}`,
    [],
  )

const joinedByOr = (items: readonly Words[]): Words =>
  items.reduce((words, item) => (words.length === 0 ? item : say`${words}; or ${item}`), [])

const listed = (names: readonly string[]): Words => joined(names.map((name) => say`${name}`))

const purchase = (buy: readonly Purchase[] | undefined): Words | undefined =>
  buy && buy.length > 0
    ? say`buy or add ${joined(buy.map((item) => say`${massOf(item.mass_kg)} of ${item.name}`))}`
    : undefined

const guardWords: Record<FinenessGuard, string> = {
  expected: 'fineness',
  'fifth percentile': 'fineness counted on (nineteen times in twenty at least this)',
  'worst case': 'worst-case fineness',
}

/** The trouble in plain words, without its remedy; masses follow the reader's units. */
export const sayTrouble = (problem: ChargeProblem): Words => {
  switch (problem.kind) {
    case 'bad-request':
      return say`${problem.where} is ${problem.found}; ${problem.wanted} is wanted`
    case 'not-enough-metal': {
      const aside = problem.setAside.length > 0 ? say`; left aside: ${listed(problem.setAside)}` : []
      return say`the usable stock holds ${massOf(problem.usable_kg)} of the ${massOf(problem.target_kg)} wanted, ${massOf(problem.short_kg)} short${aside}`
    }
    case 'fineness-out-of-reach':
      return say`the best ${guardWords[problem.counted]} this stock can reach in a charge of this size is ${partsIn1000(problem.best_ppt / 1000)}, and ${partsIn1000(problem.wanted_ppt / 1000)} is wanted`
    case 'too-fine':
      return say`the lowest fineness this stock can be brought to is ${partsIn1000(problem.lowest_ppt / 1000)}, and at most ${partsIn1000(problem.most_ppt / 1000)} is wanted`
    case 'element-out-of-limits':
      return say`${nameElement(problem.element)} can be brought to ${partsIn1000(problem.reachable)}, and at ${problem.side} ${partsIn1000(problem.limit)} is wanted`
    case 'forbidden-element':
      return say`${nameElement(problem.element)} would be at least ${partsIn1000(problem.lowest)}, and at most ${partsIn1000(problem.most)} is allowed; it comes from ${listed(problem.from)}`
    case 'too-much-returned':
      return say`at least ${partsIn1000(problem.leastShare)} of the charge would be metal melted before, and at most ${partsIn1000(problem.most)} is wanted: ${massOf(problem.newMetalShort_kg)} of new metal is missing`
    case 'limits-conflict':
      return say`each limit can be met alone, but not ${listed(problem.limits)} together from this stock`
    case 'pieces-do-not-add-up': {
      const near = [problem.nearestBelow_kg, problem.nearestAbove_kg].flatMap((mass) =>
        mass === undefined ? [] : [say`${massOf(mass)}`],
      )
      const nearest = near.length > 0 ? say`; the nearest that can be weighed is ${joined(near)}` : []
      return say`whole pieces and least amounts do not add up to the charge${nearest}`
    }
    case 'too-few-lots':
      return say`at most ${problem.most} lots are wanted; it takes ${problem.fewest} to keep every limit`
    case 'scale-too-coarse':
      return say`no charge in steps of ${massOf(problem.step_kg)} keeps within every limit, though one between the steps would`
    case 'undecided':
      return say`no make-up was found and none was ruled out (${problem.why})`
  }
}

/** What would mend it, in words. */
export const sayRemedy = (facts: Facts): Words => {
  const buy = 'buy' in facts ? purchase(facts.buy) : undefined
  switch (facts.kind) {
    case 'bad-request':
      return say`correct ${facts.where}`
    case 'not-enough-metal':
      return joinedByOr([
        ...(facts.untold === undefined || facts.untold.length === 0
          ? []
          : [say`state what else is in ${listed(facts.untold)}, or have it assayed`]),
        buy ??
          (facts.setAside.length > 0 ? say`allow a lot that is left aside` : say`add metal to the stock`),
      ])
    case 'fineness-out-of-reach':
      return buy ?? say`aim lower, or at a lower standard`
    case 'too-fine':
      return buy ?? say`add alloying metal, or raise the most fineness allowed`
    case 'element-out-of-limits':
      return buy ?? say`choose another alloy or other lots`
    case 'forbidden-element': {
      const leave = say`leave out ${listed(facts.from)} or send it to be refined`
      return buy ? say`${leave}; ${buy}` : leave
    }
    case 'too-much-returned':
      return buy ?? say`add new metal`
    case 'limits-conflict':
      return buy ?? say`loosen one of them`
    case 'pieces-do-not-add-up':
      return facts.nearestAbove_kg !== undefined
        ? say`weigh ${massOf(facts.nearestAbove_kg)} instead, or cut a piece`
        : (buy ?? say`cut a piece, or lower a least amount`)
    case 'too-few-lots':
      return say`allow ${facts.fewest} lots`
    case 'scale-too-coarse':
      return say`weigh on a finer scale, make a larger charge, or loosen the limits a little`
    case 'undecided':
      return say`set aside some lots and try again`
  }
}

/** The trouble as plain text, in grams. */
export const inWords = (problem: ChargeProblem): string => writeWords(sayTrouble(problem), METRIC)

/** A problem with its remedy as plain text, in grams. */
export const problem = (facts: Facts): ChargeProblem =>
  ({ ...facts, remedy: writeWords(sayRemedy(facts), METRIC) }) as ChargeProblem
