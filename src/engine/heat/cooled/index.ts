/**
 * A dry hot flask in air, solved: how long it stays in its casting range between kiln and machine, and when
 * its castings pass the heats between which they are quenched. Needs the flask, its metal and what air takes;
 * gives moments with their slopes and the metal's curve. Does not know pieces one by one: the metal is a ring
 * of its own volume where the tree stands. Read hot-flask.ts, then cool-down.ts.
 */
export { carry, coolDown } from './cool-down.ts'
export { type AskedCooling, askCooling, type CoolingQuantities, cooledMoments } from './cooling-quantities.ts'
export { cutFlask, type HotFlask } from './hot-flask.ts'
export { type CooledFlask, type CoolingQuestion, solveCooling } from './solve-cooling.ts'
