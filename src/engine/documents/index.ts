/**
 * The documents that go in: a shop (who we are) and a pour (what we want), plain JSON with a version.
 * Needs nothing but a schema library. Gives their types, one reading that names all faults with their
 * place, and changing one value by path. Does not know what the numbers mean. Read pour.ts first.
 */
export * from './heights.ts'
export * from './path.ts'
export * from './pour.ts'
export * from './read.ts'
export * from './roots.ts'
export * from './shop.ts'
export * from './stated.ts'
