/*
 * The photo corner: what is drawn on a photographed or scanned sheet, as lines in millimetres?
 * Needs an upright picture and how it is scaled (PhotoSetting). Gives a Drawing, with how straight the sheet
 * came out, what was dropped and joined, and a small straightened copy to look at.
 * Does not know regions, heights or files: decoding is the face's work (src/pixels, or the page's browser).
 * Order of work: homography, flatten, paper, ink, thin, stroke-graph, join-gaps, centre-line. Read trace-photo.ts.
 */
export { type Corners, homographyFrom, type PixelPlace, type SheetMap, similarityFrom } from './homography.ts'
export { greyOf, MOST_PIXELS, type Picture, pixelsInOne } from './picture.ts'
export { seenShape } from './sheet-shape.ts'
export { type PhotoStage, type PhotoTrace, tracePhoto } from './trace-photo.ts'
