/**
 * The regions of a drawing: the disjoint faces of what shows of it, as a reader of the paper would see them.
 * Needs: marks in paint order, millimetres (`Drawing.marks`). Gives: `Regions`.
 * Everything drawn is cut where it meets (noding.ts, arrangement.ts), what lies over each face is counted and
 * what is hidden dropped (visible.ts); the faces of what is left are the regions. Ids: names.ts.
 * Does not know: heights, roles, how the drawing was read. Read find-regions.ts first.
 */
export { findRegions, GRID_MM, JOIN_MM } from './find-regions.ts'
