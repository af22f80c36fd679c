import type { PatternProblem, Place } from '../drawing.ts'

const number = (value: number): string => Number(value.toPrecision(3)).toString()
const place = ([x, y]: Place): string => `at x ${x.toFixed(1)}, y ${y.toFixed(1)} mm`

/** What can be wrong between a drawing that was read and its regions, each with its words in one place. */
export const regionProblems = {
  notNumbers: (id: string): PatternProblem => ({
    kind: 'not-a-number',
    level: 'check',
    what: `"${id}" has places that are no numbers, or lie more than 5 m out; they are left out`,
    where: id,
    remedy: 'draw it again, or delete it from the drawing',
  }),
  tooMany: (nodes: number, most: number): PatternProblem => ({
    kind: 'too-many-nodes',
    level: 'stop',
    what: `the drawing has ${Math.round(nodes).toLocaleString('en-US')} nodes; ${most.toLocaleString('en-US')} are read at most`,
    where: 'the whole drawing',
    remedy: 'simplify its paths in the drawing program, and save it again',
  }),
  tooTangled: (): PatternProblem => ({
    kind: 'too-tangled',
    level: 'stop',
    what: 'its lines cross and overlap in a way that could not be divided into regions',
    where: 'the whole drawing',
    remedy: 'delete lines drawn twice over one another, and save it again',
  }),
  noRegion: (open: boolean): PatternProblem => ({
    kind: 'no-region',
    level: 'stop',
    what: open
      ? 'no line of the drawing closes round a region'
      : 'the drawing has nothing that encloses a region',
    where: 'the whole drawing',
    remedy: open
      ? 'close the outlines, or join the gaps that are offered'
      : 'draw closed outlines or filled shapes',
  }),
  joined: (count: number, widest_mm: number, at: Place): PatternProblem => ({
    kind: 'gaps-joined',
    level: 'check',
    what: `${count === 1 ? 'a gap was' : `${count} gaps were`} joined with a straight line, up to ${number(widest_mm)} mm wide`,
    where: `first ${place(at)}`,
    remedy: 'see that the outline is as you meant it',
    at_mm: at,
  }),
  openOutline: (id: string, gap_mm: number, from: Place): PatternProblem => ({
    kind: 'open-outline',
    level: 'check',
    what: `the outline "${id}" stands open by ${number(gap_mm)} mm`,
    where: place(from),
    remedy: 'close it in the drawing, or join the gap here',
    at_mm: from,
  }),
  shortLine: (id: string, gap_mm: number, from: Place): PatternProblem => ({
    kind: 'short-line',
    level: 'check',
    what: `the line "${id}" stops ${number(gap_mm)} mm short of another`,
    where: place(from),
    remedy: 'draw it on to the other line, or join the gap here',
    at_mm: from,
  }),
  freeEnd: (id: string, at: Place): PatternProblem => ({
    kind: 'free-end',
    level: 'check',
    what: `the line "${id}" ends freely: what lies beyond its last crossing divides nothing`,
    where: place(at),
    remedy: 'draw it on to the next line where it should divide a region; otherwise leave it',
    at_mm: at,
  }),
  andMore: (kind: string, count: number): PatternProblem => ({
    kind,
    level: 'check',
    what: `and ${count.toLocaleString('en-US')} more of the same`,
    where: 'the whole drawing',
    remedy: 'mend those that are named first',
  }),
  selfCrossing: (id: string, count: number, at: Place): PatternProblem => ({
    kind: 'self-crossing',
    level: 'check',
    what: `the outline "${id}" crosses itself${count > 1 ? ` ${count} times` : ''}; each part counts as a region of its own`,
    where: place(at),
    remedy: 'see that this is meant; otherwise move the node where it crosses',
    at_mm: at,
  }),
  crossing: (a: string, b: string, count: number, at: Place): PatternProblem => ({
    kind: 'crossing-outlines',
    level: 'check',
    what: `the outlines "${a}" and "${b}" cross${count > 1 ? ` ${count} times` : ''}; what lies between counts as a region of its own`,
    where: place(at),
    remedy: 'see that this is meant',
    at_mm: at,
  }),
  slivers: (count: number, largest_mm2: number, at: Place): PatternProblem => ({
    kind: 'slivers-dropped',
    level: 'check',
    what: `${count === 1 ? 'a sliver was' : `${count} slivers were`} dropped, the largest of ${number(largest_mm2)} mm2`,
    where: `the largest ${place(at)}`,
    remedy: 'see that the outlines round it meet as you meant',
    at_mm: at,
  }),
  noArea: (id: string): PatternProblem => ({
    kind: 'no-area',
    level: 'check',
    what: `the shape "${id}" has no area; it is left out`,
    where: id,
    remedy: 'delete it, or draw it again',
  }),
  small: (width: number, height: number): PatternProblem => ({
    kind: 'very-small',
    level: 'check',
    what: `the whole drawing is ${number(width)} x ${number(height)} mm, smaller than a grain of casting metal`,
    where: 'the whole drawing',
    remedy: 'see that its unit is right',
  }),
  large: (width: number, height: number): PatternProblem => ({
    kind: 'very-large',
    level: 'check',
    what: `the whole drawing is ${number(width)} x ${number(height)} mm, larger than any flask in a small shop`,
    where: 'the whole drawing',
    remedy: 'see that its unit is right',
  }),
} as const
