import { drawPhoto, type Ink, type Point, randomFrom } from '../fixtures/photos/draw-photo.ts'
import { claspOutlines, claspVeins } from './clasp-lines.ts'

/** A plain index card. */
export const CARD = { width_mm: 127, height_mm: 76.2 }
const PEN_MM = 0.5
const MIDDLE: Point = [62.8, 38.6]
/** One leaf's outline was not quite closed at its tip. */
const LEFT_OPEN = { id: 'leaf-3', gap_mm: 0.6 }
const SPECKS: readonly Point[] = [
  [24.5, 62.3],
  [101.2, 14.8],
]

/** A line as the hand draws it: it strays slowly, by a tenth of a millimetre or so, and comes back to its start. */
function byHand(points: readonly Point[], closed: boolean, random: () => number): Point[] {
  const waves = [2, 3, 5, 8, 13].map((turns) => ({
    turns: closed ? turns : turns / 2,
    size: 0.12 / Math.sqrt(turns),
    phases: [random() * 2 * Math.PI, random() * 2 * Math.PI] as const,
  }))
  return points.map(([x, y], k) => {
    const t = (2 * Math.PI * k) / points.length
    const stray = (axis: 0 | 1): number =>
      waves.reduce((sum, { turns, size, phases }) => sum + size * 0.5 * Math.sin(turns * t + phases[axis]), 0)
    return [x + stray(0) + MIDDLE[0], y + stray(1) + MIDDLE[1]] as const
  })
}

/** What is inked on the card, millimetres from its lower left. */
export function claspInk(): Ink {
  const random = randomFrom(47)
  const outlines = claspOutlines().map(({ id, points }) => {
    const drawn = byHand(points, true, random)
    if (id !== LEFT_OPEN.id) return { points: drawn, closed: true, pen_mm: PEN_MM }
    // the tip is point 40 of the outline; the pen began there and stopped short of it
    const turned = [...drawn.slice(40), ...drawn.slice(0, 40)]
    return { points: withoutEnd(turned, LEFT_OPEN.gap_mm + PEN_MM), closed: false, pen_mm: PEN_MM }
  })
  const veins = claspVeins().map(({ points }) => ({
    points: byHand(points, false, random),
    closed: false,
    pen_mm: 0.35,
  }))
  const specks = SPECKS.map(([x, y]) => ({
    points: [[x, y] as const, [x + 0.15, y + 0.05] as const],
    closed: false,
    pen_mm: 0.45,
  }))
  return { strokes: [...outlines, ...veins, ...specks] }
}

/** The line up to the last place further than `gap` from its start. */
function withoutEnd(points: readonly Point[], gap: number): Point[] {
  const [start = [0, 0]] = points
  const fine: Point[] = []
  for (let k = 0; k < points.length; k += 1) {
    const [a, b] = [points[k] as Point, points[(k + 1) % points.length] as Point]
    for (let part = 0; part < 20; part += 1)
      fine.push([a[0] + ((b[0] - a[0]) * part) / 20, a[1] + ((b[1] - a[1]) * part) / 20])
  }
  const last = fine.findLastIndex(([x, y]) => Math.hypot(x - start[0], y - start[1]) >= gap)
  return fine.slice(0, last + 1)
}

export const claspShot = (width: number, height: number) =>
  drawPhoto(claspInk(), {
    sheet: CARD,
    picture: { width, height },
    tilt: [21, -13, 5],
    away_mm: 205,
    focal: 1.3,
    shadow: 0.3,
    uneven: 0.22,
    grain: 2.2,
    ink: 0.2,
    seed: 47,
  })
