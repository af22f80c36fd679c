import type { ModelForm } from './model-form.ts'
import { joinStrokes, lengthOfRun, pathOfRuns, type Run, type Stroke, simplify } from './polyline.ts'
import type { Place } from './view.ts'
import { isSeen, type Projected, type Sight, seeFaces } from './visible-layers.ts'

/**
 * How a model stands before the reader, as unit directions in the model's own axes: across the sheet to the
 * right, down the sheet, and towards the reader. Where the light matters, `sky` is up in the world and `out`
 * the way the piece's own face looks.
 */
export interface Frame {
  readonly right: Place
  readonly down: Place
  readonly toward: Place
  readonly sky?: Place
  readonly out?: Place
}

export interface ModelShape {
  /** flat tones, to be laid one over the other; the first is the whole silhouette */
  readonly coats: readonly { readonly tone: 'face' | 'side'; readonly path: string }[]
  /** where the model turns away from the reader */
  readonly outline: string
  /** where two faces meet at an angle, both seen */
  readonly creases: string
  /** half the width and height of the model's own box as seen, mm */
  readonly half: readonly [across: number, down: number]
}

/** Cosines: a face is light when it looks up, or the way the piece's face does, or at the reader, so squarely. */
const LIGHT = { up: 0.75, out: 0.94, toward: 0.97 }
/** The drawing's own resolution: cells across the longer way, and never finer than half a pixel. */
const CELLS = 280
const LEAST_PX = 0.15
/** A crease shorter than this says nothing of the shape: soft relief is full of them. */
const LEAST_CREASE_PX = 7
const MOST_RUNS = 1500

const at = (list: ArrayLike<number>, index: number): number => list[index] as number

const dot = (list: Float64Array, index: number, way: Place): number =>
  (list[index] as number) * way[0] +
  (list[index + 1] as number) * way[1] +
  (list[index + 2] as number) * way[2]

const isLit = ({ normals }: ModelForm, { sky, out }: Frame, face: number): boolean =>
  (sky !== undefined && dot(normals, face * 3, sky) > LIGHT.up) ||
  (out !== undefined && Math.abs(dot(normals, face * 3, out)) > LIGHT.out)

/** Boundary of the faces chosen: a side shared by two of them is left out, and so leaves no seam. */
const boundaryOf = (form: ModelForm, chosen: (face: number) => boolean): readonly (readonly number[])[] => {
  const next = new Map<number, number[]>()
  const { corners, edges, sides } = form
  for (let side = 0; side < corners.length; side += 1) {
    const face = Math.floor(side / 3)
    if (!chosen(face)) continue
    const edge = at(sides, side) * 4
    const other = at(edges, edge + 2) === face ? at(edges, edge + 3) : at(edges, edge + 2)
    if (other >= 0 && chosen(other)) continue
    const from = at(corners, side)
    const to = at(corners, side % 3 === 2 ? side - 2 : side + 1)
    const here = next.get(from)
    if (here === undefined) next.set(from, [to])
    else here.push(to)
  }
  const loops: number[][] = []
  for (const [start, goes] of next)
    while (goes.length > 0) {
      const loop = [start]
      let place = goes.pop() as number
      while (place !== start) {
        loop.push(place)
        place = next.get(place)?.pop() ?? start
      }
      loops.push(loop)
    }
  return loops
}

const strokesOf = (
  form: ModelForm,
  sheet: Projected,
  sight: Sight,
  wanted: (edge: number) => boolean,
): readonly Stroke[] => {
  const strokes: Stroke[] = []
  // a stroke that ends where something hides it meets no other there
  let loose = -1
  for (let edge = 0; edge < form.creased.length; edge += 1) {
    if (!wanted(edge)) continue
    const [from, to] = [at(form.edges, edge * 4), at(form.edges, edge * 4 + 1)]
    const [x0, y0, n0] = [at(sheet.x, from), at(sheet.y, from), at(sheet.near, from)]
    const [dx, dy, dn] = [at(sheet.x, to) - x0, at(sheet.y, to) - y0, at(sheet.near, to) - n0]
    const parts = Math.max(1, Math.ceil(Math.hypot(dx, dy)))
    let begun = -1
    for (let part = 0; part <= parts; part += 1) {
      const half = (part + 0.5) / parts
      const seen = part < parts && isSeen(sheet, sight, x0 + dx * half, y0 + dy * half, n0 + dn * half)
      if (seen && begun < 0) begun = part
      if (seen || begun < 0) continue
      const [start, end] = [begun / parts, part / parts]
      strokes.push({
        from: begun === 0 ? from : loose--,
        to: part === parts ? to : loose--,
        x0: x0 + dx * start,
        y0: y0 + dy * start,
        x1: x0 + dx * end,
        y1: y0 + dy * end,
      })
      begun = -1
    }
  }
  return strokes
}

