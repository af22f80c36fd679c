/**
 * Reads a drawing file into marks in millimetres, y upward from the lower left corner of its sheet.
 * Needs: the bytes of an SVG or DXF file, told apart by what they hold. Gives: `Drawing`.
 * SVG: svg.ts (walk), svg-tree, svg-style, svg-lengths, svg-shapes. DXF: dxf.ts. Curves: flatten.ts.
 * Nothing in a file is run or fetched; what can't be read is said with its name and what to do.
 * Does not know: regions, heights, photos. Read read-drawing.ts first.
 */
export { type DrawingOptions, readDrawing } from './read-drawing.ts'
