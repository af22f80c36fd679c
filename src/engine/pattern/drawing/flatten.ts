import type { Run } from '../drawing.ts'
import { type Affine, movedX, movedY } from './affine.ts'

/** No flattened curve lies farther than this from the true one. */
export const CHORD_MM = 0.002
/**
 * No piece of a curve turns by more than this (100 pieces to a full round), so that small rounds keep their area
 * too: the chord error alone would take 0.5 % from a hole of 1 mm.
 */
export const TURN = (2 * Math.PI) / 100
/** Finer than this the turn no longer counts: it nears the grid on which lines are cut. */
export const FINEST_CHORD_MM = 0.0002
/** A single curve is never cut finer than this, whatever its size. */
const PIECES_AT_MOST = 20_000

/** Where flattened points are counted; reading stops when a drawing has too many. */
export interface Ink {
  readonly most: number
  points: number
}

/**
 * Draws flattened runs in millimetres: moves are given in the drawing's own numbers and taken through `to_mm`.
 * Curves are cut evenly in their own parameter, as finely as the chord error asks for after scaling.
 */
export class Pen {
  readonly runs: Run[] = []
  private points: number[] = []
  private readonly to_mm: Affine
  private readonly ink: Ink

  constructor(to_mm: Affine, ink: Ink) {
    this.to_mm = to_mm
    this.ink = ink
  }

  move(x: number, y: number): void {
    this.lift(false)
    this.line(x, y)
  }

  line(x: number, y: number): void {
    this.put(movedX(this.to_mm, x, y), movedY(this.to_mm, x, y))
  }

  /** From where the pen is, by the control points of a quadratic or cubic curve: x, y, x, y ... the last its end. */
  bezier(fromX: number, fromY: number, ...controls: readonly number[]): void {
    const own = [fromX, fromY, ...controls]
    const p: number[] = []
    for (let i = 0; i < own.length; i += 2) {
      const [x, y] = [own[i] as number, own[i + 1] as number]
      p.push(movedX(this.to_mm, x, y), movedY(this.to_mm, x, y))
    }
    // Wang's bound on how far a curve of this degree strays from its chords.
    const degree = p.length / 2 - 1
    let bend = 0
    for (let i = 0; i + 5 < p.length; i += 2)
      bend = Math.max(
        bend,
        Math.hypot(
          (p[i] as number) - 2 * (p[i + 2] as number) + (p[i + 4] as number),
          (p[i + 1] as number) - 2 * (p[i + 3] as number) + (p[i + 5] as number),
        ),
      )
    const piecesWithin = (chord_mm: number): number =>
      Math.sqrt((degree * (degree - 1) * bend) / (8 * chord_mm))
    const pieces = piecesOf(
      Math.max(piecesWithin(CHORD_MM), Math.min(turningOf(p) / TURN, piecesWithin(FINEST_CHORD_MM))),
    )
    for (let i = 1; i < pieces; i += 1) {
      const t = i / pieces
      const s = 1 - t
      const w =
        degree === 2 ? [s * s, 2 * s * t, t * t] : [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t]
      let [x, y] = [0, 0]
      w.forEach((weight, k) => {
        x += weight * (p[2 * k] as number)
        y += weight * (p[2 * k + 1] as number)
      })
      this.put(x, y)
    }
    this.put(p[p.length - 2] as number, p[p.length - 1] as number)
  }

  /**
   * Part of an ellipse about a centre, with two half-axes as vectors, from `start` through `sweep` radians.
   * Its first point is not put: the pen is there. A sweep below zero runs backward.
   */
  arc(
    [cx, cy]: readonly [number, number],
    [ux, uy]: readonly [number, number],
    [vx, vy]: readonly [number, number],
    start: number,
    sweep: number,
    last?: readonly [number, number],
  ): void {
    const wanted = arcPieces(this.to_mm, [ux, uy], [vx, vy], sweep)
    // A whole turn touches its box: a circle drawn 4 mm wide is 4 mm wide.
    const pieces = Math.abs(sweep) === 2 * Math.PI ? 4 * Math.ceil(wanted / 4) : wanted
    for (let i = 1; i <= pieces; i += 1) {
      const angle = start + (sweep * i) / pieces
      const [c, s] = [Math.cos(angle), Math.sin(angle)]
      if (i === pieces && last !== undefined) this.line(last[0], last[1])
      else this.line(cx + c * ux + s * vx, cy + c * uy + s * vy)
    }
  }

