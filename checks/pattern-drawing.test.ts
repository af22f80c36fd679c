import { readFileSync } from 'node:fs'
import dxf from 'dxf'
import { describe, expect, it } from 'vitest'
import { readDrawing } from '../src/engine/pattern/drawing/index.ts'
import type { Drawing, Region } from '../src/engine/pattern/drawing.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'
import { layTemplate } from '../src/engine/pattern/template/index.ts'
import { clasp, rectangle } from '../src/engine/pattern/template/sample.ts'
import { templateDxf } from '../src/engine/pattern/write-dxf.ts'
import { type Check, weigh } from './check.ts'

// Drawings held against closed forms, the drawing standards and a reader written by others. A flattened curve
// lies within 0.002 mm of the true one, so an area may be off by that times the length of its outline.

const CHORD_MM = 0.002
const read = (text: string, units?: 'mm' | 'in' | 'px'): Drawing =>
  readDrawing(new TextEncoder().encode(text), 'drawing', { units })
const regionsOf = (drawing: Drawing): readonly Region[] => findRegions(drawing.marks).regions
const sheet = (inside: string): readonly Region[] =>
  regionsOf(
    read(
      `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="-100 -100 200 200">${inside}</svg>`,
    ),
  )
const entities = (text: string, header = '9 $INSUNITS 70 4'): string =>
  `0 SECTION 2 HEADER ${header} 0 ENDSEC 0 SECTION 2 ENTITIES ${text} 0 ENDSEC 0 EOF`.split(/\s+/).join('\n')
const only = (regions: readonly Region[]): Region => {
  const [region] = regions
  if (region === undefined || regions.length !== 1)
    throw new Error(`${regions.length} regions where one is wanted`)
  return region
}
const path = (d: string): Region => only(sheet(`<path d="${d}"/>`))
const lined = (d: string): Region => only(sheet(`<path d="${d}" fill="none" stroke="black"/>`))
const spline = (weights: string): Region =>
  only(
    regionsOf(
      read(
        entities(`0 SPLINE 5 A 8 0 70 12 71 2 40 0 40 0 40 0 40 1 40 1 40 1 ${weights} 10 10 20 0 10 10 20 10 10 0 20 10
          0 LWPOLYLINE 5 B 8 0 90 3 70 0 10 10 20 0 10 0 20 0 10 0 20 10`),
      ),
    ),
  )

/** Complete elliptic integral of the second kind by the arithmetic-geometric mean: DLMF 19.8.6. */
const ellipseLength = (a: number, b: number): number => {
  let [x, y, power, sum] = [a, b, 0.5, 0]
  sum = a * a - 0.5 * (a * a - b * b)
  while (Math.abs(x - y) > 1e-14 * a) {
    const [next, mean, c] = [(x + y) / 2, Math.sqrt(x * y), (x - y) / 2]
    power *= 2
    sum -= power * c * c
    x = next
    y = mean
  }
  return (2 * Math.PI * sum) / ((x + y) / 2)
}

const square = (x: number): number => x * x
const k = 0.55
/** End of a long half-axis of 40 mm turned by 33 degrees. */
const [ax, ay] = [40 * Math.cos((33 * Math.PI) / 180), 40 * Math.sin((33 * Math.PI) / 180)]

interface Shape {
  readonly says: string
  readonly source: string
  readonly region: () => Region
  readonly area_mm2: number
  readonly length_mm?: number
}

