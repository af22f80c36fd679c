import { type Affine, chain, movedX, movedY, shift } from './affine.ts'
import { allAt, type Entity, numberAt, pointsAt, textAt } from './dxf-tags.ts'
import type { Pen } from './flatten.ts'
import { faultOf, flattenNurbs, type Nurbs } from './nurbs.ts'

export const DRAWN = ['LINE', 'LWPOLYLINE', 'POLYLINE', 'ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE'] as const

const radians = (degrees: number): number => (degrees * Math.PI) / 180

/** The direction in which an entity faces; straight up where none is given. */
const normalOf = (entity: Entity): readonly [number, number, number] => [
  numberAt(entity, 210, 0),
  numberAt(entity, 220, 0),
  numberAt(entity, 230, 1),
]

export const isTilted = (entity: Entity): boolean => {
  const [x, y, z] = normalOf(entity)
  return Math.abs(x) > 1e-6 * Math.abs(z) || Math.abs(y) > 1e-6 * Math.abs(z)
}

/**
 * From an entity's own plane to the drawing's, seen from above: the arbitrary axis rule of the DXF reference.
 * Facing down, (0, 0, -1), mirrors x.
 */
export const ownPlane = (entity: Entity): Affine => {
  const raw = normalOf(entity)
  const long = Math.hypot(...raw)
  if (!(long > 0)) return [Number.NaN, 0, 0, 0, 0, 0]
  const [nx, ny, nz] = raw.map((part) => part / long) as [number, number, number]
  const isSteep = Math.abs(nx) < 1 / 64 && Math.abs(ny) < 1 / 64
  // World y, or world z, crossed with the normal gives the plane's x.
  const ax = isSteep ? [nz, 0, -nx] : [-ny, nx, 0]
  const size = Math.hypot(...ax)
  const [ux, uy, uz] = ax.map((part) => part / size) as [number, number, number]
  const [vx, vy] = [ny * uz - nz * uy, nz * ux - nx * uz]
  const rise = entity.type === 'LWPOLYLINE' ? numberAt(entity, 38, 0) : numberAt(entity, 30, 0)
  return chain(shift(nx * rise, ny * rise), [ux, uy, vx, vy, 0, 0])
}

/** Draws an entity in its own plane's numbers, or says what is wrong with it. */
export const drawEntity = (entity: Entity, makePen: (plane: Affine) => Pen, to_mm: Affine): Pen | string => {
  const x = numberAt(entity, 10, Number.NaN)
  const y = numberAt(entity, 20, Number.NaN)
  const flatPen = (): Pen => makePen([1, 0, 0, 1, 0, 0])
  const planePen = (): Pen => makePen(ownPlane(entity))
  switch (entity.type) {
    case 'LINE': {
      const pen = flatPen()
      pen.move(x, y)
      pen.line(numberAt(entity, 11, Number.NaN), numberAt(entity, 21, Number.NaN))
      pen.lift(false)
      return pen
    }
    case 'CIRCLE': {
      const r = numberAt(entity, 40, Number.NaN)
      if (!(r > 0)) return 'its radius is not above zero'
      const pen = planePen()
      pen.ellipse([x, y], [r, 0], [0, r])
      return pen
    }
    case 'ARC': {
      const r = numberAt(entity, 40, Number.NaN)
      if (!(r > 0)) return 'its radius is not above zero'
      const start = radians(numberAt(entity, 50, 0))
      return drawPart(planePen(), [x, y], [r, 0], [0, r], start, radians(numberAt(entity, 51, 360)))
    }
    case 'ELLIPSE':
      return drawEllipse(entity, flatPen(), x, y)
    case 'LWPOLYLINE':
      return drawBulges(planePen(), lightVertices(entity), (numberAt(entity, 70, 0) & 1) === 1)
    case 'POLYLINE':
      return drawPolyline(entity, flatPen, planePen)
    default:
      return drawSpline(entity, flatPen(), to_mm)
  }
}

type Vector = readonly [number, number]

/** Part of an ellipse from one parameter anticlockwise to another; whole where they are the same. */
const drawPart = (pen: Pen, c: Vector, u: Vector, v: Vector, start: number, end: number): Pen => {
  const full = 2 * Math.PI
  const sweep = (((end - start) % full) + full) % full
  if (!Number.isFinite(sweep)) return pen
  if (sweep < 1e-9 || full - sweep < 1e-9) {
    pen.ellipse(c, u, v)
    return pen
  }
  pen.move(
    c[0] + Math.cos(start) * u[0] + Math.sin(start) * v[0],
    c[1] + Math.cos(start) * u[1] + Math.sin(start) * v[1],
  )
  pen.arc(c, u, v, start, sweep)
  pen.lift(false)
  return pen
}

