import type { Arrangement, ArrangeRequest } from './request.ts'
import { benchTree } from './sheet/bench-tree.ts'
import { type SheetUnit, sheetPages } from './sheet/pages.ts'
import { svgOf } from './sheet/svg.ts'

const titleOf = (name: string): string => `${name}: where each wax and sprue goes`

/** The sheet as one drawing, and each page of it as a drawing of its own. */
export interface DrawnSheet {
  /** its pages one below the other */
  readonly svg: string
  readonly pages: readonly string[]
}

/**
 * The dimensioned sheet of an arrangement as SVG: the tree from above and from the side, each wax by itself with the
 * joints of its sprues, and the tables a hand builds by. One strip to be looked at, and pages to be printed.
 */
export const drawSheet = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  name: string,
  unit: SheetUnit = 'mm',
): DrawnSheet => {
  const pages = sheetPages(benchTree(request, arrangement), name, unit)
  const title = titleOf(name)
  return { svg: svgOf(pages, title), pages: pages.map((page) => svgOf([page], title)) }
}
