/**
 * How much metal does the pour need, what should be weighed, and from which lots?
 * Needs pieces and sprues as metal, the least button that feeds, the crucible, the scale and the stock.
 * Gives the charge, its chances of falling short, its make-up and its fineness.
 * Does not know how the metal is melted. Read needed.ts first; make-up/ is the slow search behind it.
 */
export * from './formulas.ts'
export * from './needed.ts'
export * from './plan-charge.ts'
export * from './request.ts'
