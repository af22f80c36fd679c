/**
 * Answers: how much metal is in a model file, how big is it, and can that be trusted?
 * Needs: the file's bytes and name; a unit if the file has none; a solid modeller if bodies may overlap.
 * Gives: volume, area, bounds, thickness, shells, everything found wrong with its place and remedy, a repair
 * to be accepted or not, and the mesh itself in millimetres.
 * Does not know: files and folders, alloys and masses, shrinkage, sprues, how anything is drawn.
 * Read measure-model.ts first; settle-shells.ts decides what several shells mean together.
 */
export {
  type MeasureOptions,
  type ModelMeasure,
  measureModel,
  measureReading,
  type Repair,
} from './measure-model.ts'
export {
  emptyMesh,
  type LengthUnit,
  MeshBuilder,
  type ModelFormat,
  type ModelReading,
  millimetresPer,
  type ReadLimits,
  type TriangleMesh,
  usualLimits,
} from './model-reading.ts'
export type { MeshProblem, Point, ProblemLevel } from './problems.ts'
export { readModel } from './read-model.ts'
export type { Solids } from './solids.ts'
export type { Thickness } from './thickness.ts'
export type { Transform } from './transform.ts'
export { areaOf, type Bounds, boundsOf, centroidOf, volumeOf } from './volume.ts'
export { weldExactly, weldWithin } from './weld.ts'
export { writeStl } from './write-stl.ts'
