import { describe, expect, it } from 'vitest'
import { heightsSchema, type Piece } from '../documents/index.ts'
import { planPour } from '../plan.ts'
import { NINE_IN_TEN } from '../quantity/index.ts'
import { samplePour, sampleShop } from '../sample-pour.ts'
import { type MeshFacts, shapeKey, spreadThrough } from './index.ts'

const heights = heightsSchema.parse({
  kind: 'heights',
  version: 1,
  blank_mm: 3,
  hand: { height_mm: 0.2, outline_mm: 0.1 },
})

const drawnPiece = (more: object = {}): Piece => ({
  id: 'clasp',
  name: 'Clasp',
  quantity: 1,
  source: { from: 'pattern', file: 'clasp.svg', heights: { ...heights, ...more } },
})

/** A plate 50 x 40 x 3 mm: plan 2000 mm2, upright faces 540 mm2. */
const plate: MeshFacts = {
  volume_mm3: 6000,
  area_mm2: 4540,
  bounds_mm: { min: [0, 0, 0], max: [50, 40, 3] },
  thickness_mm: { thinnest: 3, usual: 3, thickest: 3 },
  problems: [],
  drawn: { plan_mm2: 2000, rim_mm2: 540, scaleSpread: 0.005, outlineSpread_mm: 0.05 },
}

const planned = (piece: Piece, facts: MeshFacts | undefined = plate) => {
  const key = shapeKey(piece.source) ?? ''
  return planPour(
    sampleShop(),
    { ...samplePour(), pieces: [piece] },
    { now: 0, meshes: facts === undefined ? {} : { [key]: facts } },
  )
}
const first = (plan: ReturnType<typeof planned>) => {
  const [piece] = plan.pieces.pieces
  if (piece === undefined) throw new Error('the plan has no piece')
  return piece
}