/** The model's form laid on a grid of cells, a margin of bare cells round it. */
const layOnSheet = (form: ModelForm, frame: Frame, scale: number) => {
  const count = form.points.length / 3
  const [x, y, near] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  let [left, top, right, bottom] = [0, 0, 0, 0]
  for (let point = 0; point < count; point += 1) {
    const across = dot(form.points, point * 3, frame.right)
    const down = dot(form.points, point * 3, frame.down)
    x[point] = across
    y[point] = down
    near[point] = dot(form.points, point * 3, frame.toward)
    left = Math.min(left, across)
    right = Math.max(right, across)
    top = Math.min(top, down)
    bottom = Math.max(bottom, down)
  }
  const cell = Math.max(Math.max(right - left, bottom - top) / CELLS, 0.5 / scale, 1e-9)
  // off the round numbers that models are drawn to, so that no edge runs through the middles of cells
  const [fromLeft, fromTop] = [left - 2.137 * cell, top - 2.219 * cell]
  for (let point = 0; point < count; point += 1) {
    x[point] = (at(x, point) - fromLeft) / cell
    y[point] = (at(y, point) - fromTop) / cell
    near[point] = at(near, point) / cell
  }
  const sheet: Projected = {
    x,
    y,
    near,
    corners: form.corners,
    across: Math.ceil((right - fromLeft) / cell) + 3,
    down: Math.ceil((bottom - fromTop) / cell) + 3,
  }
  const toSheet = (run: Run): Run =>
    run.map((value, index) => value * cell + (index % 2 === 0 ? fromLeft : fromTop))
  const half = [Math.max(right, -left), Math.max(bottom, -top)] as const
  return { sheet, toSheet, cell, half }
}

/**
 * Draws a model as seen from one side, for a drawing of `scale` pixels to the millimetre: flat tones with the
 * nearer over the farther, its outline, and its creases, hidden lines left out. In mm from its box's middle.
 */
export const shapeOfModel = (form: ModelForm, frame: Frame, scale: number): ModelShape => {
  const { sheet, toSheet, cell, half } = layOnSheet(form, frame, scale)
  const faceCount = form.corners.length / 3
  const front = new Uint8Array(faceCount)
  const dark = new Uint8Array(faceCount)
  const faces: number[] = []
  for (let face = 0; face < faceCount; face += 1) {
    const facing = dot(form.normals, face * 3, frame.toward)
    if (facing <= 1e-6) continue
    front[face] = 1
    faces.push(face)
    dark[face] = facing > LIGHT.toward || isLit(form, frame, face) ? 0 : 1
  }
  const sight = seeFaces(sheet, faces, dark)
  const tolerance = LEAST_PX / scale
  const decimals = Math.max(1, Math.ceil(-Math.log10(tolerance)) + 1)
  const fill = (chosen: (face: number) => boolean): string => {
    const runs = boundaryOf(form, chosen).map((loop) => {
      const closed = [...loop, loop[0] as number]
      return simplify(toSheet(closed.flatMap((point) => [at(sheet.x, point), at(sheet.y, point)])), tolerance)
    })
    return pathOfRuns(
      runs.filter((run) => run.length > 6),
      decimals,
      true,
    )
  }
  const draw = (wanted: (edge: number) => boolean, least: number): string => {
    const runs = joinStrokes(strokesOf(form, sheet, sight, wanted))
      .map((run) => ({ run: simplify(toSheet(run), tolerance), length: lengthOfRun(run) * cell }))
      .filter(({ length }) => length > Math.max(least / scale, 1.5 * cell))
    const longest = runs.length > MOST_RUNS ? runs.toSorted((a, b) => b.length - a.length) : runs
    return pathOfRuns(
      longest.slice(0, MOST_RUNS).map(({ run }) => run),
      decimals,
    )
  }
  const isFront = (face: number): boolean => face >= 0 && front[face] === 1
  const fronts = (edge: number): number =>
    Number(isFront(at(form.edges, edge * 4 + 2))) + Number(isFront(at(form.edges, edge * 4 + 3)))
  const deepest = sight.layers.reduce((most, layer) => Math.max(most, layer), 0)
  const coats = Array.from({ length: deepest + 1 }, (_, layer) => ({
    tone: layer % 2 === 0 ? ('face' as const) : ('side' as const),
    path: fill(layer === 0 ? isFront : (face) => sight.layers[face] === layer),
  })).filter(({ path }) => path !== '')
  return {
    coats,
    outline: draw((edge) => fronts(edge) === 1, LEAST_PX),
    creases: draw((edge) => fronts(edge) === 2 && form.creased[edge] === 1, LEAST_CREASE_PX),
    half,
  }
}