  /** A whole ellipse as a closed run of its own. */
  ellipse(
    centre: readonly [number, number],
    u: readonly [number, number],
    v: readonly [number, number],
  ): void {
    this.move(centre[0] + u[0], centre[1] + u[1])
    this.arc(centre, u, v, 0, 2 * Math.PI, [centre[0] + u[0], centre[1] + u[1]])
    this.lift(true)
  }

  /** Ends the run, closed or open. A closed one drops a last point that repeats its first. */
  lift(closed: boolean): void {
    const points = this.points
    this.points = []
    if (closed && points.length >= 6 && isSame(points, points.length - 2)) points.splice(points.length - 2)
    if (points.length >= 4) this.runs.push({ points: Float64Array.from(points), closed })
  }

  /** Counts work that leads to no point, or to few: a tiny file must not keep the reader busy for minutes. */
  spend(points: number): void {
    this.ink.points += points
    if (this.ink.points > this.ink.most) throw new TooMuchInk()
  }

  private put(x: number, y: number): void {
    this.spend(1)
    this.points.push(x, y)
  }
}

/** Thrown by a pen and caught by the reader that made it. */
export class TooMuchInk extends Error {}

const isSame = (points: readonly number[], at: number): boolean =>
  Math.hypot(
    (points[at] as number) - (points[0] as number),
    (points[at + 1] as number) - (points[1] as number),
  ) < 1e-6

const piecesOf = (wanted: number): number =>
  Number.isFinite(wanted) ? Math.min(PIECES_AT_MOST, Math.max(1, Math.ceil(wanted))) : 1

/** How far a polygon of x, y, x, y ... turns between its first leg and its last, radians. */
const turningOf = (p: readonly number[]): number => {
  let turned = 0
  let before: readonly [number, number] | undefined
  for (let i = 0; i + 3 < p.length; i += 2) {
    const leg = [
      (p[i + 2] as number) - (p[i] as number),
      (p[i + 3] as number) - (p[i + 1] as number),
    ] as const
    if (leg[0] === 0 && leg[1] === 0) continue
    if (before !== undefined)
      turned += Math.abs(
        Math.atan2(before[0] * leg[1] - before[1] * leg[0], before[0] * leg[0] + before[1] * leg[1]),
      )
    before = leg
  }
  return turned
}

const arcPieces = (
  [a, b, c, d]: Affine,
  [ux, uy]: readonly [number, number],
  [vx, vy]: readonly [number, number],
  sweep: number,
): number => {
  const u = [a * ux + c * uy, b * ux + d * uy] as const
  const v = [a * vx + c * vy, b * vx + d * vy] as const
  // The longest half-axis after the transform: the larger singular value of (u v).
  const sum = u[0] ** 2 + u[1] ** 2 + v[0] ** 2 + v[1] ** 2
  const cross = u[0] * v[1] - u[1] * v[0]
  const longest = Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * cross * cross))) / 2)
  const least = Math.ceil(Math.abs(sweep) / (Math.PI / 4))
  if (!(longest > CHORD_MM)) return Math.max(1, least)
  const stepWithin = (chord_mm: number): number => 2 * Math.acos(1 - chord_mm / longest)
  const step = Math.min(stepWithin(CHORD_MM), Math.max(TURN, stepWithin(FINEST_CHORD_MM)))
  return piecesOf(Math.max(least, Math.abs(sweep) / step))
}
