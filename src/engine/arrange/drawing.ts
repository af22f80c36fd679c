import type { Point } from '../piece/mesh/index.ts'
import { movedMesh } from './body.ts'
import { type Line, outlineOf } from './outline.ts'
import type { Arrangement, ArrangeRequest, Sprue } from './request.ts'
import { minus, unit } from './vectors.ts'

/** Where a sprue goes, as a person at the bench sets it out. */
export interface BenchSprue {
  readonly number: number
  readonly piece: string
  /** round the base from the mark, against the clock seen from above, degrees */
  readonly angle: number
  /** up the main sprue from the top of the base's cone to where the centre lines meet, mm */
  readonly height: number
  /** above level, degrees */
  readonly tilt: number
  readonly length: number
  readonly diameter: number
  readonly stemEnd: number
  readonly fillet: number
}

/** The sprues of an arrangement as angle, height, tilt, length and diameter. */
export const benchSprues = (request: ArrangeRequest, arrangement: Arrangement): BenchSprue[] =>
  arrangement.sprues.map((sprue, index) => {
    const [x, y, z] = minus(sprue.from_mm, sprue.axis_mm)
    return {
      number: index + 1,
      piece: `${sprue.piece}/${sprue.copy}`,
      angle: ((Math.atan2(y, x) * 180) / Math.PI + 360) % 360,
      height: sprue.axis_mm[2] - request.base.depth_mm,
      tilt: (Math.atan2(z, Math.hypot(x, y)) * 180) / Math.PI,
      length: sprue.length_mm,
      diameter: sprue.diameter_mm,
      stemEnd: sprue.stemEnd_mm,
      fillet: sprue.fillet_mm,
    }
  })

const MARGIN = 12
/** Room for dimensions beside a view. */
const BESIDE = 22
const ROW = 5
const COLUMNS = [
  ['no.', 8],
  ['piece', 40],
  ['angle °', 16],
  ['up stem', 17],
  ['tilt °', 14],
  ['length', 15],
  ['Ø', 12],
  ['Ø at stem', 17],
  ['fillet', 12],
] as const
const TABLE = COLUMNS.reduce((sum, [, width]) => sum + width, 0)

