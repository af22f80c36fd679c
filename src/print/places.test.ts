import { readFileSync } from 'node:fs'
import PDFDocument from 'pdfkit'
import { beforeAll, describe, expect, test } from 'vitest'
import { shapesOf } from '../../examples/shapes-of.ts'
import { PAGE, sheetPages } from '../engine/arrange/index.ts'
import { boxOf } from '../engine/arrange/sheet/marks.ts'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { type ArrangementFacts, arrangementKey } from '../engine/arrangement-verdict.ts'
import { type Pour, pourFileSchema, readDocument, type Shop } from '../engine/documents/index.ts'
import { type Plan, planPour } from '../engine/plan.ts'
import { METRIC } from '../engine/quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from '../engine/sample-pour.ts'
import { loadSolids } from '../solids/manifold.ts'
import { readSheetFonts } from './fonts.ts'
import { printRunSheet, type RunSheetOptions } from './index.ts'
import { type PageRead, readBack } from './read-back.ts'
import { TypeSetter } from './type.ts'

const print = async (plan: Plan, options: Partial<RunSheetOptions> = {}): Promise<PageRead[]> =>
  readBack(
    await printRunSheet(plan, {
      paper: 'a4',
      units: METRIC,
      printedAt: SAMPLE_NOW,
      compress: false,
      ...options,
    }),
  )

const withPlaces = (shop: Shop, pour: Pour, facts: ArrangementFacts): Plan => {
  const given = { now: SAMPLE_NOW, meshes: shapesOf(pour) }
  const key = arrangementKey(planPour(shop, pour, given))
  return planPour(shop, pour, { ...given, arrangements: { [key]: facts } })
}

const shop = sampleShop()
const pour = samplePour({ pieces: [sampleWax('slide', 1.2, { quantity: 2 }), sampleWax('tag', 1.1)] })
let facts: ArrangementFacts
let plan: Plan
let arranged: NonNullable<Plan['arranged']>

beforeAll(async () => {
  facts = arrangePlan(planPour(shop, pour, { now: SAMPLE_NOW }), {}, await loadSolids()).facts
  plan = withPlaces(shop, pour, facts)
  if (plan.arranged === undefined) throw new Error('the sample pour can be placed')
  arranged = plan.arranged
})

const MM = 72 / 25.4

describe('the sides that say where each wax goes', () => {
  test.each(['a4', 'letter'] as const)(
    'stand behind the sheet on %s paper, in either units, each word of the sheet’s own pages where it stands there',
    async (paper) => {
      for (const length of ['mm', 'in'] as const) {
        const units = { ...METRIC, length }
        const without = await print(plan, { paper, units, places: false })
        const sides = (await print(plan, { paper, units })).slice(without.length)
        const sheet = sheetPages(arranged.measured.tree, 'Pour', length)
        expect(sides).toHaveLength(sheet.length)
        sides.forEach((side, at) => {
          const level = (sheet[at]?.marks ?? []).filter((mark) => mark.kind === 'text' && !mark.upward)
          const aside = (side.width / MM - PAGE.width) / 2
          for (const mark of level) {
            if (mark.kind !== 'text' || mark.align !== 'start' || mark.at[1] > 240) continue
            const found = side.written.some(
              ({ text, x, y }) =>
                text.replaceAll('\u00a0', ' ') === mark.text &&
                Math.abs(x - (mark.at[0] + aside) * MM) < 0.1 &&
                Math.abs(side.height - y - mark.at[1] * MM) < 0.1,
            )
            expect(found, mark.text).toBe(true)
          }
          expect(side.text).toContain('where each wax and sprue goes')
          expect(side.text).toContain(length === 'mm' ? 'This bar is 100 mm long' : 'This bar is 4 in long')
          expect(Math.min(...side.written.map(({ size }) => size))).toBeGreaterThan(8)
        })
        expect((await print(plan, { paper, units }))[0]?.text).toContain('Waxes set by the side')
      }
    },
  )

  test('are the tables and drawings of the plan’s own waxes, by their letters on the run sheet', async () => {
    const letters = plan.pieces.pieces.flatMap(({ letter, quantity }) =>
      quantity === 1 ? [letter] : Array.from({ length: quantity }, (_, k) => `${letter} ${k + 1}`),
    )
    expect(arranged.measured.tree.waxes.map(({ tag }) => tag).sort()).toEqual(letters.sort())
  })

  test('and the small picture at its head shows each wax by its own outline where it was placed', async () => {
    const [head] = await print(plan)
    // every path of the page, as its points
    const paths = (head?.orders ?? '')
      .split(/(?=^\S+ \S+ m$)/m)
      .map((order) =>
        [...order.matchAll(/^(\S+) (\S+) [ml]$/gm)].map(([, x, y]) => [Number(x), Number(y)] as const),
      )
    const { flask, waxes } = arranged.measured.tree
    // on a square of 23 mm
    const scale = (23 * MM) / Math.max(flask?.diameter ?? 0, flask?.height ?? 0)
    const isDrawn = (round: readonly (readonly [number, number])[], path: (typeof paths)[number]): boolean =>
      path.length === round.length &&
      round.every(([x, y], k) => {
        const [first, start, point] = [round[0] ?? [0, 0], path[0] ?? [0, 0], path[k] ?? [0, 0]]
        // up on the sheet is up in the flask
        const right = point[0] - start[0] - scale * (x - first[0])
        return Math.hypot(right, point[1] - start[1] + scale * (y - first[1])) < 0.02
      })
    expect(waxes.length).toBe(3)
    for (const { side } of waxes)
      for (const round of side.outline) expect(paths.some((path) => isDrawn(round, path))).toBe(true)
    // the boxes of a plan without places are not drawn over them
    expect((await print({ ...plan, arranged: undefined }))[0]?.orders).not.toBe(head?.orders)
  })

  test('hold every letter as wide as it is on paper', async () => {
    const doc = new PDFDocument()
    for (const [name, bytes] of Object.entries(await readSheetFonts()))
      doc.registerFont(name, Buffer.from(bytes))
    const type = new TypeSetter(doc)
    for (const { marks } of sheetPages(arranged.measured.tree, 'Pour', 'mm'))
      for (const mark of marks)
        if (mark.kind === 'text') {
          const wide = type.width({ text: mark.text, face: mark.bold ? 'bold' : 'regular' }, mark.size)
          const held = boxOf(mark)
          expect(wide, mark.text).toBeLessThanOrEqual(Math.max(held[2] - held[0], held[3] - held[1]) + 0.3)
        }
  })

  test('follow the demo’s own sheet on its two sides', async () => {
    const file = new URL('../../examples/cloak-clasp.json', import.meta.url)
    const reading = readDocument(pourFileSchema, JSON.parse(readFileSync(file, 'utf8')))
    if (!reading.ok || reading.value.shop === undefined) throw new Error('the demo is a whole pour')
    const { shop: own, ...demo } = reading.value
    const flask = own.flasks.find(({ id }) => id === 'flask-3.5x4')
    if (flask === undefined) throw new Error('the demo’s rack has this flask')
    const size = { id: flask.id, diameter_mm: flask.insideDiameter_mm, height_mm: flask.insideHeight_mm }
    const placed = withPlaces(own, demo, { ...facts, flask: size })
    expect(placed.arranged).toBeDefined()
    for (const paper of ['a4', 'letter'] as const) {
      const pages = await print(placed, { paper })
      expect(pages[2]?.text).toContain('from above, 1 : 1')
    }
  })
})
