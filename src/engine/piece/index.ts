/**
 * How much wax, room and metal is in each piece, and how big it is?
 * Needs the pour's pieces (weighed, modelled or entered), the shop's waxes and the finished mesh measures.
 * Gives mass as cast, volume, extents, thickest and thinnest sections, each with its range.
 * Does not know sprues, flasks or how a mesh is read (piece/mesh does). Read weigh.ts first.
 */
export * from './drawn-piece.ts'
export * from './formulas.ts'
export * from './mesh-facts.ts'
export * from './weigh.ts'