const escaped = (text: string): string =>
  text.replaceAll(
    /[<>&"]/g,
    (sign) => ({ '<': '&lt;', '>': '&gt;', '&': '&amp;', '"': '&quot;' })[sign] ?? '',
  )
const n = (value: number): string => (Math.round(value * 100) / 100 + 0).toString()

/** What a sheet's lengths are written in; the drawing itself is one to one either way. */
export type SheetUnit = 'mm' | 'in'
type Write = (value_mm: number) => string
const writing =
  (unit: SheetUnit): Write =>
  (value) =>
    unit === 'mm' ? value.toFixed(1) : (value / 25.4).toFixed(2)

type Flat = readonly [number, number]
type View = (point: Point) => Flat

const line = (from: Flat, to: Flat, kind: string): string =>
  `<line class="${kind}" x1="${n(from[0])}" y1="${n(from[1])}" x2="${n(to[0])}" y2="${n(to[1])}"/>`
const words = (at: Flat, text: string, more = ''): string =>
  `<text x="${n(at[0])}" y="${n(at[1])}"${more}>${escaped(text)}</text>`
const path = (lines: readonly Line[], view: View, kind: string): string =>
  lines.length === 0
    ? ''
    : `<path class="${kind}" d="${lines
        .map(([from, to]) => {
          const [a, b] = [view(from), view(to)]
          return `M${n(a[0])} ${n(a[1])}L${n(b[0])} ${n(b[1])}`
        })
        .join('')}"/>`

/** A filled arrow of 15°, its point at `at`, pointing along `way`. */
const arrow = (at: Flat, way: Flat): string => {
  const [x, y] = at
  const [u, v] = way
  const half = 2.5 * Math.tan((7.5 * Math.PI) / 180)
  return `<path class="arrow" d="M${n(x)} ${n(y)}L${n(x - 2.5 * u - half * v)} ${n(y - 2.5 * v + half * u)}L${n(x - 2.5 * u + half * v)} ${n(y - 2.5 * v - half * u)}Z"/>`
}

/** A dimension between two points of one level, drawn at `level`, with extension lines that leave a small gap. */
const across = (from: Flat, to: Flat, level: number, text: string): string =>
  [
    line([from[0], from[1] + 1], [from[0], level + 1.5], 'narrow'),
    line([to[0], to[1] + 1], [to[0], level + 1.5], 'narrow'),
    line([from[0], level], [to[0], level], 'narrow'),
    arrow([from[0], level], [-1, 0]),
    arrow([to[0], level], [1, 0]),
    words([(from[0] + to[0]) / 2, level - 1], text, ' text-anchor="middle"'),
  ].join('')

const upright = (from: Flat, to: Flat, level: number, text: string): string => {
  const middle = (from[1] + to[1]) / 2
  return [
    line([from[0] - 1, from[1]], [level - 1.5, from[1]], 'narrow'),
    line([to[0] - 1, to[1]], [level - 1.5, to[1]], 'narrow'),
    line([level, from[1]], [level, to[1]], 'narrow'),
    arrow([level, from[1]], [0, from[1] > to[1] ? 1 : -1]),
    arrow([level, to[1]], [0, to[1] > from[1] ? 1 : -1]),
    words(
      [level - 1, middle],
      text,
      ` text-anchor="middle" transform="rotate(-90 ${n(level - 1)} ${n(middle)})"`,
    ),
  ].join('')
}

/** A round bar seen from any side: its outline, wider at the far end where tapered, a fillet where it begins. */
const bar = (from: Flat, to: Flat, diameter: number, kind: string, end = diameter, fillet = 0): string => {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1])
  const r = diameter / 2
  if (size < 1e-6) return `<circle class="${kind}" cx="${n(from[0])}" cy="${n(from[1])}" r="${n(end / 2)}"/>`
  const way: Flat = [(to[0] - from[0]) / size, (to[1] - from[1]) / size]
  const at = (along: number, off: number): string =>
    `${n(from[0] + along * way[0] + off * way[1])} ${n(from[1] + along * way[1] - off * way[0])}`
  const f = Math.min(fillet, size / 2)
  const flare = (side: 1 | -1): string => `Q${at(0, side * r)} ${side === 1 ? at(f, r) : at(0, -r - f)}`
  return `<path class="${kind}" d="M${at(0, r + f)}${flare(1)}L${at(size, end / 2)}L${at(size, -end / 2)}L${at(f, -r)}${flare(-1)}Z"/>`
}

const balloon = (sprue: Sprue, index: number, view: View): string => {
  const way = unit(minus(sprue.to_mm, sprue.from_mm))
  const middle: Point = [
    sprue.from_mm[0] + (way[0] * sprue.length_mm) / 2,
    sprue.from_mm[1] + (way[1] * sprue.length_mm) / 2,
    sprue.from_mm[2] + (way[2] * sprue.length_mm) / 2,
  ]
  const [x, y] = view(middle)
  return `<circle class="balloon" cx="${n(x)}" cy="${n(y)}" r="2.2"/>${words([x, y + 0.9], String(index + 1), ' text-anchor="middle" class="number"')}`
}

const STYLE = `.wide{fill:none;stroke:#1f2a30;stroke-width:.5;stroke-linejoin:round;stroke-linecap:round}
.inner{fill:none;stroke:#1f2a30;stroke-width:.25}
.wax{fill:none;stroke:#2f6b45;stroke-width:.5;stroke-linecap:round}
.waxinner{fill:none;stroke:#2f6b45;stroke-width:.25;stroke-linecap:round}
.sprue{fill:#dfeadf;stroke:#2f6b45;stroke-width:.5;stroke-linejoin:round}
.narrow{fill:none;stroke:#1f2a30;stroke-width:.25}
.centre{fill:none;stroke:#1f2a30;stroke-width:.25;stroke-dasharray:8 1.2 .5 1.2}
.limit{fill:none;stroke:#8a5a00;stroke-width:.25;stroke-dasharray:8 1.2 .5 1.2}
.arrow{fill:#1f2a30}.balloon{fill:#fff;stroke:#1f2a30;stroke-width:.25}
.base{fill:#d8d8d4;stroke:#1f2a30;stroke-width:.5}
text{font:3px sans-serif;fill:#1f2a30}.number{font-size:2.6px}.title{font-size:4.2px}`

