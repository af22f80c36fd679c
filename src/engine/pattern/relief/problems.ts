import type { Cabochon } from '../../documents/index.ts'
import type { PatternProblem, Place } from '../drawing.ts'

const mm = (value: number): string => `${Number(value.toPrecision(3))} mm`
/** a trace tells no finer */
const hundredths = (value: number): string => `${Math.max(0.01, Number(value.toFixed(2)))} mm`

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
  edgeNotWorked: (id: string, at_mm: Place) =>
    problem(
      'check',
      'edge-not-worked',
      `the edge of "${id}" could not be worked on its outline; the region stands square here`,
      region(id),
      'smooth the outline where it nearly touches itself, or change the edge’s width a little',
      at_mm,
    ),
  seatNotWorked: (id: string, at_mm: Place) =>
    problem(
      'check',
      'seat-not-worked',
      `the seat "${id}" could not be laid inside its outline; it stands as a plain ledge here`,
      region(id),
      'smooth the outline where it nearly touches itself',
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

/** Stones are sold by the millimetre: with a hard space the sentence keeps it, whatever the reader's unit. */
const size = ({ length_mm, width_mm, gap_mm }: Cabochon): string =>
  `${Number(length_mm.toPrecision(3))} x ${Number(width_mm.toPrecision(3))}\u00a0mm with ${mm(gap_mm)} room all round`

/** The only thing said of a stone that is no reason to take it for one that does not fit. */
export const STONE_NEAR_OUTLINE = 'stone-near-outline'

/** What can be wrong with a stone in its seat. */
export const seatProblems = {
  stoneTooLarge: (id: string, stone: Cabochon, over_mm: number, at_mm: Place) =>
    problem(
      'check',
      'stone-too-large',
      `a stone of ${size(stone)} does not fit inside "${id}" as drawn: it goes ${hundredths(over_mm)} over its outline`,
      region(id),
      'draw the seat larger, turn the stone, or take a smaller one',
      at_mm,
    ),
  stoneNearOutline: (id: string, stone: Cabochon, over_mm: number, unsure_mm: number, at_mm: Place) =>
    problem(
      'check',
      STONE_NEAR_OUTLINE,
      `a stone of ${size(stone)} goes ${hundredths(over_mm)} over the traced outline of "${id}", which itself may lie ${hundredths(unsure_mm)} off: it may well fit, and is cut as if it did`,
      region(id),
      'try the stone on the printed template, or draw the seat a little larger',
      at_mm,
    ),
  wallTooWide: (id: string, stone: Cabochon, at_mm: Place) =>
    problem(
      'check',
      'wall-too-wide',
      `the stone of ${size(stone)} fits inside "${id}", but the wall round it goes beyond what is drawn`,
      region(id),
      'make the wall thinner, or draw the seat larger',
      at_mm,
    ),
  seatLevel: (id: string, at_mm: Place) =>
    problem(
      'check',
      'seat-level',
      `"${id}" lies no lower than what is round it and has no wall: nothing holds the stone`,
      region(id),
      'give the seat less height than what is round it, or raise a wall round it',
      at_mm,
    ),
  noWell: (id: string, stone: Cabochon, at_mm: Place) =>
    problem(
      'check',
      'no-room-for-well',
      `a bearer ${mm(stone.bearer_mm)} wide leaves no well inside the seat "${id}"; none is cut`,
      region(id),
      'make the bearer narrower',
      at_mm,
    ),
} as const

const hollow = (level: PatternProblem['level'], kind: string, what: string, remedy: string) =>
  problem(level, kind, what, 'back', remedy)

/** What can be wrong with what is worked on the back. */
export const backProblems = {
  nothingHollow: (wall_mm: number) =>
    hollow(
      'check',
      'nothing-hollow',
      `a wall of ${mm(wall_mm)} leaves nothing to hollow: the piece is too low or too narrow`,
      'make the wall thinner, or leave the back flat',
    ),
  tooTight: (radius_mm: number, width_mm: number) =>
    hollow(
      'check',
      'bent-too-far',
      `a back ${mm(width_mm)} wide on a radius of ${mm(radius_mm)} goes more than half round`,
      'give a larger radius',
    ),
  throughItself: (radius_mm: number, width_mm: number) =>
    hollow(
      'stop',
      'bent-through-itself',
      `a back ${mm(width_mm)} wide on a radius of ${mm(radius_mm)} goes more than once round and through itself`,
      `give a radius over ${mm(width_mm / Math.PI)}, so that it goes no more than half round`,
    ),
} as const

/** What can be wrong with where hardware stands. */
export const hardwareProblems = {
  offThePiece: (index: number, kind: string, at_mm: Place) =>
    problem(
      'check',
      'hardware-off-piece',
      `the ${kind.replace('-', ' ')} does not stand on metal where it is put`,
      `hardware/${index}`,
      'move it onto a region that has a height',
      at_mm,
    ),
  partlyOffThePiece: (index: number, kind: string, share: number, at_mm: Place) =>
    problem(
      'check',
      'hardware-partly-off-piece',
      `only ${Math.round(share * 100)} % of where the ${kind.replace('-', ' ')} goes is metal`,
      `hardware/${index}`,
      'move it wholly onto regions that have a height',
      at_mm,
    ),
} as const
