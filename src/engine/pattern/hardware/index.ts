/**
 * Answers: what does a loop, hook, post, keeper slot or tip pocket look like at these measurements, and does it
 * go with its strap?
 * Needs: the hardware as written in the heights, how the back is worked, and a solid modeller.
 * Gives: solids in their place, to be cut from or joined to the piece; a list of what does not fit.
 * Does not know: whether the piece is strong enough to be pulled at, or how leather stretches.
 * Read make-hardware.ts first; sizes.ts says what is taken from the strap.
 */

export { clashChecks } from './clash-checks.ts'
export { fitChecks } from './fit-checks.ts'
export { footprintOf, sayHardware } from './footprint.ts'
export { type HardwareSite, type MadeHardware, makeHardware } from './make-hardware.ts'
