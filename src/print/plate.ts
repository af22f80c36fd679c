import type PDFDocument from 'pdfkit'
import { type BenchTree, type LineKind, shownOf, sidePicture } from '../engine/arrange/index.ts'
import type { Plan } from '../engine/plan.ts'
import { drawMark } from './draw-places.ts'
import type { TypeSetter } from './type.ts'

type Doc = InstanceType<typeof PDFDocument>
type Solid = readonly [x: number, y: number, z: number]
type Flat = readonly [right: number, up: number]

/** Seen from 34° round and 17° above, never in perspective. */
const ROUND = (34 * Math.PI) / 180
const ABOVE = (17 * Math.PI) / 180

/** On the plate [same unit as the solid], and how near the eye it is. */
const project = ([x, y, z]: Solid): { at: Flat; near: number } => {
  const right = x * Math.cos(ROUND) - y * Math.sin(ROUND)
  const back = x * Math.sin(ROUND) + y * Math.cos(ROUND)
  return {
    at: [right, z * Math.cos(ABOVE) + back * Math.sin(ABOVE)],
    near: z * Math.sin(ABOVE) - back * Math.cos(ABOVE),
  }
}

/** The eight corners of an upright box, its lower four first. */
const cornersOf = (
  print: { x: number; y: number; halfWidth: number; halfDepth: number; angle: number },
  bottom: number,
  height: number,
): Solid[] => {
  const [outX, outY] = [Math.cos(print.angle), Math.sin(print.angle)]
  return [bottom, bottom + height].flatMap((z) =>
    [
      [1, 1],
      [1, -1],
      [-1, -1],
      [-1, 1],
    ].map(([d = 0, w = 0]): Solid => {
      const [depth, width] = [d * print.halfDepth, w * print.halfWidth]
      return [print.x + outX * depth - outY * width, print.y + outY * depth + outX * width, z]
    }),
  )
}

/** Past this the letters would run out of the plate, and none is drawn. */
const MOST_LABELS = 7

const FACES = [
  [0, 1, 5, 4],
  [1, 2, 6, 5],
  [2, 3, 7, 6],
  [3, 0, 4, 7],
  [4, 5, 6, 7],
] as const

interface Lettered {
  readonly letter: string
  readonly corner: readonly [number, number]
}

/** One letter for each kind of piece in a column at `edge`, with a line to its nearest wax. */
const drawLetters = (doc: Doc, list: readonly Lettered[], edge: number, top: number): void => {
  const kinds = new Set(list.map(({ letter }) => letter)).size
  const labels = list
    .filter(
      ({ letter }, index) =>
        kinds <= MOST_LABELS && list.findLastIndex((other) => other.letter === letter) === index,
    )
    .sort((a, b) => a.corner[1] - b.corner[1])
  let free = top
  doc.font('bold').fontSize(8.5).lineWidth(0.4)
  for (const { letter, corner } of labels) {
    const base = Math.max(free + 8, corner[1] + 3)
    doc
      .moveTo(...corner)
      .lineTo(edge - 1, base - 3)
      .stroke('#000')
    doc.fillColor('#000').text(letter, edge, base, { lineBreak: false, baseline: 'alphabetic' })
    free = base
  }
}

const MM = 72 / 25.4

/** At this size lines are thinner than on the sheet, and the middle lines of sprues would be clutter. */
const THINNER: Partial<Record<LineKind, LineKind>> = { wide: 'wax', wax: 'narrow' }

/** The tree as it was placed, from the side: waxes by their own outlines. */
const drawPlaced = (
  doc: Doc,
  type: TypeSetter,
  plan: Plan,
  tree: BenchTree,
  [x, y, size]: readonly [number, number, number],
): void => {
  const [wide, tall] = [tree.flask?.diameter ?? 0, tree.flask?.height ?? 0]
  const scale = size / MM / Math.max(wide, tall, 1)
  const [middle, foot] = [x / MM + size / MM / 2, y / MM + size / MM]
  const place = (right: number, up: number): readonly [number, number] => [
    middle + right * scale,
    foot - up * scale,
  ]
  doc.save().lineJoin('round').lineCap('round')
  // at this size the middle lines of sprues would only be clutter
  for (const mark of sidePicture(tree, tree.waxes, place, scale)) {
    if (mark.kind === 'text' || mark.line === 'centre') continue
    drawMark(doc, type, { ...mark, line: THINNER[mark.line] ?? mark.line }, 0)
  }
  doc.undash()
  const shown = shownOf(tree.waxes.map(({ side, near }) => ({ seen: side, near: near.side })))
  const lettered = tree.waxes
    .map((wax, k) => {
      // its rightmost millimetre that no nearer wax hides, or any where all of it is hidden
      const squares = [...(shown[k] ?? [])].map((square) => square.split(' ').map(Number) as [number, number])
      const ends = squares.length > 0 ? squares : wax.side.outline.flat()
      const [right, up] = place(...ends.reduce((best, point) => (point[0] > best[0] ? point : best)))
      const letter = plan.pieces.pieces.find(({ id }) => id === wax.piece)?.letter ?? ''
      return { near: wax.near.side, letter, corner: [right * MM, up * MM] as const }
    })
    .sort((a, b) => a.near - b.near)
  drawLetters(doc, lettered, (middle + (wide / 2) * scale) * MM + 4, y)
  doc.restore()
}

