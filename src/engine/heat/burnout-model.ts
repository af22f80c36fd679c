import type { Quantity } from '../quantity/index.ts'
import type { KilnFlask } from './solved/follow.ts'

/** What any model of the burnout is told. Temperatures are the kiln's own, true, not as displayed. */
export interface BurnoutCourse {
  readonly radius: Quantity
  readonly height: Quantity
  /** knots of the program [K]: the room first, then the end of every step */
  readonly temperatures: readonly Quantity[]
  /** length of every step [s]; one fewer than the temperatures */
  readonly durations: readonly Quantity[]
  readonly conductivity: Quantity
  /** of the dry mould */
  readonly density: Quantity
  readonly heat: Quantity
  /** heat to drive the water out [J/m3] */
  readonly dryingHeat: Quantity
  /** where water boils at this shop's pressure [K] */
  readonly boiling: Quantity
  /** melting point of the pattern wax [K], when it has one */
  readonly waxMelts?: Quantity
  readonly sprueMelts?: Quantity
  /** what a solver asks beyond that; one that needs it and is not told it answers nothing */
  readonly flask?: FlaskQuantities
}

/** The wet flask and what its kiln passes on, by the solver's names. */
export type FlaskQuantities = Readonly<Record<keyof KilnFlask, Quantity>>

/** One point of the core's history, seconds from the kiln being switched on; low to high is nine in ten. */
export interface CorePoint {
  readonly s: number
  readonly K: number
  readonly low: number
  readonly high: number
  /** steel of the flask at mid-height [K], where a model follows it */
  readonly wall?: number
}

/** What a model answers. An event that does not happen within the program is left out, never guessed. */
export interface CoreHistory {
  readonly by: 'rule' | 'solver'
  readonly curve: readonly CorePoint[]
  /** [s] from switching on */
  readonly waxMelted?: Quantity
  /** sprue wax at the middle [s] */
  readonly sprueMelted?: Quantity
  readonly coreDry?: Quantity
  /** core past the heat at which carbon burns in air [s] */
  readonly coreHot?: Quantity
  /** core at the casting moment [K] */
  readonly coreAtCast: Quantity
  /** from the start of the last hold until the core stands within ten degrees of it [s] */
  readonly settle?: Quantity
}

/** Follows the core of a flask through a program. Undefined: not worked out yet, the rule is used and said. */
export interface BurnoutModel {
  readonly by: CoreHistory['by']
  follow(course: BurnoutCourse): CoreHistory | undefined
}
