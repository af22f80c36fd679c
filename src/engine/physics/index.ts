/**
 * Laws that several rooms share, as plain functions over SI numbers (temperatures in kelvin where not said).
 * What is asked: how metal, mould, water, air and gas behave. Needs numbers, gives numbers; a state that does
 * not exist is null, an input that makes no sense is NaN, and nothing turns either into a figure.
 * Does not know any piece, flask, shop, plan or material row, and keeps no state: its tables are constants.
 * Each file opens with its formula, range and source; published checks are under checks/cases/.
 * Read freezing-time.ts first (why a rod freezes before a plate of equal modulus), then silver-copper.ts.
 */
export * from './alligation.ts'
export * from './atmosphere.ts'
export * from './combustion.ts'
export * from './conduction.ts'
export * from './control-chart.ts'
export * from './density.ts'
export * from './exposure.ts'
export * from './flow.ts'
export * from './freezing-front.ts'
export * from './freezing-time.ts'
export * from './gypsum.ts'
export * from './modulus.ts'
export * from './normal.ts'
export * from './radiation.ts'
export * from './root-finding.ts'
export * from './rotation.ts'
export * from './semi-infinite.ts'
export * from './silver-copper.ts'
export * from './slurry.ts'
export * from './special-functions.ts'
export * from './student.ts'
export * from './uncertainty.ts'
export * from './vacuum.ts'
export * from './water.ts'