const drawEllipse = (entity: Entity, pen: Pen, x: number, y: number): Pen | string => {
  const [mx, my, mz] = [
    numberAt(entity, 11, Number.NaN),
    numberAt(entity, 21, Number.NaN),
    numberAt(entity, 31, 0),
  ]
  const ratio = numberAt(entity, 40, Number.NaN)
  if (!(Math.hypot(mx, my, mz) > 0)) return 'its long axis has no length'
  if (!(Math.abs(ratio) > 0)) return 'its axes have no ratio'
  const [nx, ny, nz] = normalOf(entity)
  const size = Math.hypot(nx, ny, nz)
  const minor: Vector = [(ratio * (ny * mz - nz * my)) / size, (ratio * (nz * mx - nx * mz)) / size]
  return drawPart(pen, [x, y], [mx, my], minor, numberAt(entity, 41, 0), numberAt(entity, 42, 2 * Math.PI))
}

interface Vertex {
  readonly x: number
  readonly y: number
  /** tangent of a quarter of the arc's angle to the next vertex; 0 for a straight line, below 0 clockwise */
  readonly bulge: number
}

const lightVertices = ({ codes, values }: Entity): Vertex[] => {
  const vertices: { x: number; y: number; bulge: number }[] = []
  codes.forEach((code, i) => {
    const value = Number(values[i])
    if (code === 10) vertices.push({ x: value, y: Number.NaN, bulge: 0 })
    const last = vertices.at(-1)
    if (last === undefined) return
    if (code === 20) last.y = value
    if (code === 42) last.bulge = value
  })
  return vertices
}

const drawBulges = (pen: Pen, vertices: readonly Vertex[], closed: boolean): Pen | string => {
  const [first] = vertices
  if (first === undefined || vertices.length < 2) return 'it has fewer than two points'
  pen.move(first.x, first.y)
  const count = closed ? vertices.length : vertices.length - 1
  for (let i = 0; i < count; i += 1) {
    const from = vertices[i] as Vertex
    const to = vertices[(i + 1) % vertices.length] as Vertex
    const { bulge } = from
    const [dx, dy] = [to.x - from.x, to.y - from.y]
    if (bulge === 0 || (dx === 0 && dy === 0)) pen.line(to.x, to.y)
    else {
      const aside = (1 - bulge * bulge) / (4 * bulge)
      const centre: Vector = [(from.x + to.x) / 2 - aside * dy, (from.y + to.y) / 2 + aside * dx]
      const r = Math.hypot(from.x - centre[0], from.y - centre[1])
      const start = Math.atan2(from.y - centre[1], from.x - centre[0])
      pen.arc(centre, [r, 0], [0, r], start, 4 * Math.atan(bulge), [to.x, to.y])
    }
  }
  pen.lift(closed)
  return pen
}

const MESHES = 16 | 64
const FRAME_VERTEX = 16
const IN_SPACE = 8

const drawPolyline = (entity: Entity, flatPen: () => Pen, planePen: () => Pen): Pen | string => {
  const flags = numberAt(entity, 70, 0)
  if ((flags & MESHES) !== 0) return 'it is a mesh, not a line'
  const vertices = entity.parts
    .filter((part) => part.type === 'VERTEX' && (numberAt(part, 70, 0) & FRAME_VERTEX) === 0)
    .map((part) => ({
      x: numberAt(part, 10, Number.NaN),
      y: numberAt(part, 20, Number.NaN),
      bulge: numberAt(part, 42, 0),
    }))
  return drawBulges((flags & IN_SPACE) !== 0 ? flatPen() : planePen(), vertices, (flags & 1) === 1)
}

const drawSpline = (entity: Entity, pen: Pen, to_mm: Affine): Pen | string => {
  const points = pointsAt(entity, 10)
  if (points.length === 0 && textAt(entity, 11) !== undefined)
    return 'it is given by the points it passes only, between which the format leaves the curve open'
  const weights = allAt(entity, 41)
  const curve: Nurbs = {
    degree: numberAt(entity, 71, Number.NaN),
    knots: allAt(entity, 40),
    points,
    weights: weights.length === 0 ? points.map(() => 1) : weights,
  }
  const fault = faultOf(curve)
  if (fault !== undefined) return fault
  const flat = flattenNurbs(curve, to_mm)
  flat.forEach(([x, y], i) => {
    if (i === 0) pen.move(x, y)
    else pen.line(x, y)
  })
  const [first, last] = [flat[0], flat.at(-1)]
  const meets =
    first !== undefined &&
    last !== undefined &&
    Math.hypot(
      movedX(to_mm, ...first) - movedX(to_mm, ...last),
      movedY(to_mm, ...first) - movedY(to_mm, ...last),
    ) < 1e-6
  pen.lift(meets)
  return pen
}
