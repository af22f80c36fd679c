/**
 * Heat moving through a body in time: a slab, a long rod, a ball, or a round flask of several materials that
 * take up heat by tables and by reactions. Needs materials, a body cut into cells, what its sides meet, and
 * the moments wanted. Gives temperatures at those moments, the state to go on from, and how well heat was
 * kept. Does not know any flask, kiln or investment: rooms bring their own figures. Liquids that flow, gas
 * that carries heat and parts that shrink away are not in it. Read conduct.ts first, then curves.ts.
 */
export * from './body.ts'
export * from './conduct.ts'
export type { HeatMaterial, Reaction, Table } from './curves.ts'
export * from './mixture.ts'
export * from './read-off.ts'
export * from './solve-heat.ts'
export { type HeatState, stateAt, withRegionsAt } from './state.ts'
export type { Surroundings } from './surroundings.ts'
