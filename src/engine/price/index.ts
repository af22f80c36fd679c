/**
 * What does the pour cost, what should be asked, and would a mould of the wax pay? Metal at today's price,
 * losses, consumables, stones, labour by step, overhead, the share of a second try, margin, a client's quote.
 * Needs the finished and cast weights; better, the cost of powder and power and the wax spent.
 * Gives every line, the sum with its range, a quote at the upper end, a client's metal on its own account.
 * Does not know lots, schedules or currencies' rates. Read plan-price.ts first.
 */
export type { ClientsMetal } from './clients-metal.ts'
export type { Labour, LabourStep } from './labour.ts'
export * from './plan-price.ts'
export type { PriceInput } from './price-input.ts'
export type { Chance, MouldFirst, SecondTry } from './second-try.ts'
export { type SpoiledShare, spoiledShare } from './spoiled.ts'