/**
 * The dimensioned sheet of an arrangement as SVG, one millimetre of the drawing to one of the flask: seen from
 * the side with the base below, from above over it (third-angle), and a table of the sprues.
 */
export const drawArrangement = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  name: string,
  unit: SheetUnit = 'mm',
): string => {
  const one = writing(unit)
  const { flask, stem } = arrangement
  const sprues = benchSprues(request, arrangement)
  const diameter = flask?.diameter_mm ?? 0
  const height = flask?.height_mm ?? 0
  const tableRows = sprues.length + 2
  const sheet = {
    width: MARGIN + BESIDE + diameter + BESIDE + TABLE + MARGIN,
    height: Math.max(
      MARGIN + 8 + diameter + BESIDE + height + BESIDE + MARGIN,
      2 * MARGIN + 45 + tableRows * ROW,
    ),
  }
  const x0 = MARGIN + BESIDE + diameter / 2
  const yAbove = MARGIN + 8 + diameter / 2
  const yBase = MARGIN + 8 + diameter + BESIDE + height
  const side: View = ([x, , z]) => [x0 + x, yBase - z]
  const above: View = ([x, y]) => [x0 + x, yAbove - y]
  const parts: string[] = []
  if (flask !== null) {
    const radius = diameter / 2
    const neededTop = Math.max(request.rules.topLeast_mm, request.rules.topPerDiameter * diameter)
    const { mouth_mm, neck_mm, depth_mm } = request.base
    parts.push(
      words([x0, MARGIN + 3], 'from above', ' text-anchor="middle"'),
      words([x0, MARGIN + 8 + diameter + BESIDE - 9], 'from the side', ' text-anchor="middle"'),
      `<rect class="wide" x="${n(x0 - radius)}" y="${n(yBase - height)}" width="${n(diameter)}" height="${n(height)}"/>`,
      `<circle class="wide" cx="${n(x0)}" cy="${n(yAbove)}" r="${n(radius)}"/>`,
      `<path class="base" d="M${n(x0 - mouth_mm / 2)} ${n(yBase)}L${n(x0 - neck_mm / 2)} ${n(yBase - depth_mm)}L${n(x0 + neck_mm / 2)} ${n(yBase - depth_mm)}L${n(x0 + mouth_mm / 2)} ${n(yBase)}Z"/>`,
      `<circle class="narrow" cx="${n(x0)}" cy="${n(yAbove)}" r="${n(mouth_mm / 2)}"/>`,
      `<circle class="limit" cx="${n(x0)}" cy="${n(yAbove)}" r="${n(radius - request.rules.wall_mm)}"/>`,
      `<path class="limit" d="M${n(x0 - radius + request.rules.wall_mm)} ${n(yBase)}V${n(yBase - height + neededTop)}H${n(x0 + radius - request.rules.wall_mm)}V${n(yBase)}"/>`,
      line([x0, yBase - height - 3], [x0, yBase + 3], 'centre'),
      line([x0 - radius - 3, yAbove], [x0 + radius + 3, yAbove], 'centre'),
      line([x0, yAbove - radius - 3], [x0, yAbove + radius + 3], 'centre'),
      words([x0 + radius + 4, yAbove - 1], '0°: mark'),
      words([x0 + radius + 4, yAbove + 3], 'on the base'),
    )
    if (stem !== null) {
      parts.push(
        bar(side(stem.from_mm), side(stem.to_mm), stem.diameter_mm, 'sprue'),
        `<path class="sprue" d="M${n(x0 - stem.diameter_mm / 2)} ${n(side(stem.to_mm)[1])}A${n(stem.diameter_mm / 2)} ${n(stem.diameter_mm / 2)} 0 0 1 ${n(x0 + stem.diameter_mm / 2)} ${n(side(stem.to_mm)[1])}"/>`,
        `<circle class="sprue" cx="${n(x0)}" cy="${n(yAbove)}" r="${n(stem.diameter_mm / 2)}"/>`,
      )
    }
    for (const view of [side, above])
      for (const sprue of arrangement.sprues)
        parts.push(
          bar(
            view(sprue.from_mm),
            view(sprue.to_mm),
            sprue.diameter_mm,
            'sprue',
            sprue.stemEnd_mm,
            sprue.fillet_mm,
          ),
        )
    for (const { piece, motion } of arrangement.placements) {
      const found = request.pieces.find((candidate) => candidate.id === piece)
      if (found === undefined) continue
      const mesh = movedMesh(found.mesh, motion)
      for (const [view, along] of [
        [side, [0, 1, 0]],
        [above, [0, 0, 1]],
      ] as const) {
        const { edge, inner } = outlineOf(mesh, along)
        parts.push(path(inner, view, 'waxinner'), path(edge, view, 'wax'))
      }
    }
    for (const view of [side, above])
      arrangement.sprues.forEach((sprue, index) => {
        parts.push(balloon(sprue, index, view))
      })
    parts.push(
      across([x0 - radius, yBase], [x0 + radius, yBase], yBase + 14, `Ø ${one(diameter)}`),
      upright([x0 - radius, yBase], [x0 - radius, yBase - height], x0 - radius - 14, one(height)),
      upright(
        [x0 - radius, yBase - height],
        [x0 - radius, yBase - height + neededTop],
        x0 - radius - 6,
        one(neededTop),
      ),
    )
    if (stem !== null) {
      const end = stem.to_mm[2] + stem.diameter_mm / 2
      parts.push(
        line([x0 + stem.diameter_mm / 2 + 1, yBase - end], [x0 + radius + 9.5, yBase - end], 'narrow'),
        line([x0 + neck_mm / 2 + 1, yBase - depth_mm], [x0 + radius + 9.5, yBase - depth_mm], 'narrow'),
        line([x0 + radius + 8, yBase - depth_mm], [x0 + radius + 8, yBase - end], 'narrow'),
        arrow([x0 + radius + 8, yBase - depth_mm], [0, 1]),
        arrow([x0 + radius + 8, yBase - end], [0, -1]),
        words(
          [x0 + radius + 7, yBase - (depth_mm + end) / 2],
          `main sprue Ø ${one(stem.diameter_mm)}, ${one(end - depth_mm)}`,
          ` text-anchor="middle" transform="rotate(-90 ${n(x0 + radius + 7)} ${n(yBase - (depth_mm + end) / 2)})"`,
        ),
      )
    }
  }
  const xTable = sheet.width - MARGIN - TABLE
  parts.push(
    tableOf(sprues, request, xTable, MARGIN + 8, one),
    ...notesOf(
      [HOW_TO_READ, ...standInNotes(request), ...arrangement.problems.map(({ what }) => what)],
      xTable,
      MARGIN + 8 + (sprues.length + 1) * ROW,
      sheet.height - MARGIN - 26,
    ),
    titleBlock(name, flask?.id ?? 'none fits', sheet, xTable, unit),
  )
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${n(sheet.width)}mm" height="${n(sheet.height)}mm" viewBox="0 0 ${n(sheet.width)} ${n(sheet.height)}" role="img"><title>${escaped(`${name}: where each sprue goes`)}</title><style>${STYLE}</style><rect width="100%" height="100%" fill="#fff"/>${parts.filter((part) => part !== '').join('\n')}</svg>\n`
}