const shapes: Shape[] = [
  {
    says: 'a circle',
    source: 'Archimedes, Measurement of a Circle: pi r^2, 2 pi r',
    region: () => only(sheet('<circle r="10"/>')),
    area_mm2: Math.PI * 100,
    length_mm: 20 * Math.PI,
  },
  {
    says: 'a circle of two arcs, as a line',
    source: 'pi r^2, 2 pi r',
    region: () => lined('M-10 0A10 10 0 0 1 10 0A10 10 0 0 1 -10 0Z'),
    area_mm2: Math.PI * 100,
    length_mm: 20 * Math.PI,
  },
  {
    says: 'an ellipse',
    source: 'pi a b; length 4 a E(e), DLMF 19.30.5 with 19.8.6',
    region: () => only(sheet('<ellipse rx="30" ry="12"/>')),
    area_mm2: Math.PI * 360,
    length_mm: ellipseLength(30, 12),
  },
  {
    says: 'an ellipse turned by an arc command',
    source: 'pi a b, whatever its turn',
    region: () => path(`M${-ax} ${-ay}A40 25 33 0 1 ${ax} ${ay}A40 25 33 0 1 ${-ax} ${-ay}Z`),
    area_mm2: Math.PI * 1000,
    length_mm: ellipseLength(40, 25),
  },
  {
    says: 'a segment of a parabola',
    source: 'Archimedes, Quadrature of the Parabola: four thirds of the triangle, base 40, height 15',
    region: () => path('M-20 0Q0 30 20 0Z'),
    area_mm2: (4 / 3) * (0.5 * 40 * 15),
  },
  {
    says: 'a quarter under a cubic curve',
    source:
      'the integral of x dy over control points (1,0) (1,k) (k,1) (0,1), by hand: (10 + 12 k - 3 k^2) / 20',
    region: () => path(`M0 0H20C20 ${20 * k} ${20 * k} 20 0 20Z`),
    area_mm2: (400 * (10 + 12 * k - 3 * k * k)) / 20,
  },
  {
    says: 'a triangle of constant width',
    source: 'Reuleaux triangle of width w: (pi - sqrt 3) w^2 / 2, length pi w (Barbier)',
    region: () => path(`M0 0A30 30 0 0 1 30 0A30 30 0 0 1 15 ${15 * Math.sqrt(3)}A30 30 0 0 1 0 0Z`),
    area_mm2: ((Math.PI - Math.sqrt(3)) * 900) / 2,
    length_mm: 30 * Math.PI,
  },
  {
    says: 'a square with a round hole',
    source: 'w^2 - pi r^2; both outlines count to its length',
    region: () =>
      only(sheet('<path fill-rule="evenodd" d="M-10 -10H10V10H-10ZM-5 0A5 5 0 0 0 5 0A5 5 0 0 0 -5 0Z"/>')),
    area_mm2: 400 - 25 * Math.PI,
    length_mm: 80 + 10 * Math.PI,
  },
  {
    says: 'a rectangle with rounded corners',
    source: 'w h - (4 - pi) r^2',
    region: () => only(sheet('<rect width="40" height="20" rx="6"/>')),
    area_mm2: 800 - (4 - Math.PI) * 36,
    length_mm: 2 * (28 + 8) + 12 * Math.PI,
  },
  {
    says: 'a segment of a circle from a bulge',
    source: 'DXF reference, group 42: tangent of a quarter of the angle; r^2 (angle - sin angle) / 2',
    region: () =>
      only(
        regionsOf(
          read(
            entities(
              `0 LWPOLYLINE 5 A 8 0 90 2 70 1 10 10 20 0 42 ${Math.tan(0.5)} 10 ${10 * Math.cos(2)} 20 ${10 * Math.sin(2)}`,
            ),
          ),
        ),
      ),
    area_mm2: 50 * (2 - Math.sin(2)),
    length_mm: 20 + 20 * Math.sin(1),
  },
  {
    says: 'a quarter circle as a weighted spline',
    source:
      'Piegl and Tiller, The NURBS Book, 7.2: weights 1, cos 45, 1 on a right-angled frame are an exact arc',
    region: () => spline(`41 1 41 ${Math.SQRT1_2} 41 1`),
    area_mm2: 25 * Math.PI,
    length_mm: 20 + 5 * Math.PI,
  },
  {
    says: 'the same frame without weights, a parabola',
    source: 'Archimedes: it takes two thirds of the frame triangle off the square corner, 100 - (1/3) 50',
    region: () => spline('41 1 41 1 41 1'),
    area_mm2: 100 - 50 / 3,
  },
]

describe('areas and lengths of published curves', () => {
  it.each(shapes.map((shape) => [shape.says, shape] as const))(
    '%s',
    (_, { region, area_mm2, length_mm, ...shape }) => {
      const found = region()
      const round = length_mm ?? found.perimeter_mm
      const shared = { id: shape.says, section: 'drawing', ...shape }
      const checks: Check[] = [
        { ...shared, got: () => found.area_mm2, want: area_mm2, within: { absolute: CHORD_MM * round } },
        // Chords are shorter than their arcs by a part in some thousands at most at this chord error.
        ...(length_mm === undefined
          ? []
          : [{ ...shared, got: () => found.perimeter_mm, want: length_mm, within: { relative: 1e-3 } }]),
      ]
      for (const check of checks)
        expect(weigh(check), JSON.stringify(weigh(check))).toMatchObject({ holds: true })
    },
  )
})

