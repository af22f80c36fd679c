/**
 * Which flask of the rack holds this tree, by how much, and why not the next smaller one?
 * Needs the ways the tree may stand, the rack and the shop's clearances.
 * Gives the flask, its gaps, rooms and masses. Does not know how a tree is laid out or what is in the mix.
 * Read choose.ts first.
 */
export * from './choose.ts'
export { insideOf, machineTakes, type Standing, within } from './fit.ts'
export * from './formulas.ts'
