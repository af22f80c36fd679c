/**
 * How thick must each sprue, the main sprue and the button be to feed the pieces, and how may they stand?
 * Needs the pieces with their sections, the base, and what mould and metal bring to freezing.
 * Gives sizes by freezing time, a button that also holds what the metal draws in, the order of freezing, and layouts
 * by outside boxes.
 * Does not know the rack; plan.ts hands the layouts to the flask room. Read plan-tree.ts first.
 */
export * from './button.ts'
export * from './formulas.ts'
export * from './in-flasks.ts'
export * from './layout.ts'
export * from './plan-tree.ts'
export * from './rectangles.ts'
export * from './reservoir.ts'
export * from './weighed-tree.ts'
