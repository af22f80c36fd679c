import type { Arrangement, ArrangeRequest } from './request.ts'
import { benchTree } from './sheet/bench-tree.ts'
import { type SheetUnit, sheetPages } from './sheet/pages.ts'
import { svgOf } from './sheet/svg.ts'

const titleOf = (name: string): string => `${name}: where each wax and sprue goes`

/**
 * The dimensioned sheet of an arrangement as SVG, its pages one below the other: the tree from above and from the
 * side, each wax by itself with the joints of its sprues, and the tables a hand builds by.
 */
export const drawArrangement = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  name: string,
  unit: SheetUnit = 'mm',
): string => svgOf(sheetPages(benchTree(request, arrangement), name, unit), titleOf(name))

/** The same, each page a drawing of its own, to be printed. */
export const drawPages = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  name: string,
  unit: SheetUnit = 'mm',
): string[] =>
  sheetPages(benchTree(request, arrangement), name, unit).map((page) => svgOf([page], titleOf(name)))