describe('what the SVG standard says', () => {
  it('fills its five-pointed star whole by nonzero, without its middle by evenodd (SVG 1.1, 11.3 fill-rule)', () => {
    const tips = [0, 2, 4, 1, 3].map((n) => {
      const angle = Math.PI / 2 + (n * 2 * Math.PI) / 5
      return `${40 * Math.cos(angle)} ${-40 * Math.sin(angle)}`
    })
    const sum = (rule: string): number =>
      sheet(`<path fill-rule="${rule}" d="M${tips.join('L')}Z"/>`).reduce(
        (total, { area_mm2 }) => total + area_mm2,
        0,
      )
    const deg = Math.PI / 180
    // A regular star of circumradius R: ten triangles to its notches; its middle is a regular pentagon.
    const notch = (40 * Math.cos(72 * deg)) / Math.cos(36 * deg)
    const whole = 5 * 40 * notch * Math.sin(36 * deg)
    const middle = 2.5 * square(notch) * Math.sin(72 * deg)
    expect(sum('nonzero')).toBeCloseTo(whole, 1)
    expect(sum('evenodd')).toBeCloseTo(whole - middle, 1)
  })

  it('scales a viewBox of 1500 x 1000 by 0.2 into 300 x 200 px (SVG 1.1, 7.7, its first example)', () => {
    const region = only(
      regionsOf(
        read(
          '<svg width="300px" height="200px" viewBox="0 0 1500 1000" preserveAspectRatio="none"><path d="M0,0 L1500,0 L1500,1000 L0,1000 z"/></svg>',
        ),
      ),
    )
    expect(region.area_mm2).toBeCloseTo(300 * 200 * square(25.4 / 96), 1)
  })

  it('nests translate(50,90) rotate(-45) translate(130,160) to (255.03, 111.21) (SVG 1.1, 7.5, from memory)', () => {
    const { marks } = read(
      '<svg width="400px" height="400px"><g transform="translate(50,90)"><g transform="rotate(-45)"><g transform="translate(130,160)"><path d="M0 0H9V9Z"/></g></g></g></svg>',
    )
    const [x = Number.NaN, y = Number.NaN] = marks[0]?.runs[0]?.points ?? []
    // The standard reckons with .707, so its third digit is not exact.
    expect(Math.abs(x / (25.4 / 96) - 255.03)).toBeLessThan(0.05)
    expect(Math.abs(400 - y / (25.4 / 96) - 111.21)).toBeLessThan(0.05)
  })

  it('takes a px for 1/96 in, a pt for 1/72 in and a Q for a quarter millimetre (CSS Values 4, 6.2)', () => {
    const wide = (unit: string): number =>
      findRegions(
        read(`<svg width="100${unit}" height="100${unit}" viewBox="0 0 1 1"><path d="M0 0H1V1H0Z"/></svg>`)
          .marks,
      ).bounds_mm?.max[0] ?? Number.NaN
    // regions lie on a grid of a ten thousandth of a millimetre
    expect(wide('px')).toBeCloseTo((100 / 96) * 25.4, 4)
    expect(wide('pt')).toBeCloseTo((100 / 72) * 25.4, 4)
    expect(wide('Q')).toBeCloseTo(25, 4)
  })
})

describe('what the DXF reference says', () => {
  it.each([
    [1, 25.4],
    [2, 304.8],
    [4, 1],
    [5, 10],
    [6, 1000],
    [9, 0.0254],
    [10, 914.4],
    [14, 100],
  ])('takes $INSUNITS %i for %d mm (its table of units)', (code, mm) => {
    const { marks } = read(entities('0 LINE 5 A 8 0 10 0 20 0 11 1 21 0', `9 $INSUNITS 70 ${code}`))
    expect(marks[0]?.runs[0]?.points[2]).toBeCloseTo(mm, 9)
  })
})

describe('small rounds keep their area: pi r^2 within 0.1 %, which a chord error of 0.002 mm alone would not hold', () => {
  const control = (4 / 3) * (Math.SQRT2 - 1)
  // Four cubics of this control length stray from a circle by 0.027 % of its radius: 0.03 % of its area.
  const cubics = (r: number): string => {
    const k = control * r
    return `M${r} 0C${r} ${k} ${k} ${r} 0 ${r}S${-r} ${k} ${-r} 0S${-k} ${-r} 0 ${-r}S${r} ${-k} ${r} 0z`
  }
  it.each([0.5, 1, 2, 5])('of radius %d mm, drawn by four means', (r) => {
    const knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4].map((knot) => `40 ${knot}`).join(' ')
    const frame = [1, 1, 0, -1, -1, -1, 0, 1, 1].map((x, n, all) => [x, all[(n + 6) % 8] ?? 0])
    const rational = frame
      .map(([x = 0, y = 0], n) => `41 ${n % 2 === 0 ? 1 : Math.SQRT1_2} 10 ${r * x} 20 ${r * y}`)
      .join(' ')
    const drawn = [
      ...sheet(`<circle r="${r}"/>`),
      path(cubics(r)),
      ...regionsOf(read(entities(`0 CIRCLE 5 A 8 0 10 0 20 0 40 ${r}`))),
      ...regionsOf(read(entities(`0 SPLINE 5 A 8 0 70 4 71 2 ${knots} ${rational}`))),
    ]
    expect(drawn).toHaveLength(4)
    for (const { area_mm2 } of drawn) expect(Math.abs(area_mm2 / (Math.PI * r * r) - 1)).toBeLessThan(0.001)
  })
})

