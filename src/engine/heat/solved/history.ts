import { type Quantity, reckon } from '../../quantity/index.ts'
import type { BurnoutCourse, CoreHistory, FlaskQuantities } from '../burnout-model.ts'
import type { KilnFlask } from './follow.ts'
import {
  type CoreAnswer,
  type CoreEvent,
  type CoreEvents,
  type CoreQuestion,
  followEvents,
  type Melting,
  solveCore,
  UNSURE,
} from './solve-core.ts'

type Numbers = Readonly<Record<string, number>>

const meltingOf = (melts: Quantity | undefined): Melting | undefined =>
  melts && { at: melts.value, u: melts.u }

const FLASK = [
  'radius',
  'height',
  'wall',
  'waxShare',
  ...UNSURE,
] as const satisfies readonly (keyof KilnFlask)[]

/** The numbers of a flask's quantities, as the solver takes them. */
export const numbersOf = (quantities: FlaskQuantities): Pick<CoreQuestion, 'flask' | 'spread'> => ({
  flask: Object.fromEntries(FLASK.map((name) => [name, quantities[name].value])) as Record<
    (typeof FLASK)[number],
    number
  >,
  spread: Object.fromEntries(UNSURE.map((name) => [name, quantities[name].u])),
})

export const meltsOf = ({
  waxMelts,
  sprueMelts,
}: Pick<BurnoutCourse, 'waxMelts' | 'sprueMelts'>): CoreQuestion['melts'] => ({
  pattern: meltingOf(waxMelts),
  sprue: meltingOf(sprueMelts),
})

/** What a course's quantities ask of the solver. Undefined where the flask is not told. */
const questionOf = (course: BurnoutCourse): CoreQuestion | undefined =>
  course.flask && {
    ...numbersOf(course.flask),
    melts: meltsOf(course),
    course: {
      temperatures: course.temperatures.map(({ value }) => value),
      durations: course.durations.map(({ value }) => value),
    },
  }

const inputsOf = (course: BurnoutCourse, flask: FlaskQuantities): Record<string, Quantity> => {
  const inputs: Record<string, Quantity> = { ...flask }
  if (course.waxMelts !== undefined) inputs.melts = course.waxMelts
  if (course.sprueMelts !== undefined) inputs.sprueMelts = course.sprueMelts
  course.temperatures.forEach((each, index) => {
    inputs[`temperature${index}`] = each
  })
  course.durations.forEach((each, index) => {
    inputs[`duration${index}`] = each
  })
  return inputs
}

/**
 * What was solved anew beside an answer, by the numbers it was asked with: all events of an answer ask the same, and
 * so does every plan that stands on it.
 */
const solvedBeside = new WeakMap<CoreAnswer, Map<string, CoreEvents>>()

const remembering = (answer: CoreAnswer, course: BurnoutCourse): ((n: Numbers) => CoreEvents) => {
  const known = solvedBeside.get(answer) ?? new Map<string, CoreEvents>()
  solvedBeside.set(answer, known)
  return (n) => {
    const key = Object.entries(n).join()
    const before = known.get(key)
    if (before !== undefined) return before
    const number = (name: string): number => n[name] ?? Number.NaN
    const melting = (name: string): Melting | undefined =>
      n[name] === undefined ? undefined : { at: n[name], u: 0 }
    const flask = Object.fromEntries(FLASK.map((name) => [name, number(name)])) as Record<
      (typeof FLASK)[number],
      number
    >
    const events = followEvents({
      flask,
      melts: { pattern: melting('melts'), sprue: melting('sprueMelts') },
      course: {
        temperatures: course.temperatures.map((_, index) => number(`temperature${index}`)),
        durations: course.durations.map((_, index) => number(`duration${index}`)),
      },
    })
    known.set(key, events)
    return events
  }
}

/**
 * A solved answer as quantities. Each rests on the same roots as everything else: in what is not known for
 * sure it is a straight line with the slopes the solver measured; where flask or program change it is solved
 * anew.
 */
export const historyOf = (course: BurnoutCourse, flask: FlaskQuantities, answer: CoreAnswer): CoreHistory => {
  const inputs = inputsOf(course, flask)
  const base: Numbers = Object.fromEntries(
    Object.entries(inputs).map(([name, quantity]) => [name, quantity.value]),
  )
  const unsure = new Set<string>([...UNSURE, 'melts', 'sprueMelts'])
  const afresh = remembering(answer, course)
  const tell = (
    id: string,
    event: CoreEvent,
    title: string,
    says: string,
    unit: 's' | 'K' = 's',
  ): Quantity | undefined => {
    const value = answer.events[event]
    if (!Number.isFinite(value)) return undefined
    const slopes = answer.slopes[event]
    return reckon({
      id: `burnout.core.${id}`,
      title,
      unit,
      says,
      source:
        'conduction in the round flask with its water, solved step by step; wet and hot properties from memory',
      holdsWhen:
        'one flask, standing clear in a kiln that follows its program; steam leaves without hindrance',
      inputs,
      body: (n) => {
        if (Object.keys(base).some((name) => !unsure.has(name) && n[name] !== base[name]))
          return afresh(n)[event]
        let moved = value
        for (const [name, slope] of Object.entries(slopes))
          moved += slope * ((n[name] ?? Number.NaN) - (base[name] ?? Number.NaN))
        return moved
      },
    })
  }
  const coreAtCast = tell(
    'atCast',
    'atCast',
    'Core at the casting moment',
    'the core at the end of the program',
    'K',
  )
  if (coreAtCast === undefined) throw new Error('the core has no temperature at the end; it always has one')
  return {
    by: 'solver',
    curve: answer.curve,
    waxMelted: tell(
      'waxMelted',
      'waxMelted',
      'Core past the melting point of the wax',
      'the first moment the core is as hot as the wax melts',
    ),
    sprueMelted: tell(
      'sprueMelted',
      'sprueMelted',
      'Core past the melting point of the sprue wax',
      'the first moment the core is as hot as the sprue wax melts',
    ),
    coreDry: tell('dry', 'dry', 'Core dry', 'the first moment the core stands above boiling'),
    coreHot: tell('hot', 'hot', 'Core hot enough to burn carbon', 'the first moment the core passes 600 °C'),
    coreAtCast,
    settle: tell(
      'settle',
      'settle',
      'Soak until the core has settled',
      'from the start of the last hold until the core stands within ten degrees of it',
    ),
  }
}

/** Follows any program by the solver, at once: some fifty milliseconds. */
export const SOLVER = {
  by: 'solver',
  follow: (course: BurnoutCourse): CoreHistory | undefined => {
    const question = questionOf(course)
    return question && course.flask && historyOf(course, course.flask, solveCore(question))
  },
} as const
