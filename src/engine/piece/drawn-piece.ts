import type { Piece, Roots } from '../documents/index.ts'
import { NINE_IN_TEN, type Quantity, root, say, type Verdict } from '../quantity/index.ts'
import { massOfWax, volumeAsCarved, volumeAsShrunk, waxOverSize } from './formulas.ts'
import type { DrawnFacts } from './mesh-facts.ts'

type PatternSource = Extract<Piece['source'], { from: 'pattern' }>

/** What a drawing says of the wax that is to be carved after it. */
export interface DrawnPiece {
  /** room of the finished drawing, with what drawing and hand may move */
  readonly asDrawn: Quantity
  /** room of the wax: as drawn, or over by the shrink */
  readonly volume: Quantity
  readonly wax?: Quantity
  /** the roots that stand for the drawing, and those that stand for the carver's hand */
  readonly ofDrawing: readonly Quantity[]
  readonly ofHand: readonly Quantity[]
}

export interface DrawnInput {
  readonly piece: Piece
  readonly source: PatternSource
  readonly volume_mm3: number
  readonly drawn: DrawnFacts
  readonly roots: Roots
  /** absent when the shop does not know the alloy: then the wax is taken as drawn */
  readonly alloyIndex: number | undefined
  readonly waxDensity: Quantity | undefined
}

/** A deviation of nothing, give or take: one root for the whole piece, since one hand and one scale make it. */
const offBy = (id: string, title: string, unit: 'm' | '1', u: number, source: string): Quantity =>
  root({ id, title, unit, value: 0, u, kind: 'usual', source })

/** The wax to come, reckoned from the drawing's solid; its spread parts into the drawing's and the hand's. */
export const expectWax = (input: DrawnInput): DrawnPiece => {
  const { piece, source, drawn, roots } = input
  const id = `pieces.${piece.id}`
  const fixed = (key: string, title: string, value: number): Quantity =>
    root({
      id: `${id}.${key}`,
      title,
      unit: key === 'solid' ? 'm3' : 'm2',
      value,
      kind: 'usual',
      source: `measured from the relief of ${source.file}`,
    })
  const { height_mm, outline_mm } = source.heights.hand
  const byHand = (within_mm: number): string =>
    `nine cuts in ten within ${within_mm} mm of the drawing; usual for hand carving, common practice`
  const scale = offBy(
    `${id}.scaleOff`,
    'Scale of the drawing, off by',
    '1',
    drawn.scaleSpread,
    'from how the drawing was brought to size',
  )
  const lineOff = offBy(
    `${id}.lineOff`,
    'Drawn outline, off by',
    'm',
    drawn.outlineSpread_mm / 1000,
    'from how sharply the drawing was read',
  )
  const cutOff = offBy(
    `${id}.cutOff`,
    'Carved heights, off by',
    'm',
    height_mm / 1000 / NINE_IN_TEN,
    byHand(height_mm),
  )
  const edgeOff = offBy(
    `${id}.edgeOff`,
    'Carved outline, off by',
    'm',
    outline_mm / 1000 / NINE_IN_TEN,
    byHand(outline_mm),
  )
  const asDrawn = volumeAsCarved(
    {
      solid: fixed('solid', `Solid of ${piece.name}, as drawn`, input.volume_mm3 * 1e-9),
      plan: fixed('plan', `${piece.name} seen from above`, drawn.plan_mm2 * 1e-6),
      rim: fixed('rim', `Upright faces of ${piece.name}`, drawn.rim_mm2 * 1e-6),
      scale,
      line: lineOff,
      cut: cutOff,
      edge: edgeOff,
    },
    { id: `${id}.asDrawn`, title: `Volume of ${piece.name}, as drawn` },
  )
  const volume =
    source.heights.over === 'shrink' && input.alloyIndex !== undefined
      ? waxOverSize(
          {
            drawn: asDrawn,
            shrink: shrinkOf(roots, input.alloyIndex),
          },
          { id: `${id}.volume`, title: `Volume of ${piece.name}, to carve` },
        )
      : asDrawn
  const wax =
    input.waxDensity &&
    massOfWax(
      { volume, density: input.waxDensity },
      { id: `${id}.waxToCome`, title: `${piece.name}, wax by the drawing` },
    )
  return { asDrawn, volume, wax, ofDrawing: [scale, lineOff], ofHand: [cutOff, edgeOff] }
}

export const shrinkOf = (roots: Roots, alloyIndex: number): Quantity =>
  roots.at(`/shop/alloys/${alloyIndex}/castShrink`, 'Shrink from wax to metal')

/**
 * Room of the casting: the drawing itself while the wax is to be carved over by the shrink, else what the wax
 * leaves once it has shrunk.
 */
export const asCast = (
  drawn: DrawnPiece,
  wax: Quantity,
  piece: Piece,
  roots: Roots,
  alloyIndex: number,
): Quantity =>
  wax === drawn.volume && wax !== drawn.asDrawn
    ? drawn.asDrawn
    : volumeAsShrunk(
        { wax, shrink: shrinkOf(roots, alloyIndex) },
        { id: `pieces.${piece.id}.asCast`, title: `Volume of ${piece.name}, as cast` },
      )

/** How much of a quantity's spread comes through some of its roots, nine in ten either way, same unit. */
export const spreadThrough = (quantity: Quantity, roots: readonly Quantity[]): number =>
  NINE_IN_TEN * Math.hypot(...roots.map((each) => (quantity.slopes.get(each) ?? 0) * each.u))

/** The carved wax on the scale against what its drawing let expect. */
export const compareCarved = (piece: Piece, at: string, expected: Quantity, weighed: Quantity): Verdict => {
  const apart = Math.abs(weighed.value - expected.value)
  const within = apart <= NINE_IN_TEN * Math.hypot(weighed.u, expected.u)
  const figures = say`Weighed ${weighed}, by the drawing ${expected}.`
  return {
    id: `pieces.${piece.id}.carved`,
    part: 'pieces',
    where: `${at}/source/carved_g`,
    ...(within
      ? {
          verdict: 'pass',
          title: say`${piece.name}, wax and drawing agree`,
          reason: figures,
          remedy: [],
        }
      : {
          verdict: 'check',
          title: say`${piece.name}, wax and drawing differ`,
          reason: say`${figures} That is more than the hand usually strays: a height or the scale of the drawing may be wrong, or the wax is another one.`,
          remedy: say`weigh again, and measure the ground and the highest place against the heights entered`,
        }),
  }
}
