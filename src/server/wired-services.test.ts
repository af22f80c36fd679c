import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { heightsSchema } from '../engine/documents/index.ts'
import type { Demo } from './services.ts'
import { wiredServices } from './wired-services.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const services = wiredServices(root)

const demo = async (): Promise<Demo> => {
  if (services.demo === undefined) throw new Error('the example pour should lie beside the program')
  return services.demo()
}

const units = { length: 'mm', temperature: 'C', mass: 'g', pressure: 'inHg', currency: 'USD' }

describe('the real services', () => {
  test('the demo brings its shop and every model that its pour names', async () => {
    const { pours, models, shop } = await demo()
    expect(shop.kind).toBe('shop')
    const named = pours.flatMap(({ pieces }) =>
      pieces.flatMap(({ source }) => ('file' in source ? [source.file] : [])),
    )
    expect(named.length).toBeGreaterThan(0)
    expect(models.map(({ name }) => name).sort()).toEqual([...new Set(named)].sort())
  })

  test('every model of the demo is measured as closed', async () => {
    for (const { name, bytes } of (await demo()).models.filter((model) => !model.name.endsWith('.svg'))) {
      const measured = await services.measure?.(bytes.subarray(), name, { acceptRepair: false })
      expect(measured).toMatchObject({ closed: true, volume_mm3: expect.any(Number) })
      expect(JSON.parse(JSON.stringify(measured))).toEqual(measured)
    }
  })

  test('the demo prints, with its plan beside it as plain JSON', async () => {
    const { pours, shop } = await demo()
    const [pour] = pours
    if (pour === undefined) throw new Error('expected a pour')
    const printed = await services.print?.({
      pour,
      shop,
      paper: 'a4',
      units,
      now: new Date('2030-03-07T09:00:00Z'),
      readModel: async () => undefined,
    })
    if (printed?.ok !== true) throw new Error('expected a sheet')
    expect(Buffer.from(printed.pdf.subarray(0, 5)).toString()).toBe('%PDF-')
    expect(JSON.parse(JSON.stringify(printed.plan))).toEqual(printed.plan)
  })

  test('a drawn piece has its template, and one without a drawing is told so', async () => {
    const { pours, shop } = await demo()
    const [pour] = pours
    const [tag] = pour?.pieces ?? []
    if (pour === undefined || tag === undefined || services.template === undefined)
      throw new Error('expected a pour and the template service')
    const file = 'clasp-drawing.svg'
    const heights = heightsSchema.parse(
      JSON.parse(readFileSync(join(root, 'examples/clasp-heights.json'), 'utf8')),
    )
    const asked = {
      pour,
      shop,
      paper: 'letter',
      unit: 'in',
      bar_mm: undefined,
      now: new Date('2030-03-07T09:00:00Z'),
      readModel: async () => new Uint8Array(readFileSync(join(root, 'examples', file))),
    } as const
    const piece = { ...tag, source: { from: 'pattern', file, sha256: 'a'.repeat(64), heights } } as const
    const printed = await services.template({ ...asked, piece })
    if (!printed.ok) throw new Error('expected a template')
    expect(Buffer.from(printed.pdf.subarray(0, 5)).toString()).toBe('%PDF-')
    const weighed = { ...tag, source: { from: 'weighed-wax', mass_g: 1, wax: 'hard-carving' } } as const
    expect(await services.template({ ...asked, piece: weighed })).toMatchObject({ ok: false })
    const bare = new TextEncoder().encode(
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><path d="M2 2h30v15h-30z"/></svg>',
    )
    const unsaid = await services.template({ ...asked, piece, readModel: async () => bare })
    expect(unsaid).toMatchObject({ ok: false, problems: [{ what: expect.stringContaining('40 x 20 mm') }] })
    const lost = await services.template({ ...asked, piece, readModel: async () => undefined })
    expect(lost).toMatchObject({ ok: false, problems: [{ where: file }] })
  })

  test('units that no face offers are refused with their place', async () => {
    const { pours, shop } = await demo()
    const [pour] = pours
    if (pour === undefined) throw new Error('expected a pour')
    const printed = await services.print?.({
      pour,
      shop,
      paper: 'a4',
      units: { ...units, length: 'ell' },
      now: new Date('2030-03-07T09:00:00Z'),
      readModel: async () => undefined,
    })
    expect(printed).toMatchObject({ ok: false, problems: [{ where: '/units/length' }] })
  })

  test('a make-up request of the wrong form is refused with its places, a right one is answered', async () => {
    const bad = await services.makeUp?.({ target_kg: 'much', lots: [{}] })
    if (bad?.ok !== false) throw new Error('expected faults')
    expect(bad.problems.map(({ where }) => where)).toEqual(expect.arrayContaining(['/target_kg', '/alloy']))
    const pure = (value: number) => ({ value, low: value, high: value })
    const lot = { mass_kg: 1, mayUse: true, owner: 'shop' }
    const good = await services.makeUp?.({
      target_kg: 0.1,
      scaleStep_kg: 0.0001,
      alloy: {
        id: 'sterling',
        name: 'Sterling',
        principal: 'Ag',
        limits: {},
        finenessTarget_ppt: 925,
      },
      lots: [
        {
          ...lot,
          id: 'ag',
          name: 'Fine silver',
          kind: 'fine',
          composition: { Ag: pure(1) },
          price_per_kg: 1000,
        },
        {
          ...lot,
          id: 'cu',
          name: 'Copper',
          kind: 'alloying',
          composition: { Cu: pure(1) },
          price_per_kg: 10,
        },
      ],
    })
    // silver is the dearer, so the cheapest charge holds just 92.5 g of it in 100 g
    expect(good).toMatchObject({ ok: true, answer: { kind: 'made-up' } })
    const lines = (good as { answer: { lines: { lot: string; mass_kg: number }[] } }).answer.lines
    expect(lines.find(({ lot: id }) => id === 'ag')?.mass_kg).toBeCloseTo(0.0925, 9)
  })
})
