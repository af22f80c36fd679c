/**
 * Numbers that say what they are: unit, spread, formula, source and where they come from.
 * Needs nothing. Gives quantities, formula records, units at the edge, and sentences whose figures keep
 * their units. Does not know any trade step. Read quantity.ts first.
 */
export * from './answer.ts'
export * from './formula.ts'
export * from './key.ts'
export * from './quantity.ts'
export * from './units.ts'
export * from './words.ts'
