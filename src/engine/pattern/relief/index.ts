/**
 * Answers: what solid stands on a drawing's regions at the heights given, how much metal is in it, is it closed?
 * Needs: regions, heights, and a solid modeller that a face brings.
 * Gives: a closed mesh in mm, volume, area, bounds, what was built of each region, what was decided on the way.
 * Does not know: drawings and photos, alloys, shrinkage, whether the shape can be cast (castable/ does).
 * Read relief.ts first, then height-field.ts (how neighbours close on one another) and cap.ts (edges).
 */
export { type BuiltRegion, buildRelief, type Relief } from './relief.ts'
