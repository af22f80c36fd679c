import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { measureModel } from '../engine/piece/mesh/index.ts'
import { patternJsonSchema } from '../engine/plan-schema.ts'
import { runCommandLine } from './main.ts'

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pattern-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const put = async (name: string, content: string): Promise<string> => {
  const path = join(folder, name)
  await writeFile(path, content)
  return path
}

const run = async (...args: string[]) => {
  const out: string[] = []
  const told: string[] = []
  const status = await runCommandLine(['pattern', ...args], {
    write: (text) => out.push(text),
    tell: (line) => told.push(line),
    now: () => new Date('2030-03-07T09:00:00Z'),
    root: folder,
  })
  const text = out.join('')
  return { status, text, told: told.join('\n'), json: text.startsWith('{') ? JSON.parse(text) : undefined }
}

/** A plate 40 x 20 mm with a round window of 8 mm and a boss beside it. */
const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="30mm" viewBox="0 0 50 30">
  <path id="plate" fill="none" stroke="black" d="M5 5h40v20h-40z"/>
  <circle id="window" fill="none" stroke="black" cx="15" cy="15" r="4"/>
  <rect id="boss" fill="none" stroke="black" x="25" y="10" width="10" height="10"/>
</svg>`
const heights = {
  kind: 'heights',
  version: 1,
  blank_mm: 3,
  regions: {
    plate: { role: 'ground', height_mm: 2 },
    window: { role: 'through' },
    boss: { role: 'raised', height_mm: 3 },
  },
}

describe('pattern', () => {
  test('gives regions, solid, mass and what the spread comes from', async () => {
    const [drawing, beside] = [await put('plate.svg', plate), await put('h.json', JSON.stringify(heights))]
    const { status, json } = await run(drawing, '--heights', beside, '--json')
    expect(status).toBe(0)
    expect(patternJsonSchema.safeParse(json).error?.issues ?? []).toEqual([])
    const of = Object.fromEntries(json.regions.map((each: { id: string }) => [each.id, each]))
    expect(of.plate).toMatchObject({ role: 'ground', height_mm: 2, holes: 2 })
    expect(of.plate.area_mm2).toBeCloseTo(800 - Math.PI * 16 - 100, 1)
    expect(of.window).toMatchObject({ role: 'through', height_mm: 0, holes: 0 })
    expect(of.window.perimeter_mm).toBeCloseTo(8 * Math.PI, 2)
    const volume = (800 - Math.PI * 16 - 100) * 2 + 300
    expect(json.solid.closed).toBe(true)
    expect(json.solid.volume_mm3 / volume).toBeCloseTo(1, 3)
    expect(json.mass_g.sterling).toBeCloseTo((json.solid.volume_mm3 / 1000) * 10.36, 1)
    expect(json.wax_g.low).toBeLessThan(json.wax_g.expected)
    expect(json.wax_g.fromDrawing).toBe(0)
    // nine cuts in ten within 0.2 mm over the whole face, in wax of 0.95 or so
    expect(json.wax_g.fromHand).toBeGreaterThan(0.13)
  })

  test('writes the solid as drawn, and the wax over by the shrink', async () => {
    const [drawing, beside] = [await put('plate.svg', plate), await put('h.json', JSON.stringify(heights))]
    const [mesh, wax] = [join(folder, 'as-drawn.stl'), join(folder, 'wax.3mf')]
    const { json } = await run(drawing, '--heights', beside, '--mesh', mesh, '--wax-mesh', wax, '--json')
    const drawn = measureModel(new Uint8Array(await readFile(mesh)), 'as-drawn.stl', {})
    const over = measureModel(new Uint8Array(await readFile(wax)), 'wax.3mf', {})
    expect(drawn.closed && over.closed).toBe(true)
    expect((drawn.volume_mm3 ?? 0) / json.solid.volume_mm3).toBeCloseTo(1, 5)
    expect((over.volume_mm3 ?? 0) / json.solid.volume_mm3).toBeCloseTo(1 / (1 - 0.0125) ** 3, 4)
  })

  test('writes a template in the form that the name asks for', async () => {
    const drawing = await put('plate.svg', plate)
    for (const [name, start] of [
      ['t.pdf', /^%PDF-/],
      ['t.svg', /^<(\?xml|svg)/],
      ['t.dxf', /^\s*(0|999)\s/],
    ] as const) {
      const path = join(folder, name)
      expect((await run(drawing, '--template', path)).status).toBe(0)
      expect(await readFile(path, 'latin1')).toMatch(start)
    }
    const odd = await run(drawing, '--template', join(folder, 't.doc'))
    expect(odd.status).toBe(2)
    expect(odd.told).toContain('.pdf, .svg or .dxf')
  })

  test('without heights says nothing it does not know: every region keeps the blank', async () => {
    const { json } = await run(await put('plate.svg', plate), '--json')
    expect(json.regions.map((each: { height_mm: number }) => each.height_mm)).toEqual([3, 3, 3])
  })

  test('a height for a region that is not there is named, with those that are', async () => {
    const beside = await put(
      'wrong.json',
      JSON.stringify({ ...heights, regions: { bos: { role: 'raised', height_mm: 3 } } }),
    )
    const { json } = await run(await put('plate.svg', plate), '--heights', beside, '--json')
    const told = json.problems.find((each: { kind: string }) => each.kind === 'no-such-region')
    expect(told.what).toContain('"bos"')
    expect(told.remedy).toContain('boss')
  })

  test.each([
    [
      'open.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><path stroke="black" fill="none" d="M1 1h7v3"/></svg>',
    ],
    ['broken.dxf', '  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n'],
    ['words.txt', 'a list of waxes'],
    ['empty.svg', ''],
  ])('%s is bad input: one line of reason, all of it as JSON', async (name, content) => {
    const { status, told, json } = await run(await put(name, content), '--json')
    expect(status).toBe(2)
    expect(told.split('\n')).toHaveLength(1)
    expect(json.solid).toMatchObject({ volume_mm3: null, closed: false })
    expect(json.problems.length).toBeGreaterThan(0)
    for (const each of json.problems)
      expect(each).toMatchObject({ what: expect.any(String), remedy: expect.any(String) })
  })

  test('arguments and heights that make no sense are refused with their place', async () => {
    const drawing = await put('plate.svg', plate)
    expect((await run()).told).toContain('no drawing was named')
    expect((await run(drawing, '--units', 'ell')).told).toContain('--units')
    expect((await run(drawing, '--bar', '12')).told).toContain('--bar')
    const beside = await put('bad.json', JSON.stringify({ ...heights, blank_mm: -1 }))
    const { status, json } = await run(drawing, '--heights', beside, '--json')
    expect(status).toBe(2)
    expect(json.problems[0].where).toContain('blank_mm')
    expect((await run(join(folder, 'nowhere.svg'))).told).toContain('no such file')
  })
})