const shortened = (text: string, most: number): string =>
  text.length > most ? `${text.slice(0, most - 1)}…` : text

/** A wax by its piece's own name, and its copy where there are more. */
const nameOf = ({ pieces }: ArrangeRequest, place: string): string => {
  const cut = place.lastIndexOf('/')
  const piece = pieces.find(({ id }) => id === place.slice(0, cut))
  if (piece === undefined) return place
  return piece.copies > 1 ? `${piece.name} ${place.slice(cut + 1)}` : piece.name
}

const tableOf = (
  sprues: readonly BenchSprue[],
  request: ArrangeRequest,
  x: number,
  y: number,
  one: Write,
): string => {
  const rows: readonly (readonly string[])[] = [
    COLUMNS.map(([title]) => title),
    ...sprues.map((sprue) => [
      String(sprue.number),
      shortened(nameOf(request, sprue.piece), 22),
      sprue.angle.toFixed(0),
      one(sprue.height),
      sprue.tilt.toFixed(0),
      one(sprue.length),
      one(sprue.diameter),
      one(sprue.stemEnd),
      one(sprue.fillet),
    ]),
  ]
  const parts = rows.map((row, index) => {
    let at = x
    const base = y + index * ROW
    const cells = row.map((cell, column) => {
      const width = COLUMNS[column]?.[1] ?? 0
      const left = column === 1
      const text = words([left ? at + 1 : at + width - 1, base], cell, left ? '' : ' text-anchor="end"')
      at += width
      return text
    })
    return cells.join('') + line([x, base + 1.4], [x + TABLE, base + 1.4], index === 0 ? 'wide' : 'narrow')
  })
  return parts.join('\n')
}

