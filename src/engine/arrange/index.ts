/**
 * Answers: where does each wax sit, how is it sprued, which flask of the rack holds it, and is that true?
 * Needs: pieces as closed solids in mm with the sprues wanted for them, the rack, the base, the clearances.
 * Gives: a rigid place for every copy, its sprues with reasons, every clearance measured between the real
 * surfaces, the metal and the investment as solids; or by how much nothing fits.
 * Does not know: weights, documents, files; freezing only by what the request hands in. A slow result: handed to
 * the plan when finished.
 * Read request.ts, then arrange.ts; place.ts is the search, dimensions.ts the proof, judge.ts the words, body.ts the solids,
 * sheet/ what the bench builds by.
 */
export { arrange } from './arrange.ts'
export { type BenchSprue, benchSprues } from './bench-sprues.ts'
export {
  investmentBody,
  type MetalBody,
  metalBody,
  movedMesh,
  partsOf,
  revolved,
  sprueBody,
} from './body.ts'
export { type BubbleTraps, trapsBubbles } from './bubbles.ts'
export * from './by-hand.ts'
export { isAsked, isOnlyTold } from './dimensions.ts'
export { type DrawnSheet, drawSheet } from './drawing.ts'
export { isShort } from './judge.ts'
export { placeNames } from './place-words.ts'
export { judgePlasterEnd, type PlasterEnd, type Range } from './plaster-end.ts'
export * from './request.ts'
export { type BenchTree, benchTree, type StandingWax } from './sheet/bench-tree.ts'
export type { FillKind, LineKind, Mark } from './sheet/marks.ts'
export { PAGE, type SheetUnit, sheetPages } from './sheet/pages.ts'
export { letterSpot, shownOf } from './sheet/squares.ts'
export { sidePicture } from './sheet/tree-views.ts'
export { leant, motionTo, type Stand, standOf } from './stand.ts'
export { standInFor } from './stand-in.ts'
export { tiltWords } from './tilt-words.ts'
export { matrixFromModel, matrixOf, motionOf, placeInModel } from './vectors.ts'
