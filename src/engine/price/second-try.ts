import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  type Problem,
  type Quantity,
  reckon,
  say,
  type Verdict,
  type Words,
  writeChance,
} from '../quantity/index.ts'
import { breakEvenChance, expectedAgain } from './formulas.ts'
import { chanceFromRecord } from './spoiled.ts'

export interface Chance {
  readonly chance?: Quantity
  readonly from: 'asked' | 'record' | 'not known'
  readonly verdict: Verdict
  readonly problems: readonly Problem[]
}

const verdictOf = (verdict: Verdict['verdict'], reason: Words, remedy: Words): Verdict => ({
  id: 'price.failure',
  part: 'price',
  title: say`Chance of a spoiled pour`,
  verdict,
  reason,
  remedy,
  where: '/pour/price/failedPours',
})

/** The chance of a spoiled pour: asked, or from the shop's own record, or left open. Never invented. */
export const findChance = (roots: Roots, shop: Shop, pour: Pour): Chance => {
  if (pour.price.failedPours !== undefined) {
    const chance = roots.at('/pour/price/failedPours', 'Chance that this pour is spoiled')
    return {
      chance,
      from: 'asked',
      verdict: verdictOf('pass', say`Asked: ${writeChance(chance.value)}.`, say``),
      problems: [],
    }
  }
  const { record } = shop
  if (record !== undefined && record.spoiled > record.pours)
    return {
      from: 'not known',
      verdict: verdictOf(
        'check',
        say`The shop's record holds more spoiled pours than pours, so nothing can be read from it.`,
        say`Correct the record, or say the chance for this pour.`,
      ),
      problems: [
        {
          kind: 'record-impossible',
          where: '/shop/record/spoiled',
          what: say`${record.spoiled} spoiled pours of ${record.pours} can't be.`,
          remedy: say`Count both again.`,
        },
      ],
    }
  if (record !== undefined && record.pours > 0) {
    const chance = chanceFromRecord(
      roots.at('/shop/record/pours', 'Pours in the record', { kind: 'weighed' }),
      roots.at('/shop/record/spoiled', 'Spoiled pours in the record', { kind: 'weighed' }),
    )
    return {
      chance,
      from: 'record',
      verdict: verdictOf(
        'pass',
        say`${record.spoiled} of your ${record.pours} pours were spoiled; the true share may be ${writeChance(chance.low)} to ${writeChance(chance.high)}.`,
        say``,
      ),
      problems: [],
    }
  }
  return {
    from: 'not known',
    verdict: verdictOf(
      'check',
      say`No chance of a spoiled pour is given and the shop has no record, so the price holds nothing for a second try. It is asked, never invented.`,
      say`Say how many pours of this kind are spoiled, or keep a record.`,
    ),
    problems: [],
  }
}

export interface SecondTry {
  /** labour, powder, wax, gas and power of one more try */
  readonly cost: Quantity
  /** the part of it that this price carries */
  readonly share?: Quantity
}

export const planSecondTry = (parts: readonly Quantity[], chance?: Quantity): SecondTry | undefined => {
  if (parts.length === 0) return undefined
  const inputs: Record<string, Quantity> = {}
  parts.forEach((part, index) => {
    inputs[`part${index + 1}`] = part
  })
  const cost = reckon({
    id: 'price.secondTry',
    title: 'What a second try costs',
    unit: 'money',
    says: 'labour up to a sound casting, with powder, wax, gas and power again; the metal comes back',
    source: 'common practice',
    inputs,
    body: (at) => Object.values(at).reduce((sum, one) => sum + one, 0),
  })
  return { cost, share: chance && expectedAgain({ chance, cost }, { id: 'price.again' }) }
}

export interface MouldFirst {
  readonly mould: Quantity
  /** what a mould saves on average: the chance times the second carving */
  readonly saves?: Quantity
  /** chance above which the mould pays */
  readonly breakEven: Quantity
  readonly pays: 'yes' | 'no' | 'too close to call' | 'not known'
  readonly words: Words
}

/** Would a mould of the wax, taken before it is spent, pay for itself on this pour? */
export const weighMould = (roots: Roots, carving: Quantity, chance?: Quantity): MouldFirst => {
  const mould = roots.at('/shop/prices/mould', 'A mould of the wax', { unit: 'money' })
  const breakEven = breakEvenChance({ mould, carving }, { id: 'price.mouldBreakEven' })
  const from = say`It pays from a chance of ${writeChance(breakEven.value)} on.`
  if (chance === undefined)
    return {
      mould,
      breakEven,
      pays: 'not known',
      words: say`A mould costs ${mould} and saves a second carving of ${carving}. ${from}`,
    }
  const saves = expectedAgain(
    { chance, cost: carving },
    { id: 'price.mouldSaves', title: 'What a mould saves on average' },
  )
  const pays = saves.low > mould.value ? 'yes' : saves.high < mould.value ? 'no' : 'too close to call'
  return {
    mould,
    saves,
    breakEven,
    pays,
    words: say`A mould costs ${mould} and saves ${saves} on average, the chance of a second carving of ${carving}. ${from} ${pays === 'yes' ? 'Here it pays.' : pays === 'no' ? 'For one pour it does not pay; for a second casting of the same wax it may.' : 'Too close to call.'}`,
  }
}
