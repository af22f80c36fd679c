import type { PatternProblem, Place } from '../drawing.ts'

const mm = (value: number): string => `${Number(value.toPrecision(3))} mm`

const problem = (
  level: PatternProblem['level'],
  kind: string,
  what: string,
  where: string,
  remedy: string,
  at_mm?: Place,
): PatternProblem => ({ kind, level, what, where, remedy, ...(at_mm && { at_mm }) })

const region = (id: string): string => `regions/${id}`

/** What can be wrong with heights on their regions. */
export const reliefProblems = {
  nothingStands: () =>
    problem(
      'stop',
      'nothing-stands',
      'every region is cut through, so no solid is left',
      'regions',
      'give at least one region a height',
    ),
  edgeTooTall: (id: string, edge_mm: number, height_mm: number, at_mm: Place) =>
    problem(
      'check',
      'edge-too-tall',
      `the edge of "${id}" goes down ${mm(edge_mm)}, but the region is only ${mm(height_mm)} tall; it runs out at the back in a knife edge`,
      region(id),
      'make the edge lower than the region, so that an upright rim is left',
      at_mm,
    ),
  edgeTooWide: (id: string, width_mm: number, reached_mm: number, at_mm: Place) =>
    problem(
      'note',
      'edge-too-wide',
      `the edge of "${id}" is ${mm(width_mm)} wide, but its outline leaves room for ${mm(reached_mm)}: it rises only as far as that allows`,
      region(id),
      'make the edge narrower if the region is to reach its full height',
      at_mm,
    ),
  edgesLeftOut: () =>
    problem(
      'check',
      'edges-left-out',
      'the outlines touch or cross one another, so the edges could not be worked; all stand square here',
      'regions',
      'mend the crossing lines of the drawing, then look again',
    ),
  notSolid: (why: string) =>
    problem(
      'stop',
      'not-solid',
      `no closed solid comes of these heights: ${why}`,
      'regions',
      'mend crossing lines in the drawing, or take back the last change of heights',
    ),
  looseParts: (count: number) =>
    problem(
      'check',
      'loose-parts',
      `the piece is ${count} separate bodies that do not touch`,
      'regions',
      'give a region between them a height, or cast them as pieces of their own',
    ),
} as const