const LETTERS = 88
const LINE = 4

const HOW_TO_READ =
  'Angle: round the base from the mark, against the clock seen from above; from the side the mark is on the right. Up stem: along the main sprue, the stem, from the top of the base’s cone to where the middle lines meet. Tilt: above level. Length: along the middle, from the wax to the main sprue'

/** Waxes that a box stands in for: what is drawn of them is not their shape. */
const standInNotes = ({ pieces }: ArrangeRequest): string[] =>
  pieces
    .filter(({ standIn }) => standIn)
    .map(
      ({ name }) =>
        `${name} is drawn as a box of its outside sizes: let its sprue meet the thickest place of the real wax, and cut it to the length that leaves`,
    )

/** What to check or mind, under the table: as many lines as there is room for. */
const notesOf = (notes: readonly string[], x: number, top: number, bottom: number): string[] => {
  const lines = notes.flatMap((what) => {
    const rows: string[] = []
    for (const word of `• ${what}.`.split(' ')) {
      const last = rows[rows.length - 1]
      if (last === undefined || last.length + word.length + 1 > LETTERS) rows.push(word)
      else rows[rows.length - 1] = `${last} ${word}`
    }
    return rows
  })
  const room = Math.max(0, Math.floor((bottom - top) / LINE) - 1)
  const shown =
    lines.length <= room ? lines : [...lines.slice(0, Math.max(0, room - 1)), '… more notes in the answer']
  return shown.map((text, index) => words([x + 1, top + LINE * (index + 1)], text))
}

const titleBlock = (
  name: string,
  flask: string,
  sheet: { readonly width: number; readonly height: number },
  x: number,
  unit: SheetUnit,
): string => {
  const y = sheet.height - MARGIN - 22
  return [
    `<rect class="wide" x="${n(x)}" y="${n(y)}" width="${n(TABLE)}" height="22"/>`,
    words([x + 2, y + 6], shortened(name, 48), ' class="title"'),
    words([x + 2, y + 12], `flask ${flask}: where each sprue goes`),
    words([x + 2, y + 17.5], `scale 1 : 1, ${unit === 'mm' ? 'millimetres' : 'inches'}, third-angle`),
    // the sign of third-angle views: a cone from the side, and from its narrow end
    `<path class="wide" d="M${n(x + TABLE - 26)} ${n(y + 13)}L${n(x + TABLE - 16)} ${n(y + 10)}V${n(y + 20)}L${n(x + TABLE - 26)} ${n(y + 17)}Z"/>`,
    `<circle class="wide" cx="${n(x + TABLE - 33)}" cy="${n(y + 15)}" r="2"/><circle class="wide" cx="${n(x + TABLE - 33)}" cy="${n(y + 15)}" r="5"/>`,
  ].join('\n')
}
