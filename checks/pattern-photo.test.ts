import { describe, expect, test } from 'vitest'
import { cameraOf, drawPhoto, type Point, type Shot } from '../fixtures/photos/draw-photo.ts'
import { homographyFrom, tracePhoto } from '../src/engine/pattern/photo/index.ts'

/*
 * A sheet of known drawing, seen by a pinhole camera that projects in space (fixtures/photos), against the trace.
 * Areas of circle, square and ring: elementary geometry. The star: shoelace over its ten corners.
 */
const sheet = { width_mm: 127, height_mm: 76.2 }
const shot: Shot = {
  sheet,
  picture: { width: 2000, height: 1500 },
  tilt: [14, -11, 4],
  away_mm: 230,
  focal: 1.35,
  shadow: 0.35,
  uneven: 0.2,
  grain: 4,
}

const ringOf = (x: number, y: number, radius: number, count = 360): Point[] =>
  Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as const
  })
const starOf = (x: number, y: number, outer: number, inner: number): Point[] =>
  Array.from({ length: 10 }, (_, k) => {
    const angle = Math.PI / 2 + (Math.PI * k) / 5
    const radius = k % 2 === 0 ? outer : inner
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as const
  })
const shoelace = (points: ArrayLike<number>): number => {
  let sum = 0
  for (let k = 0; k < points.length; k += 2) {
    const j = (k + 2) % points.length
    sum +=
      (points[k] as number) * (points[j + 1] as number) - (points[j] as number) * (points[k + 1] as number)
  }
  return Math.abs(sum / 2)
}
const settingFor = (corners_px: [Pixel, Pixel, Pixel, Pixel]) => ({
  scale: { by: 'sheet' as const, corners_px, ...sheet },
  widest_line_mm: 1.6,
  join_mm: 0.5,
  speck_mm2: 0.5,
})
type Pixel = [number, number]

/** The area of the closed loop round a place. */
function areaAt(trace: ReturnType<typeof tracePhoto>, x: number, y: number): number {
  const loops = trace.drawing.marks
    .flatMap((mark) => mark.runs)
    .filter((run) => run.closed)
    .filter(({ points }) => {
      let inside = false
      for (let k = 0; k < points.length; k += 2) {
        const j = (k + 2) % points.length
        const [ax, ay, bx, by] = [
          points[k] as number,
          points[k + 1] as number,
          points[j] as number,
          points[j + 1] as number,
        ]
        if (ay <= y !== by <= y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside
      }
      return inside
    })
    .map(({ points }) => shoelace(points))
  return Math.min(...loops)
}

describe('the straightening of a photographed sheet', () => {
  test('gives back a known perspective to a millionth of a micrometre, both ways', () => {
    const { see } = cameraOf(shot)
    const { width_mm: w, height_mm: h } = sheet
    const map = homographyFrom([see(0, h), see(w, h), see(w, 0), see(0, 0)], w, h)
    if ('refused' in map) throw new Error(map.refused.what)
    for (let x = 0; x <= w; x += 12.7)
      for (let y = 0; y <= h; y += 7.62) {
        const [px, py] = see(x, y)
        const [mx, my] = map.toSheet(px, py)
        expect(Math.hypot(mx - x, my - y)).toBeLessThan(1e-9)
        const [qx, qy] = map.toPicture(x, y)
        expect(Math.hypot(qx - px, qy - py)).toBeLessThan(1e-9)
      }
  })
})

describe('a photo with perspective, shadow, uneven light and grain', () => {
  const pen_mm = 0.7
  const stroke = (points: readonly Point[], closed = true) => ({ points, closed, pen_mm })
  const { picture, corners_px } = drawPhoto(
    {
      strokes: [
        stroke(ringOf(25, 50, 12)),
        stroke([
          [45, 40],
          [65, 40],
          [65, 60],
          [45, 60],
        ]),
        stroke(ringOf(95, 50, 15)),
        stroke(ringOf(95, 50, 9)),
        stroke(starOf(30, 20, 14, 5.6)),
        stroke(ringOf(70, 20, 8).slice(0, 355), false),
        // three dots of 0.4 mm: specks
        stroke(
          [
            [10, 10],
            [10.05, 10],
          ],
          false,
        ),
        stroke(
          [
            [115, 70],
            [115.05, 70],
          ],
          false,
        ),
        stroke(
          [
            [60, 70],
            [60.05, 70],
          ],
          false,
        ),
      ].map((each, k) => (k > 5 ? { ...each, pen_mm: 0.4 } : each)),
      blots: [ringOf(105, 18, 7)],
    },
    shot,
  )
  const trace = tracePhoto(picture, settingFor(corners_px))

  test.each([
    ['a circle of radius 12 mm', 25, 50, Math.PI * 12 ** 2],
    ['a square of 20 mm', 55, 50, 400],
    ['the outside of a ring of radius 15 mm', 95, 61.5, Math.PI * 15 ** 2],
    ['its hole of radius 9 mm', 95, 50, Math.PI * 9 ** 2],
    ['a star of five sharp points', 30, 20, shoelace(starOf(30, 20, 14, 5.6).flat())],
    ['a circle of radius 8 mm whose ends leave a gap', 70, 20, Math.PI * 8 ** 2],
    ['a blot of radius 7 mm, counted to its edge', 105, 18, Math.PI * 7 ** 2],
  ])('has the area of %s right to 1 %%', (_, x, y, want) => {
    const got = areaAt(trace, x, y)
    expect(Math.abs(got / want - 1), `${got.toFixed(2)} mm2, wanted ${want.toFixed(2)}`).toBeLessThan(0.01)
  })

  test('names the one gap that was joined, where it is and how wide', () => {
    expect(trace.joined).toHaveLength(1)
    const [gap] = trace.joined
    // the arc of 360 chords lacks the way from point 354 to 360: 6 degrees less one pen
    const middle = (2 * Math.PI * 357) / 360
    const wide = 2 * 8 * Math.sin((6 * Math.PI) / 360) - pen_mm
    expect(Math.abs((gap?.at_mm[0] ?? 0) - (70 + 8 * Math.cos(middle)))).toBeLessThan(0.3)
    expect(Math.abs((gap?.at_mm[1] ?? 0) - (20 + 8 * Math.sin(middle)))).toBeLessThan(0.3)
    expect(Math.abs((gap?.gap_mm ?? 9) - wide)).toBeLessThan(0.2)
  })

  test('drops the three specks and leaves no other mark', () => {
    expect(trace.dropped).toBe(3)
    expect(trace.drawing.marks).toHaveLength(7)
  })

  test('finds the sheet’s own edge along the marked sides', () => {
    expect(trace.straightness_mm).toBeLessThan(0.1)
  })
})