describe('curves and blocks of a DXF against closed forms', () => {
  const root = Math.SQRT1_2
  it('a whole circle as a rational spline of nine points (Piegl and Tiller, The NURBS Book, 7.5: weights 1, 1/sqrt 2)', () => {
    const frame = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
      [1, 0],
    ]
    const knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4].map((knot) => `40 ${knot}`).join(' ')
    const weights = frame.map((_, n) => `41 ${n % 2 === 0 ? 1 : root}`).join(' ')
    const points = frame.map(([x = 0, y = 0]) => `10 ${12 * x} 20 ${12 * y}`).join(' ')
    const found = only(regionsOf(read(entities(`0 SPLINE 5 A 8 0 70 4 71 2 ${knots} ${weights} ${points}`))))
    expect(Math.abs(found.area_mm2 - Math.PI * 144)).toBeLessThan(CHORD_MM * 24 * Math.PI)
    const far = [...found.outer].reduce(
      (worst, _, i, all) =>
        i % 2 === 1 ? worst : Math.max(worst, Math.abs(Math.hypot(all[i] ?? 0, all[i + 1] ?? 0) - 12)),
      0,
    )
    expect(far).toBeLessThan(CHORD_MM)
  })

  it('a quarter of an ellipse by its parameters, with its two half-axes as lines (a quarter of pi a b)', () => {
    const found = only(
      regionsOf(
        read(
          entities(`0 ELLIPSE 5 A 8 0 10 0 20 0 11 20 21 0 31 0 40 0.4 41 0 42 ${Math.PI / 2}
            0 LWPOLYLINE 5 B 8 0 90 3 70 0 10 20 20 0 10 0 20 0 10 0 20 8`),
        ),
      ),
    )
    expect(Math.abs(found.area_mm2 - (Math.PI * 20 * 8) / 4)).toBeLessThan(CHORD_MM * 60)
  })

  it.each([
    ['1, half circles outward', 1, 20 * 10 + Math.PI * 25],
    ['-1, half circles inward', -1, 20 * 10 - Math.PI * 25],
  ])('a rectangle of 20 x 10 whose short sides have the bulge %s', (_, bulge, want) => {
    const found = only(
      regionsOf(
        read(
          entities(
            `0 LWPOLYLINE 5 A 8 0 90 4 70 1 10 0 20 0 10 20 20 0 42 ${bulge} 10 20 20 10 42 0 10 0 20 10 42 ${bulge}`,
          ),
        ),
      ),
    )
    expect(Math.abs(found.area_mm2 - want)).toBeLessThan(CHORD_MM * 75)
  })

  // the DXF reference, arbitrary axis: facing (0, 0, -1) its x is the world's x turned about, its y the world's y
  it('a block within a block, scaled 2 by 3 and 1 by 2 and turned over, lies where the matrices put it', () => {
    const text = `0 SECTION 2 HEADER 9 $INSUNITS 70 4 0 ENDSEC 0 SECTION 2 BLOCKS
      0 BLOCK 5 1 8 0 2 LEAF 10 0 20 0 0 LWPOLYLINE 5 2 8 0 90 3 70 1 10 0 20 0 10 4 20 0 10 0 20 2 0 ENDBLK 5 3 8 0
      0 BLOCK 5 4 8 0 2 PAIR 10 0 20 0 0 INSERT 5 5 8 0 2 LEAF 10 1 20 0 41 2 42 3 0 ENDBLK 5 6 8 0 0 ENDSEC
      0 SECTION 2 ENTITIES 0 INSERT 5 7 8 0 2 PAIR 10 10 20 5 41 1 42 2 210 0 220 0 230 -1 0 ENDSEC 0 EOF`
      .split(/\s+/)
      .join('\n')
    const [mark] = read(text).marks
    const points = [...(mark?.runs[0]?.points ?? [])]
    const want = [
      [0, 0],
      [4, 0],
      [0, 2],
    ].flatMap(([x = 0, y = 0]) => {
      const [u, v] = [1 + 2 * x, 3 * y]
      return [-(10 + u), 5 + 2 * v]
    })
    expect(points).toHaveLength(6)
    points.forEach((value, i) => {
      expect(value).toBeCloseTo(want[i] as number, 9)
    })
  })

  it('an arc of SVG too small for its ends is grown until it reaches (SVG 2, 9.5.1 and B.2.5)', () => {
    // radii 3 and 1.5 over a way of 20: grown to 10 and 5, half an ellipse
    const found = path('M-10 0A3 1.5 0 0 1 10 0Z')
    expect(Math.abs(found.area_mm2 - (Math.PI * 50) / 2)).toBeLessThan(CHORD_MM * 45)
  })
})

