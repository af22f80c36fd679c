import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { claspOutlines } from '../examples/clasp-lines.ts'
import { cameraOf, drawPhoto, type Point, type Shot } from '../fixtures/photos/draw-photo.ts'
import { heightsSchema } from '../src/engine/documents/heights.ts'
import { homographyFrom, seenShape, tracePhoto } from '../src/engine/pattern/photo/index.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'
import { decodePicture } from '../src/pixels/index.ts'

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

describe('the shape of a photographed sheet', () => {
  const letter = { width_mm: 279.4, height_mm: 215.9 }
  const a4 = { width_mm: 297, height_mm: 210 }
  const picture = { width: 4000, height: 3000 }
  const tilts = [-20, -8, 0, 8, 20].flatMap((one) =>
    [-20, -8, 0, 8, 20].map((other) => [one, other] as const),
  )
  /** The range told for a sheet that is said to be another, as a share of what was said. */
  const told = (is: typeof a4, said: typeof a4) =>
    tilts.map(([one, other]) => {
      const { see } = cameraOf({
        ...shot,
        sheet: is,
        picture,
        tilt: [one, other, 3],
        away_mm: 480,
        focal: 0.8,
      })
      const { width_mm: w, height_mm: h } = is
      const map = homographyFrom([see(0, h), see(w, h), see(w, 0), see(0, 0)], said.width_mm, said.height_mm)
      if ('refused' in map) throw new Error(map.refused.what)
      const seen = seenShape(map, picture)
      const ratio = said.width_mm / said.height_mm
      return { seen, fits: seen !== undefined && seen.low <= ratio && ratio <= seen.high }
    })

  test('never doubts the sheet that it is, from any side', () => {
    for (const { seen, fits } of [...told(letter, letter), ...told(a4, a4)]) {
      expect(seen).toBeDefined()
      expect(fits).toBe(true)
    }
  })

  test('tells Letter from A4 in most photos that are not taken steeply from one side', () => {
    for (const [is, said] of [
      [letter, a4],
      [a4, letter],
    ] as const) {
      const views = told(is, said)
      expect(views.filter(({ fits }) => !fits).length).toBeGreaterThan(0.7 * views.length)
      // what is told always holds the true sheet
      for (const { seen } of views) {
        const ratio = is.width_mm / is.height_mm
        expect(seen?.low).toBeLessThan(ratio)
        expect(seen?.high).toBeGreaterThan(ratio)
      }
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

describe('corners that cannot be a sheet seen from its front', () => {
  const [a, b, c, d]: [Pixel, Pixel, Pixel, Pixel] = [
    [100, 120],
    [900, 80],
    [950, 620],
    [60, 580],
  ]
  const kindOf = (...corners: [Pixel, Pixel, Pixel, Pixel]): string => {
    const map = homographyFrom(corners, 127, 76.2)
    return 'refused' in map ? map.refused.what : 'taken'
  }

  // of the 24 orders of four corners 4 go round one way, 4 the other, and 16 cross
  test('are told apart in all 24 orders', () => {
    const orders = [a, b, c, d].flatMap((one, i, all) =>
      all.flatMap((two, j) =>
        all.flatMap((three, k) =>
          all.flatMap((four, l) =>
            new Set([i, j, k, l]).size === 4 ? [[one, two, three, four] as const] : [],
          ),
        ),
      ),
    )
    const said = orders.map((order) => kindOf(...(order as [Pixel, Pixel, Pixel, Pixel])))
    expect(said.filter((what) => what === 'taken')).toHaveLength(4)
    expect(said.filter((what) => what.includes('mirror'))).toHaveLength(4)
    expect(said.filter((what) => what.includes('cross'))).toHaveLength(16)
  })

  test('are refused when one lies inside the others, three lie in a line, or two are one', () => {
    expect(kindOf(a, b, [500, 250], d)).toMatch(/inside/)
    expect(kindOf(a, b, [480, 330], d)).toMatch(/line/)
    expect(kindOf(a, a, c, d)).toMatch(/same place/)
    const trace = tracePhoto(
      { width: 1000, height: 700, data: new Uint8ClampedArray(2_800_000).fill(255) },
      settingFor([a, b, [500, 250], d]),
    )
    expect(trace.problems).toMatchObject([{ level: 'stop', kind: 'corners' }])
  })
})

describe('a scan of ten pixels to the millimetre, scaled by two points', () => {
  const [width, height] = [1016, 762]
  const perMm = 10
  const flat: Shot = {
    sheet: { width_mm: 101.6, height_mm: 76.2 },
    picture: { width, height },
    away_mm: 203.2,
    // seen squarely so that a millimetre is ten pixels: focal x width / distance
    focal: (perMm * 203.2) / width,
    grain: 1,
  }
  const setting = {
    scale: {
      by: 'two-points' as const,
      points_px: [
        [100, 100],
        [900, 100],
      ] as [Pixel, Pixel],
      apart_mm: 80,
    },
    widest_line_mm: 1.6,
    join_mm: 0.5,
    speck_mm2: 0.5,
  }

  test('a gap of two pixels is joined', () => {
    // a square of 30 mm whose last side stops 0.2 mm of bare paper short of its start, pen 0.5 mm
    const points: Point[] = [
      [30, 20],
      [60, 20],
      [60, 50],
      [30, 50],
      [30, 20.7],
    ]
    const { picture } = drawPhoto({ strokes: [{ points, closed: false, pen_mm: 0.5 }] }, flat)
    const trace = tracePhoto(picture, setting)
    expect(trace.joined).toHaveLength(1)
    expect(Math.abs((trace.joined[0]?.gap_mm ?? 9) - 0.2)).toBeLessThan(0.1)
    const area = areaAt(trace, 45, 35)
    expect(Math.abs(area / 900 - 1), `${area}`).toBeLessThan(0.01)
    expect(trace.problems.map(({ kind }) => kind)).toContain('perspective-left')
  })

  test('a gap wider than said is left open, and asked about where it is', () => {
    const points: Point[] = [
      [30, 20],
      [60, 20],
      [60, 50],
      [30, 50],
      [30, 21.3],
    ]
    const { picture } = drawPhoto({ strokes: [{ points, closed: false, pen_mm: 0.5 }] }, flat)
    const trace = tracePhoto(picture, setting)
    expect(trace.joined).toEqual([])
    const asked = trace.problems.filter(({ kind }) => kind === 'gap-left')
    expect(asked.length).toBeGreaterThan(0)
    const [x = 0, y = 0] = asked[0]?.at_mm ?? []
    expect(Math.hypot(x - 30, y - 20.6)).toBeLessThan(1.5)
  })

  test('a stroke that stands alone in a region is a line to be cut there, and one beside it is not', () => {
    const stroke = (closed: boolean, ...points: Point[]) => ({ points, closed, pen_mm: 0.5 })
    const { picture } = drawPhoto(
      {
        strokes: [
          stroke(true, [30, 20], [60, 20], [60, 50], [30, 50]),
          stroke(false, [36, 30], [54, 42]),
          stroke(false, [75, 20], [75, 40]),
        ],
      },
      flat,
    )
    const trace = tracePhoto(picture, setting)
    const { regions, veins = [] } = findRegions(trace.drawing.marks)
    expect(regions).toHaveLength(1)
    expect(veins).toHaveLength(1)
    const vein = [...(veins[0] as Float64Array)]
    const [[x, y], [toX, toY]] = [vein.slice(0, 2), vein.slice(-2)].sort(
      (a, b) => (a[0] ?? 0) - (b[0] ?? 0),
    ) as [number[], number[]]
    // the ends of a centre line lie half a pen's width within the ink
    for (const [one, other] of [
      [x, 36],
      [y, 30],
      [toX, 54],
      [toY, 42],
    ])
      expect(Math.abs((one ?? 0) - (other ?? 0))).toBeLessThan(0.4)
    expect(trace.problems.map(({ kind }) => kind)).toContain('sketch-lines')
  })

  test('an empty sheet and one with a faint smudge have no ink', () => {
    const { picture: empty } = drawPhoto({}, flat)
    expect(tracePhoto(empty, setting).problems).toMatchObject([{}, { level: 'stop', kind: 'ink-faint' }])
    const { picture: faint } = drawPhoto({ blots: [ringOf(50, 38, 6)] }, { ...flat, ink: 0.96 })
    expect(tracePhoto(faint, setting).problems.at(-1)).toMatchObject({ level: 'stop' })
  })

  test('strokes that meet in two places have ends that are the same to the bit', () => {
    // two triangles side by side share one side: three chains between two meetings
    const stroke = (...points: Point[]) => ({ points, closed: false, pen_mm: 0.5 })
    const { picture } = drawPhoto(
      {
        strokes: [
          stroke([20, 38], [50, 60], [80, 38]),
          stroke([20, 38], [50, 16], [80, 38]),
          stroke([20, 38], [80, 38]),
        ],
      },
      flat,
    )
    const { marks } = tracePhoto(picture, setting).drawing
    expect(marks).toHaveLength(3)
    const ends = marks.flatMap(({ runs }) =>
      runs.flatMap(({ points }) => [points.slice(0, 2).join(), points.slice(-2).join()]),
    )
    expect(new Set(ends).size).toBe(2)
    // the meetings lie where the strokes were drawn to
    for (const end of new Set(ends)) {
      const [x = 0, y = 0] = end.split(',').map(Number)
      expect(Math.hypot(Math.abs(x - 50) - 30, y - 38)).toBeLessThan(0.3)
    }
  })
})

test('the clasp’s photo has the sixteen regions of its drawing, areas within 1 % and the hand’s wobble', async () => {
  const decoded = await decodePicture(
    new Uint8Array(readFileSync('examples/clasp-photo.jpg')),
    'clasp-photo.jpg',
  )
  if ('unreadable' in decoded) throw new Error(decoded.unreadable)
  const heights = heightsSchema.parse(JSON.parse(readFileSync('examples/clasp-photo-heights.json', 'utf8')))
  if (heights.photo === undefined) throw new Error('no photo setting')
  const trace = tracePhoto(decoded.picture, heights.photo)
  const { regions } = findRegions(trace.drawing.marks)
  expect(regions.map(({ id }) => id).sort()).toEqual(Object.keys(heights.regions).sort())
  expect(trace.joined).toHaveLength(1)
  expect(trace.dropped).toBe(2)
  const outlines = claspOutlines().map(({ points }) => shoelace(points.flat()))
  const [border = 0, ground = 0] = outlines
  const leavesAndWall = outlines.slice(2, -1).reduce((sum, area) => sum + area, 0)
  // leaves and the wall lie in the ground, the seat in the wall
  const wanted = [border - ground, ground - leavesAndWall, ...outlines.slice(2, 14)]
  const [wall = 0, seat = 0] = outlines.slice(-2)
  const all = [...wanted, wall - seat, seat].sort((x, y) => x - y)
  const got = regions.map(({ area_mm2 }) => area_mm2).sort((x, y) => x - y)
  expect(got).toHaveLength(all.length)
  for (const [k, want] of all.entries()) expect(Math.abs((got[k] ?? 0) / want - 1)).toBeLessThan(0.01)
})
