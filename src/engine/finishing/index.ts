/**
 * What size must the wax have, and what is left when the work is done? Sizes and seats to carve, the loss
 * to files and wheels, the pickle bath, the order of the steps.
 * Needs each piece's cast weight and, better, its surface; the metal of sprues and button.
 * Gives wax sizes, seats with the chance that the stone drops in, finished weights, metal that comes back.
 * Does not know soldering, marks or hours. Read plan-finish.ts first.
 */
export type { CastPiece } from './cast-piece.ts'
export * from './finish-piece.ts'
export * from './plan-finish.ts'
export type { FinishedSeat } from './seat.ts'
