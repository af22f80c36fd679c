import type { Pour, Roots } from '../documents/index.ts'
import { addUp, type Quantity } from '../quantity/index.ts'
import { labourCost } from './formulas.ts'

export interface LabourStep {
  readonly name: string
  readonly time: Quantity
  readonly cost: Quantity
  /** a spoiled pour has to be given this step again */
  readonly again: boolean
  /** it is the shaping of the wax, which a mould would save */
  readonly carving: boolean
}

export interface Labour {
  readonly steps: readonly LabourStep[]
  readonly cost?: Quantity
  /** the steps of a second try */
  readonly again?: Quantity
  /** those of them that a mould of the wax would save */
  readonly carving?: Quantity
}

/** Step names, as casters write them, that come before the metal is known to be good. */
const BEFORE_THE_CASTING = /carv|wax|model|sculpt|pattern|sprue|tree|invest|burn|cast|pour|melt/i
const SHAPING = /carv|wax|model|sculpt|pattern/i

const escaped = (name: string): string => name.replaceAll('~', '~0').replaceAll('/', '~1')

const sum = (id: string, title: string, says: string, parts: readonly Quantity[]): Quantity | undefined =>
  parts.length === 0 ? undefined : addUp({ id, title, says, unit: 'money' }, parts)

/** Hours by step at the shop's rate, and which of them a spoiled pour repeats. */
export const planLabour = (roots: Roots, pour: Pour): Labour => {
  const rate = roots.at('/shop/prices/labour_h', 'Rate for labour', { unit: 'money/s', scale: 1 / 3600 })
  const named = pour.price.again
  const steps = Object.keys(pour.price.labour_h).map((name): LabourStep => {
    const time = roots.at(`/pour/price/labour_h/${escaped(name)}`, `Hours of ${name}`, {
      unit: 's',
      scale: 3600,
    })
    const again = named ? named.includes(name) : BEFORE_THE_CASTING.test(name)
    return {
      name,
      time,
      cost: labourCost({ time, rate }, { id: `price.labour.${name}`, title: `Labour, ${name}` }),
      again,
      carving: again && SHAPING.test(name),
    }
  })
  const costs = (which: (step: LabourStep) => boolean): Quantity[] =>
    steps.filter(which).map((step) => step.cost)
  return {
    steps,
    cost: sum(
      'price.labour',
      'Labour',
      'the hours of every step, at the rate',
      costs(() => true),
    ),
    again: sum(
      'price.labourAgain',
      'Labour of a second try',
      'the steps up to a sound casting',
      costs((step) => step.again),
    ),
    carving: sum(
      'price.carvingAgain',
      'Carving it again',
      'the steps that shape the wax',
      costs((step) => step.carving),
    ),
  }
}
