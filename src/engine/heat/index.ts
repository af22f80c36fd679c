/**
 * The kiln and the bucket: what program burns this flask out, when it starts, and when the casting may go
 * into water. Needs the flask's inside, the mix, the wax's melting point, the casting moment and the charge.
 * Gives the program step by step with its moments, the core's history by a model, energy, and the quench
 * window. Does not know the sprues or how the metal freezes. The rule in rule.ts is the first of the models
 * behind burnout-model.ts; a solver may take its place. Read burnout.ts first, then quench.ts.
 */
export * from './burnout.ts'
export * from './burnout-model.ts'
export * from './cooled/index.ts'
export * from './cooling.ts'
export * as formulas from './formulas.ts'
export * from './program.ts'
export * from './quench.ts'
export * from './rule.ts'
export * from './solved/index.ts'
export type { Transfer } from './transfer.ts'
