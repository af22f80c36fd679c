/**
 * Answers: how thick is the metal everywhere, and where is this relief hard to cast?
 * Needs: the relief, its regions and heights; limits where the shop has its own.
 * Gives: thin, usual and thick sections as the plan takes them, a thickness for each point of the mesh, and
 * places that are too thin, too thick, undercut, too sharp or too narrow, each with its size and a remedy.
 * Does not know: alloys, flask heat, where the metal will be fed. Its limits are common practice, not a promise.
 * Read find-castable.ts first.
 */
export {
  type CastableFindings,
  type CastableLimits,
  type CastableSpot,
  findCastable,
  measureThickness,
  usualLimits,
} from './find-castable.ts'