describe('a piece that is still a drawing', () => {
  it('waits for its solid, and says which', () => {
    const plan = planPour(sampleShop(), { ...samplePour(), pieces: [drawnPiece()] }, { now: 0 })
    expect(plan.wanted).toContainEqual({
      kind: 'pattern',
      key: shapeKey(drawnPiece().source),
      pieceIndex: 0,
    })
    expect(first(plan).castMass).toBeUndefined()
  })

  it('is carved over by the shrink three ways, or as drawn when asked', () => {
    const shrink = sampleShop().alloys[0]?.castShrink
    const share = typeof shrink === 'object' ? shrink.value : (shrink ?? 0)
    expect(first(planned(drawnPiece())).volume?.value).toBeCloseTo(6e-6 / (1 - share) ** 3, 12)
    expect(first(planned(drawnPiece({ over: 'none' }))).volume?.value).toBeCloseTo(6e-6, 15)
  })

  it('casts to the drawing when carved over by the shrink, and smaller when carved as drawn', () => {
    const density = first(planned(drawnPiece())).castMass?.inputs.density?.value ?? Number.NaN
    const shrink = sampleShop().alloys[0]?.castShrink
    const share = typeof shrink === 'object' ? shrink.value : (shrink ?? 0)
    expect(first(planned(drawnPiece())).castMass?.value).toBeCloseTo(6e-6 * density, 12)
    expect(first(planned(drawnPiece({ over: 'none' }))).castMass?.value).toBeCloseTo(
      6e-6 * (1 - share) ** 3 * density,
      12,
    )
    const carved = drawnPiece()
    const weighed = first(planned({ ...carved, source: { ...carved.source, carved_g: 5.9 } } as Piece))
    expect(weighed.castMass?.value).toBeCloseTo((weighed.volume?.value ?? 0) * (1 - share) ** 3 * density, 12)
  })

  it('is as large in wax as it is carved, and as drawn when it is finished', () => {
    const plan = planned(drawnPiece())
    const shrink = sampleShop().alloys[0]?.castShrink
    const share = typeof shrink === 'object' ? shrink.value : (shrink ?? 0)
    expect(first(plan).extents?.length.value).toBeCloseTo(0.05 / (1 - share), 9)
    expect(first(planned(drawnPiece({ over: 'none' }))).extents?.length.value).toBeCloseTo(0.05, 9)
    const perFace = plan.finish.pieces[0]?.sizes?.length.inputs.perFace?.value ?? Number.NaN
    expect(plan.finish.pieces[0]?.sizes?.length.value).toBeCloseTo(0.05 - 2 * perFace, 9)
  })

  it('gives up again, when it is finished, what was left for the file', () => {
    const plain = planned(drawnPiece())
    // 0.3 mm left all round: the plate is cast 50.6 x 40.6 mm, and the file takes 162.54 mm3 of its 3 mm
    const filed_mm3 = 3 * (50.6 * 40.6 - 50 * 40)
    const filed = planned(drawnPiece({ filing_mm: 0.3 }), {
      ...plate,
      volume_mm3: 6000 + filed_mm3,
      bounds_mm: { min: [-0.3, -0.3, 0], max: [50.3, 40.3, 3] },
      drawn: { plan_mm2: 2000, rim_mm2: 540, scaleSpread: 0.005, outlineSpread_mm: 0.05, filed_mm3 },
    })
    const [before, after] = [plain, filed].map((plan) => plan.finish.pieces[0])
    expect(after?.finishedMass?.value).toBeCloseTo(before?.finishedMass?.value ?? Number.NaN, 9)
    expect(after?.sizes?.length.value).toBeCloseTo(before?.sizes?.length.value ?? Number.NaN, 9)
    expect(after?.sizes?.height.value).toBeCloseTo(before?.sizes?.height.value ?? Number.NaN, 9)
    expect(first(filed).castMass?.value).toBeGreaterThan(first(plain).castMass?.value ?? Infinity)
  })

  it('parts its spread into the drawing’s and the hand’s', () => {
    const piece = first(planned(drawnPiece({ over: 'none' })))
    const { drawn } = piece
    if (drawn === undefined) throw new Error('no expectation')
    // plan times 0.2 mm and rim times 0.1 mm, both nine in ten; 2 V times 0.005 and rim times 0.05, both standard
    expect(spreadThrough(drawn.volume, drawn.ofHand)).toBeCloseTo(Math.hypot(400, 54) * 1e-9, 12)
    expect(spreadThrough(drawn.volume, drawn.ofDrawing)).toBeCloseTo(
      NINE_IN_TEN * Math.hypot(60, 27) * 1e-9,
      12,
    )
    const whole = (drawn.volume.high - drawn.volume.low) / 2
    expect(whole).toBeCloseTo(
      Math.hypot(spreadThrough(drawn.volume, drawn.ofHand), spreadThrough(drawn.volume, drawn.ofDrawing)),
      12,
    )
  })

  it('rests on the scale once the wax is carved, and keeps the drawing’s word beside it', () => {
    const carved = drawnPiece()
    const weighed = { ...carved, source: { ...carved.source, carved_g: 5.9 } } as Piece
    const plan = planned(weighed)
    const piece = first(plan)
    expect(piece.waxMass?.value).toBeCloseTo(0.0059, 9)
    expect(piece.drawn?.wax?.value).toBeGreaterThan(0.0055)
    expect(plan.verdicts.find(({ id }) => id === 'pieces.clasp.carved')?.verdict).toBe('pass')
    const light = { ...carved, source: { ...carved.source, carved_g: 3 } } as Piece
    expect(planned(light).verdicts.find(({ id }) => id === 'pieces.clasp.carved')?.verdict).toBe('check')
  })

  it('is not measured anew for a section line or a surer hand', () => {
    expect(shapeKey(drawnPiece({ hand: { height_mm: 0.1, outline_mm: 0.1 } }).source)).toBe(
      shapeKey(drawnPiece().source),
    )
    expect(shapeKey(drawnPiece({ blank_mm: 4 }).source)).not.toBe(shapeKey(drawnPiece().source))
  })

  it('has no weight while its drawing cannot be read', () => {
    const plan = planned(drawnPiece(), {
      ...plate,
      volume_mm3: null,
      problems: [{ what: 'no outline closes', where: 'clasp.svg', remedy: 'close the outline' }],
    })
    expect(first(plan).castMass).toBeUndefined()
    expect(plan.problems.some(({ kind }) => kind === 'drawing-without-volume')).toBe(true)
  })
})
