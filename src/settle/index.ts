/**
 * Finishes what a plan is waiting for, for the faces that wait.
 * Needs the plan's documents and a face's files, solid modeller and solver. Gives the settled plan.
 * Does not know where files or WebAssembly come from.
 */
export * from './read-drawn-file.ts'
export { readShape, type Shape, type ShapeWork } from './read-shape.ts'
export * from './settle.ts'