describe('a template written as DXF', () => {
  it('is read by a reader of others line for line, hardware and all, at the size of the wax', () => {
    const { regions, notes } = clasp()
    const layout = layTemplate({
      name: 'Clasp',
      regions,
      regionHeights: notes,
      blank: { thickness_mm: 5 },
      compensation: { shrink: 0.02, finish_mm: 0 },
      paper: 'a4',
      addedLines: [{ id: 'hardware-1', loop: rectangle(30, 20, 12, 2), hidden: true }],
    })
    const parsed = dxf.parseString(templateDxf(layout))
    expect(parsed.header.insUnits).toBe(4)
    const { polylines } = dxf.toPolylines(parsed)
    expect(polylines).toHaveLength(layout.wax.outline.length + layout.wax.inner.length + 1)
    const last = polylines
      .at(-1)
      ?.vertices.slice(0, 4)
      .map(([x = 0, y = 0]) => [x * 0.98, y * 0.98])
    const want = [
      [30, 20],
      [42, 20],
      [42, 22],
      [30, 22],
    ]
    want.forEach(([x = 0, y = 0]) => {
      const nearest = Math.min(...(last ?? []).map(([u = 0, v = 0]) => Math.hypot(u - x, v - y)))
      expect(nearest).toBeLessThan(1e-5)
    })
  })
})

describe('a clasp drawn twice, and read by a reader of others', () => {
  const file = (name: string): Drawing => readDrawing(readFileSync(`fixtures/drawings/${name}`), name)
  const plate = 44 * 30 - (4 - Math.PI) * 36
  const seat = Math.PI * 9 * 6.5
  const pin = Math.PI * 2.25

  it.each(['clasp.svg', 'clasp.dxf'])('gives %s its areas in closed form', (name) => {
    const drawing = file(name)
    expect(drawing.problems).toEqual([])
    const found = findRegions(drawing.marks)
    expect(found.problems).toEqual([])
    const areas = found.regions.map(({ area_mm2 }) => area_mm2).sort((a, b) => b - a)
    const want = [plate - seat - 2 * pin, seat, pin, pin]
    expect(areas).toHaveLength(4)
    areas.forEach((area, n) => {
      expect(Math.abs(area - (want[n] as number))).toBeLessThan(CHORD_MM * 250)
    })
    expect(found.regions.map(({ id }) => id)).toEqual(
      name.endsWith('svg')
        ? ['plate', 'seat', 'pin-left', 'pin-right']
        : ['10', '16', '17.1-1.20', '17.1-2.20'],
    )
  })

  it('puts every block where the other reader puts it', () => {
    const text =
      `0 SECTION 2 BLOCKS 0 BLOCK 5 1 8 0 2 HOOK 10 1 20 2 0 LWPOLYLINE 5 2 8 0 90 3 70 1 10 0 20 0 10 6 20 1 10 2 20 5 0 ENDBLK 5 3 8 0
      0 ENDSEC 0 SECTION 2 ENTITIES 0 INSERT 5 A 8 0 2 HOOK 10 10 20 5 41 2 42 3 50 35 70 2 71 3 44 30 45 40
      0 INSERT 5 B 8 0 2 HOOK 10 -50 20 5 41 -1.5 42 0.5 50 200 0 ENDSEC 0 EOF`
        .split(/\s+/)
        .join('\n')
    const theirs = dxf.toPolylines(dxf.parseString(text)).polylines
    const ours = read(text).marks
    const middles = (all: readonly (readonly number[])[]): number[][] => {
      const found = all.map((flat) =>
        [0, 1].map((axis) =>
          Math.round(1e3 * [0, 2, 4].reduce((sum, i) => sum + (flat[i + axis] ?? Number.NaN), 0)),
        ),
      )
      return found.sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0))
    }
    expect(ours).toHaveLength(7)
    expect(middles(ours.map(({ runs }) => [...(runs[0]?.points ?? [])]))).toEqual(
      middles(theirs.map(({ vertices }) => vertices.slice(0, 3).flat())),
    )
  })
})
