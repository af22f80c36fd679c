import type { PatternProblem } from '../drawing.ts'

/** What the bars of 100 mm measured on an earlier print of the same template, 95 to 105 mm. */
export interface PrinterBars {
  readonly bar_mm: number
  /** the bar down the left edge, since paper is fed at a speed of its own; taken as the other when absent */
  readonly upright_mm?: number
}

/** How much larger than laid out the sheets are printed; 1 for a true printer. */
export interface Correction {
  readonly across: number
  readonly down: number
}

const TRUE_BAR = 100
/** A bar further off than this was measured wrongly, or the page was fitted to the paper. */
const FARTHEST_BAR = 5

export const correctPrinter = (
  bars: PrinterBars | undefined,
): { correction: Correction; problems: PatternProblem[] } => {
  if (bars === undefined) return { correction: { across: 1, down: 1 }, problems: [] }
  const { bar_mm, upright_mm = bar_mm } = bars
  const off = [bar_mm, upright_mm].find((bar) => !(Math.abs(bar - TRUE_BAR) <= FARTHEST_BAR))
  if (off === undefined)
    return { correction: { across: TRUE_BAR / bar_mm, down: TRUE_BAR / upright_mm }, problems: [] }
  return {
    correction: { across: 1, down: 1 },
    problems: [
      {
        kind: 'bar-too-far-off',
        level: 'stop',
        what: `The 100 mm bar is said to measure ${off} mm; printers are off by less than ${FARTHEST_BAR}.`,
        where: 'what the bar measured',
        remedy: 'print at 100%, not fitted to the page, and measure again; nothing was corrected',
      },
    ],
  }
}

/** What an earlier print measured, in words; undefined where nothing is corrected. */
export const sayMeasured = (
  bars: PrinterBars | undefined,
  { across, down }: Correction,
): string | undefined => {
  if (bars === undefined || (across === 1 && down === 1)) return undefined
  const short = (mm: number): string => `${Number(mm.toFixed(2))}`
  return bars.upright_mm === undefined || bars.upright_mm === bars.bar_mm
    ? short(bars.bar_mm)
    : `${short(bars.bar_mm)} across and ${short(bars.upright_mm)} down`
}
