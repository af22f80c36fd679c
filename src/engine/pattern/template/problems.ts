import type { PatternProblem } from '../drawing.ts'
import type { WaxLines } from './compensate.ts'
import type { RegionNote } from './figures.ts'

interface Blank {
  readonly thickness_mm: number
  readonly length_mm?: number
  readonly width_mm?: number
}

/** More sheets than anyone lays together. */
const MOST_SHEETS = 60

export const tooManySheets = (count: number): PatternProblem[] =>
  count <= MOST_SHEETS
    ? []
    : [
        {
          kind: 'too-many-sheets',
          level: 'stop',
          what: `At full size the drawing takes ${count} sheets.`,
          where: 'the drawing',
          remedy: 'check its units and scale, or take the lines as SVG or DXF',
        },
      ]

const spanOf = (wax: WaxLines): readonly [wide: number, high: number] => {
  const places = wax.outline.flatMap((loop) => [...loop])
  const span = (odd: number): number => {
    const values = places.filter((_, i) => i % 2 === odd)
    return (
      values.reduce((a, b) => Math.max(a, b), -Infinity) - values.reduce((a, b) => Math.min(a, b), Infinity)
    )
  }
  return [span(0), span(1)]
}

/** Heights and outline against the wax to cut from, at the size of the wax. */
export const blankProblems = (
  notes: readonly RegionNote[],
  wax: WaxLines,
  blank: Blank,
): PatternProblem[] => {
  const problems: PatternProblem[] = []
  const highest = notes.reduce((most, { height_mm }) => Math.max(most, height_mm * wax.scale), 0)
  if (highest > blank.thickness_mm + 0.05)
    problems.push({
      kind: 'blank-too-thin',
      level: 'check',
      what: `The highest region is ${highest.toFixed(1)} mm in wax; the blank is ${blank.thickness_mm} mm.`,
      where: 'the blank',
      remedy: 'take thicker wax, or build that region up',
    })
  if (blank.length_mm === undefined || blank.width_mm === undefined || wax.outline.length === 0)
    return problems
  const [wide, high] = spanOf(wax)
  if (wide > blank.length_mm + 0.05 || high > blank.width_mm + 0.05)
    problems.push({
      kind: 'blank-too-small',
      level: 'check',
      what: `The outline is ${wide.toFixed(1)} by ${high.toFixed(1)} mm in wax; the blank is ${blank.length_mm} by ${blank.width_mm}.`,
      where: 'the blank',
      remedy: 'take a larger piece of wax, or turn the drawing',
    })
  return problems
}
