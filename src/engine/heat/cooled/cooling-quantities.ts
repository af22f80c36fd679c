import { keyOf, type Quantity, reckon } from '../../quantity/index.ts'
import { type HotFlask, UNSURE_COOLING } from './hot-flask.ts'
import {
  type CooledFlask,
  type CoolingEvent,
  type CoolingEvents,
  type CoolingQuestion,
  coolingEvents,
  LEVEL_OF,
} from './solve-cooling.ts'

/** A hot flask as quantities, with the levels that are waited for and how far off the farthest wax stands. */
export interface CoolingQuantities {
  readonly flask: Readonly<Record<keyof Omit<HotFlask, 'radius'> | 'diameter', Quantity>>
  readonly levels: Readonly<Record<keyof CoolingQuestion['levels'], Quantity>>
  /** from the outermost wax to the wall, and from the last one to the flask's end [m] */
  readonly wallClearance: Quantity
  readonly topGap: Quantity
}

/** What the solver is asked of one hot flask, and the key under which its answer is found again. */
export interface AskedCooling {
  readonly question: CoolingQuestion
  readonly key: string
}

const SURE = [
  'height',
  'steel',
  'metalDensity',
  'solidAt',
  'liquidus',
  'superheat',
] as const satisfies readonly (keyof HotFlask)[]

const LEVELS = ['leaves', 'opens', 'closes'] as const

type Numbers = Readonly<Record<string, number>>

const inputsOf = ({ flask, levels, wallClearance, topGap }: CoolingQuantities): Record<string, Quantity> => ({
  ...flask,
  ...levels,
  wallClearance,
  topGap,
})

const valuesOf = (quantities: Readonly<Record<string, Quantity>>): Numbers =>
  Object.fromEntries(Object.entries(quantities).map(([name, { value }]) => [name, value]))

const pick = <N extends string>(n: Numbers, names: readonly N[]): Record<N, number> =>
  Object.fromEntries(names.map((name) => [name, n[name] ?? Number.NaN])) as Record<N, number>

/** The farthest waxes: to the side, to the end, and into the corner between. */
const questionOf = (n: Numbers): Pick<CoolingQuestion, 'flask' | 'levels' | 'farthest'> => {
  const { diameter, height, wallClearance, topGap } = pick(n, [
    'diameter',
    'height',
    'wallClearance',
    'topGap',
  ])
  const radius = diameter / 2
  const out = Math.max(0, radius - wallClearance)
  const up = Math.max(0, height / 2 - topGap)
  return {
    flask: { radius, ...pick(n, SURE), ...pick(n, UNSURE_COOLING) },
    levels: pick(n, LEVELS),
    farthest: [
      [out, 0],
      [0, up],
      [out, up],
    ],
  }
}

/** The question for a flask as its quantities stand. */
export const askCooling = (quantities: CoolingQuantities): AskedCooling => {
  const { flask, levels } = quantities
  const question: CoolingQuestion = {
    ...questionOf(valuesOf(inputsOf(quantities))),
    spread: Object.fromEntries(UNSURE_COOLING.map((name) => [name, flask[name].u])),
    levelSpread: {
      leaves: levels.leaves.u,
      opens: levels.opens.u,
      closes: levels.closes.u,
    },
  }
  return { question, key: keyOf(question) }
}

/** How far a number may be moved to find a slope, without the flask being solved anew: of its value, or at all. */
const LET_BE = { share: 1e-3, least: 1e-6 }

/**
 * What was solved anew beside an answer, by the numbers it was asked with: all moments of an answer ask the same, and
 * so does every plan that stands on it.
 */
const solvedBeside = new WeakMap<CooledFlask, Map<string, CoolingEvents>>()

const remembering = (
  answer: CooledFlask,
  { levelSpread }: CoolingQuestion,
): ((n: Numbers) => CoolingEvents) => {
  const known = solvedBeside.get(answer) ?? new Map<string, CoolingEvents>()
  solvedBeside.set(answer, known)
  return (n) => {
    const key = Object.entries(n).join()
    const events = known.get(key) ?? coolingEvents({ ...questionOf(n), levelSpread })
    known.set(key, events)
    return events
  }
}

const WORDS: Readonly<Record<CoolingEvent, { id: string; title: string; says: string }>> = {
  farthestLeaves: {
    id: 'transfer.seconds',
    title: 'From the kiln’s door to the pour, at most',
    says: 'the mould at the farthest wax falls out of the heats it is cast at',
  },
  coreLeaves: {
    id: 'transfer.core',
    title: 'Until the middle is too cool as well',
    says: 'the middle of the mould falls out of the heats it is cast at',
  },
  opens: {
    id: 'quench.opens',
    title: 'Window opens',
    says: 'the hottest of the metal cools to where it may be quenched, less the spin',
  },
  closes: {
    id: 'quench.closes',
    title: 'Window closes',
    says: 'the hottest of the metal cools to where the mould no longer bursts off, less the spin',
  },
}

/**
 * A solved flask's moments as quantities. What is not known for sure moves them along the slopes that the
 * solver found; where the flask itself changes it is solved anew. A moment that never comes is left out.
 */
export const cooledMoments = (
  quantities: CoolingQuantities,
  { question }: AskedCooling,
  answer: CooledFlask,
): Partial<Record<CoolingEvent, Quantity>> => {
  const inputs = inputsOf(quantities)
  const base = valuesOf(inputs)
  const afresh = remembering(answer, question)
  const tell = (event: CoolingEvent): Quantity | undefined => {
    const value = answer.events[event]
    if (!Number.isFinite(value)) return undefined
    const slopes = answer.slopes[event]
    const sure = Object.keys(base).filter((name) => !(name in slopes))
    const levels = new Set<string>(LEVELS.filter((level) => level !== LEVEL_OF[event]))
    return reckon({
      ...WORDS[event],
      unit: 's',
      source:
        'conduction in the round flask, with its metal freezing in it, solved step by step; hot properties from memory',
      holdsWhen:
        'one flask in still air, soaked through before; its metal a ring of its own volume, both ends alike',
      inputs,
      body: (n) => {
        const moved = sure.some((name) => {
          const from = base[name] ?? Number.NaN
          const most = Math.max(LET_BE.least, LET_BE.share * Math.abs(from))
          return !levels.has(name) && Math.abs((n[name] ?? Number.NaN) - from) > most
        })
        if (moved) return afresh(n)[event]
        let at = value
        for (const [name, slope] of Object.entries(slopes))
          at += slope * ((n[name] ?? Number.NaN) - (base[name] ?? Number.NaN))
        return Math.max(0, at)
      },
    })
  }
  return {
    farthestLeaves: tell('farthestLeaves'),
    coreLeaves: tell('coreLeaves'),
    opens: tell('opens'),
    closes: tell('closes'),
  }
}
