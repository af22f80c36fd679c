/**
 * What things are made of, each value with its range and source, and the shop a caster starts from.
 * Needs the documents' types. Does not know what any value is used for. Read usual-shop.ts first.
 */
export * from './alloys.ts'
export * from './usual-shop.ts'
export * from './wax-wire.ts'