/**
 * The flask with its tree, to scale and in black and white, by letter: waxes from the side where they were placed, or
 * without places as the boxes of their outside sizes. Drawn inside a square of `size` points with its upper left
 * corner at x, y; nothing without a layout.
 */
export const drawPlate = (
  doc: Doc,
  type: TypeSetter,
  plan: Plan,
  x: number,
  y: number,
  size: number,
): void => {
  if (plan.arranged !== undefined) {
    drawPlaced(doc, type, plan, plan.arranged.measured.tree, [x, y, size])
    return
  }
  const { flask, tree, pour, shop } = plan
  const layout = flask?.layout
  const base = shop.bases.find(({ id }) => id === pour.tree.base) ?? shop.bases[0]
  if (flask === undefined || layout === undefined || base === undefined) return
  const radius = flask.diameter.value / 2
  const outer = radius + flask.wall.value
  const height = flask.height.value
  const tip = base.depth_mm / 1000
  // a tree that does not fit its flask is drawn sticking out of it, and still inside the plate
  const widest = Math.max(outer, layout.reach)
  const tallest = Math.max(height, tip + layout.rise)
  const tall = tallest * Math.cos(ABOVE) + 2 * widest * Math.sin(ABOVE)
  const scale = size / Math.max(tall, 2 * widest)
  const foot = y + size - widest * Math.sin(ABOVE) * scale
  const middle = x + size / 2
  const place = (solid: Solid): [number, number] => {
    const [right, up] = project(solid).at
    return [middle + right * scale, foot - up * scale]
  }
  const level = (z: number): number => foot - z * Math.cos(ABOVE) * scale
  const ring = (z: number, r: number): Doc =>
    doc.ellipse(middle, level(z), r * scale, r * Math.sin(ABOVE) * scale)

  doc.save().lineJoin('round').lineCap('round')
  // far half of the mouth, hidden
  doc.lineWidth(0.4).dash(1.6, { space: 1.2 })
  ring(0, outer).stroke('#555')
  doc.undash()

  // base: a cone from its mouth to its neck
  const [mouth, neck] = [base.mouthDiameter_mm / 2000, base.neckDiameter_mm / 2000]
  ring(0, mouth).lineWidth(0.5).fillAndStroke('#ddd', '#000')
  doc
    .polygon(
      [middle - mouth * scale, level(0)],
      [middle - neck * scale, level(tip)],
      [middle + neck * scale, level(tip)],
      [middle + mouth * scale, level(0)],
    )
    .fillAndStroke('#ddd', '#000')
  ring(tip, neck).fillAndStroke('#fff', '#000')

  // main sprue and sprues, as black lines with a white core
  const rod = (from: Solid, to: Solid, wide: number): void => {
    const [a, b] = [place(from), place(to)]
    doc
      .lineWidth(Math.max(1.4, wide * scale))
      .moveTo(...a)
      .lineTo(...b)
      .stroke('#000')
    doc
      .lineWidth(Math.max(0.6, wide * scale - 0.8))
      .moveTo(...a)
      .lineTo(...b)
      .stroke('#fff')
  }
  const stem = tree.stem?.diameter.value ?? 0.004
  rod([0, 0, tip], [0, 0, tip + layout.stemLength], stem)
  for (const { piece, footprint, bottom } of layout.placements) {
    const wide = tree.gates.find((gate) => gate.piece === piece)?.diameter.value ?? 0.003
    const away = Math.hypot(footprint.x, footprint.y)
    const leaves = Math.max(0, Math.min(layout.stemLength, bottom - Math.max(away, 1e-3)))
    rod([0, 0, tip + leaves], [footprint.x, footprint.y, tip + bottom], wide)
  }

  // pieces from the far side to the near one
  const boxes = layout.placements
    .map(({ piece, footprint, bottom, height: high }) => ({
      letter: plan.pieces.pieces.find(({ id }) => id === piece)?.letter ?? '',
      corners: cornersOf(footprint, tip + bottom, high),
      near: project([footprint.x, footprint.y, tip + bottom]).near,
    }))
    .sort((a, b) => a.near - b.near)
  for (const { corners } of boxes) {
    const faces = FACES.map((face) => face.map((corner) => corners[corner] as Solid))
      .map((face) => ({ face, near: face.reduce((sum, corner) => sum + project(corner).near, 0) }))
      .sort((a, b) => a.near - b.near)
    for (const { face } of faces)
      doc
        .polygon(...face.map(place))
        .lineWidth(0.5)
        .fillAndStroke('#fff', '#000')
  }

  // the flask: outline only, its near wall open
  doc.lineWidth(0.9)
  ring(height, outer).stroke('#000')
  doc.lineWidth(0.4)
  ring(height, radius).stroke('#000')
  doc.lineWidth(0.9)
  for (const side of [-1, 1])
    doc
      .moveTo(middle + side * outer * scale, level(0))
      .lineTo(middle + side * outer * scale, level(height))
      .stroke('#000')
  const deep = outer * Math.sin(ABOVE) * scale
  doc
    .save()
    .rect(middle - outer * scale - 1, level(0), 2 * outer * scale + 2, deep + 2)
    .clip()
  ring(0, outer).stroke('#000')
  doc.restore()

  drawLetters(
    doc,
    boxes.map(({ letter, corners }) => ({
      letter,
      corner: corners
        .slice(4)
        .map(place)
        .reduce((best, corner) => (corner[0] > best[0] ? corner : best)),
    })),
    middle + widest * scale + 4,
    y,
  )
  doc.restore()
}
