import type { PatternProblem } from '../drawing.ts'

const said = (
  level: PatternProblem['level'],
  kind: string,
  what: string,
  where: string,
  remedy: string,
): PatternProblem => ({ kind, level, what, where, remedy })

const size = (mm: readonly [number, number]): string =>
  mm.map((side) => Number(side.toPrecision(4)).toString()).join(' x ')

const whole = (count: number): string => Math.round(count).toLocaleString('en-US')

/** What can be wrong with a drawing's file, each with its words in one place. */
export const drawingProblems = {
  empty: (): PatternProblem =>
    said('stop', 'empty-file', 'the file is empty', 'the file', 'save the drawing again'),
  unknown: (name: string): PatternProblem =>
    said(
      'stop',
      'unknown-format',
      `"${name}" is neither an SVG nor a DXF drawing`,
      'the file',
      'save the drawing as SVG or DXF, or take it in as a photo',
    ),
  tooLarge: (bytes: number, most: number): PatternProblem =>
    said(
      'stop',
      'too-large',
      `the file has ${whole(bytes / 1e6)} MB; ${whole(most / 1e6)} MB are read at most`,
      'the file',
      'simplify the paths and take pictures out of it, and save it again',
    ),
  tooMany: (most: number): PatternProblem =>
    said(
      'stop',
      'too-many-nodes',
      `the drawing has more than ${whole(most)} nodes`,
      'the whole drawing',
      'simplify its paths in the drawing program, and save it again',
    ),
  nothingDrawn: (): PatternProblem =>
    said(
      'stop',
      'nothing-drawn',
      'nothing in the drawing has a line or a fill that can be read',
      'the whole drawing',
      'draw outlines or filled shapes, and turn lettering into paths',
    ),
  broken: (what: string, where: string): PatternProblem =>
    said('stop', 'broken-file', what, where, 'save the drawing again from the program that made it'),
  packed: (): PatternProblem =>
    said(
      'stop',
      'packed-file',
      'the drawing is packed',
      'the file',
      'save it as plain SVG, not as packed SVG',
    ),
  entities: (where: string): PatternProblem =>
    said(
      'stop',
      'entities',
      'the file declares entities of its own, which are never resolved here',
      where,
      'save it as plain SVG from the drawing program',
    ),
  script: (where: string): PatternProblem =>
    said(
      'check',
      'script',
      'a script was left out; nothing in a drawing is ever run',
      where,
      'see that the drawing is whole without it',
    ),
  external: (target: string, where: string): PatternProblem =>
    said(
      'check',
      'external-reference',
      `it refers to "${target.slice(0, 60)}" outside the file, which is never fetched`,
      where,
      'put the thing itself into the drawing, and save it again',
    ),
  notRead: (thing: string, where: string, remedy: string): PatternProblem =>
    said('check', 'not-read', `${thing} is not read`, where, remedy),
  unknownElement: (name: string, where: string): PatternProblem =>
    said(
      'note',
      'not-read',
      `the element "${name.slice(0, 40)}" is not known and was left out`,
      where,
      'turn it into paths if it belongs to the piece',
    ),
  missing: (id: string, where: string): PatternProblem =>
    said(
      'check',
      'missing-reference',
      `it refers to "${id.slice(0, 60)}", which the drawing does not hold`,
      where,
      'draw it again',
    ),
  circular: (where: string): PatternProblem =>
    said(
      'check',
      'circular-reference',
      'it is drawn inside itself; that part was left out',
      where,
      'draw it again without the circle',
    ),
  badPath: (reason: string, where: string): PatternProblem =>
    said(
      'check',
      'broken-path',
      `its path is broken and was read up to the fault (${reason})`,
      where,
      'see that it is whole, or draw it again',
    ),
  badNumber: (attribute: string, value: string, where: string): PatternProblem =>
    said(
      'check',
      'not-a-number',
      `"${attribute}" is "${value.slice(0, 40)}", which is no length or place; it was left out`,
      where,
      'draw it again',
    ),
  badTransform: (value: string, where: string): PatternProblem =>
    said(
      'check',
      'broken-transform',
      `its transform "${value.slice(0, 60)}" is not understood; it was left out`,
      where,
      'apply the transform in the drawing program, and save it again',
    ),
  styleRule: (selector: string): PatternProblem =>
    said(
      'note',
      'not-read',
      `the style rule for "${selector.slice(0, 60)}" is not read`,
      'style',
      'give lines and fills to the shapes themselves',
    ),
  noSize: (
    sizes: {
      readonly px: readonly [number, number]
      readonly mm: readonly [number, number]
    },
    taken: string,
  ): PatternProblem =>
    said(
      'check',
      'no-unit',
      `the drawing names no unit: read as px (1/96 in) it is ${size(sizes.px)} mm, read as mm it is ${size(sizes.mm)} mm; until that is said it is shown as ${taken} and has no weight`,
      'the whole drawing',
      'say which it is: mm, in or px',
    ),
  /** SVG 2, 8.2 and CSS Values 4, 6.2: a length without a unit is in px. */
  plainSize: (sizes: {
    readonly px: readonly [number, number]
    readonly mm: readonly [number, number]
  }): PatternProblem =>
    said(
      'check',
      'plain-size',
      `the drawing's size is in plain numbers, which in an SVG are px (1/96 in): it is ${size(sizes.px)} mm; if they were meant as mm it is ${size(sizes.mm)} mm`,
      'the whole drawing',
      'say which it is: mm, in or px',
    ),
  background: (where: string): PatternProblem =>
    said(
      'note',
      'background',
      'a white sheet under the whole drawing is taken for paper and left out',
      where,
      'give it a line if it is a plate of the piece',
    ),
  besideDrawing: (where: string): PatternProblem =>
    said(
      'note',
      'beside-drawing',
      'lines of hardware and stones that a template holds beside its drawing are left out',
      where,
      'give hardware and stones by their sizes: they are no regions',
    ),
  noUnit: (mm: readonly [number, number]): PatternProblem =>
    said(
      'check',
      'no-unit',
      `the drawing names no unit: read as mm it is ${size(mm)} mm, read as in it is ${size([mm[0] * 25.4, mm[1] * 25.4])} mm; until that is said it is shown as mm and has no weight`,
      'the whole drawing',
      'say which it is: mm or in',
    ),
  binaryDxf: (): PatternProblem =>
    said('stop', 'binary-dxf', 'the DXF is in its binary form', 'the file', 'save it as text (ASCII) DXF'),
  truncated: (line: number): PatternProblem =>
    said(
      'stop',
      'broken-file',
      'the file breaks off: it has no EOF at its end',
      `line ${whole(line)}`,
      'save it again, and see that it is copied whole',
    ),
  entityTypes: (type: string, count: number, remedy: string): PatternProblem =>
    said(
      'check',
      'not-read',
      `${count === 1 ? `a ${type} is` : `${whole(count)} of ${type} are`} not read`,
      type,
      remedy,
    ),
  badEntity: (what: string, where: string): PatternProblem =>
    said(
      'check',
      'broken-entity',
      `${what}; it was left out`,
      where,
      'draw it again, or turn it into a polyline',
    ),
  tilted: (where: string): PatternProblem =>
    said(
      'check',
      'tilted',
      'it is tilted out of the drawing plane and is read as seen from above',
      where,
      'draw it flat',
    ),
  hiddenLayers: (names: readonly string[]): PatternProblem =>
    said(
      'note',
      'hidden-layers',
      `what lies on layers that are off or frozen is left out: ${names.slice(0, 6).join(', ')}`,
      'layers',
      'turn the layer on if it belongs to the piece',
    ),
  oddUnit: (name: string): PatternProblem =>
    said(
      'check',
      'odd-unit',
      `the drawing's unit is "${name}", in which no piece of this size is drawn`,
      '$INSUNITS',
      'see that its unit is right',
    ),
  joined: (count: number, widest: number): PatternProblem =>
    said(
      'check',
      'gaps-joined',
      `${count === 1 ? 'a gap' : `${whole(count)} gaps`} between the ends of lines, up to ${Number(widest.toPrecision(2))} mm, ${count === 1 ? 'was' : 'were'} joined`,
      'the whole drawing',
      'see that the outlines are as you meant them',
    ),
  moved: (): PatternProblem =>
    said(
      'note',
      'moved',
      'it lies far from the zero point of its file; its lower left corner was moved there',
      'the whole drawing',
      'nothing to do',
    ),
} as const

/** Keeps what is said once, and a flood of the same short. */
export class Said {
  readonly problems: PatternProblem[] = []
  private readonly keys = new Set<string>()
  private readonly counts = new Map<string, number>()

  say(problem: PatternProblem): void {
    const key = `${problem.kind} ${problem.what} ${problem.where}`
    if (this.keys.has(key)) return
    const count = (this.counts.get(problem.kind) ?? 0) + 1
    this.counts.set(problem.kind, count)
    if (count > 20) return
    this.keys.add(key)
    this.problems.push(problem)
  }

  /** With what was kept back at its end. */
  all(): PatternProblem[] {
    const more = [...this.counts].filter(([, count]) => count > 20)
    return [
      ...this.problems,
      ...more.map(([kind, count]) =>
        said(
          'check',
          kind,
          `and ${whole(count - 20)} more of the same`,
          'the whole drawing',
          'mend those that are named first',
        ),
      ),
    ]
  }
}
