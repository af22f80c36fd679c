import type { Pour, Roots } from '../documents/index.ts'
import { addUp, type Quantity, root } from '../quantity/index.ts'
import { labourCost, usualHours } from './formulas.ts'

export interface LabourStep {
  readonly name: string
  readonly time: Quantity
  readonly cost: Quantity
  /** a spoiled pour has to be given this step again */
  readonly again: boolean
  /** it is the shaping of the wax, which a mould would save */
  readonly carving: boolean
  /** nobody entered hours for such work: these are usual ones, and wide */
  readonly usual: boolean
}

export interface Labour {
  readonly steps: readonly LabourStep[]
  readonly cost: Quantity
  /** the steps of a second try */
  readonly again?: Quantity
  /** those of them that a mould of the wax would save */
  readonly carving?: Quantity
}

/** Step names, as casters write them, that come before the metal is known to be good. */
const SHAPING = /carv|wax|model|sculpt|pattern/i
const CASTING = /sprue|tree|invest|burn|cast|pour|melt/i

type Work = 'carving' | 'casting' | 'finishing'
const WORK: readonly Work[] = ['carving', 'casting', 'finishing']

const workOf = (name: string): Work =>
  SHAPING.test(name) ? 'carving' : CASTING.test(name) ? 'casting' : 'finishing'

/** What such work often takes, in hours for each time it is done, and how far that may be off. */
const USUAL_HOURS: Readonly<Record<Work, { value: number; low: number; high: number }>> = {
  carving: { value: 3, low: 1, high: 9 },
  casting: { value: 1, low: 0.5, high: 2 },
  finishing: { value: 1.5, low: 0.5, high: 4.5 },
}

/** Each kind is carved once, the pour is cast once, and each copy is finished. */
const timesDone = (work: Work, roots: Roots, pour: Pour): Quantity => {
  const id = `price.times.${work}`
  const title = `Times of ${work}`
  if (work === 'finishing' && pour.pieces.length > 0)
    return addUp(
      { id, title, says: 'how many pieces, added up' },
      pour.pieces.map((piece, index) =>
        roots.at(`/pour/pieces/${index}/quantity`, `How many of ${piece.name}`),
      ),
    )
  return root({
    id,
    title,
    unit: '1',
    value: work === 'carving' ? Math.max(1, pour.pieces.length) : 1,
    kind: 'usual',
    source: 'each kind is carved once, the pour is cast once',
  })
}

const usualTime = (work: Work, roots: Roots, pour: Pour): Quantity => {
  const { value, low, high } = USUAL_HOURS[work]
  return usualHours(
    {
      each: root({
        id: `price.usual.${work}`,
        title: `Usual hours of ${work}`,
        unit: 's',
        value: value * 3600,
        low: low * 3600,
        high: high * 3600,
        kind: 'usual',
        source: 'common practice, from memory: up to two or three times more or less; enter your own',
      }),
      times: timesDone(work, roots, pour),
    },
    { id: `price.usualHours.${work}`, title: `Hours of ${work}, usual and not yours` },
  )
}

const escaped = (name: string): string => name.replaceAll('~', '~0').replaceAll('/', '~1')

const sum = (id: string, title: string, says: string, parts: readonly Quantity[]): Quantity | undefined =>
  parts.length === 0 ? undefined : addUp({ id, title, says, unit: 'money' }, parts)

/**
 * Hours by step at the shop's rate, and which of them a spoiled pour repeats. Carving, casting or finishing
 * for which nobody entered hours, not even none, stands with usual ones and their wide range.
 */
export const planLabour = (roots: Roots, pour: Pour): Labour => {
  const rate = roots.at('/shop/prices/labour_h', 'Rate for labour', { unit: 'money/s', scale: 1 / 3600 })
  const named = pour.price.again
  const stepOf = (name: string, time: Quantity, usual: boolean): LabourStep => {
    const work = workOf(name)
    const again = named ? named.includes(name) : work !== 'finishing'
    return {
      name,
      time,
      cost: labourCost({ time, rate }, { id: `price.labour.${name}`, title: `Labour, ${name}` }),
      again,
      carving: again && work === 'carving',
      usual,
    }
  }
  const entered = Object.keys(pour.price.labour_h)
  const steps = [
    ...entered.map((name) =>
      stepOf(
        name,
        roots.at(`/pour/price/labour_h/${escaped(name)}`, `Hours of ${name}`, { unit: 's', scale: 3600 }),
        false,
      ),
    ),
    ...WORK.filter((work) => !entered.some((name) => workOf(name) === work)).map((work) =>
      stepOf(work, usualTime(work, roots, pour), true),
    ),
  ]
  const costs = (which: (step: LabourStep) => boolean): Quantity[] =>
    steps.filter(which).map((step) => step.cost)
  return {
    steps,
    cost: addUp(
      {
        id: 'price.labour',
        title: 'Labour',
        says: 'the hours of every step, at the rate',
        unit: 'money',
      },
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
