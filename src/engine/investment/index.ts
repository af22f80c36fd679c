/**
 * The mix: how much powder and water, how long there is to work, and what the vacuum gauge should read here.
 * Needs the flask's inside, the wax and base volumes, the water's temperature and the shop's air pressure.
 * Gives masses, the working-time clock with its two limits, gauge readings, and what a warm mix costs.
 * Does not know where the wax stands in the flask, or what happens in the kiln. Read mix.ts first.
 */
export * from './clock.ts'
export * as formulas from './formulas.ts'
export * from './mix.ts'
export * from './vacuum.ts'
