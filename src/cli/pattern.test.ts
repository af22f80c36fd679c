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
    // carved over by the shrink, the casting comes out as drawn
    expect(json.cast_g.expected).toBeCloseTo(json.mass_g.sterling, 6)
    expect(json.wax_g.low).toBeLessThan(json.wax_g.expected)
    expect(json.wax_g.fromDrawing).toBe(0)
    // nine cuts in ten within 0.2 mm over the whole face, in wax of 0.95 or so
    expect(json.wax_g.fromHand).toBeGreaterThan(0.13)
  })

  test('calls regions by the caster’s own names, numbered as on the sheet', async () => {
    const named = { ...heights, names: { boss: 'The knot' } }
    const beside = await put('named.json', JSON.stringify(named))
    const { json } = await run(await put('plate.svg', plate), '--heights', beside, '--json')
    const names = json.regions.map(({ id, name, number }: Record<string, unknown>) => [id, name, number])
    expect(names).toContainEqual(['boss', 'The knot', 2])
    expect(names).toContainEqual(['plate', 'Plate', 1])
    expect(names).toContainEqual(['window', 'Window', 3])
  })

  test('leaves metal for the file in wax, casting and blank', async () => {
    const drawing = await put('plate.svg', plate)
    const of = async (more: object) =>
      (
        await run(
          drawing,
          '--heights',
          await put('f.json', JSON.stringify({ ...heights, ...more })),
          '--json',
        )
      ).json
    const [plain, filed] = [await of({}), await of({ filing_mm: 0.5 })]
    // 40 x 20 becomes 41 x 21, and the window of 8 mm one of 7, at 2 mm
    const added = 2 * (41 * 21 - 800 + Math.PI * (16 - 12.25))
    expect(filed.solid.volume_mm3 - plain.solid.volume_mm3).toBeCloseTo(added, 0)
    expect(filed.cast_g.expected).toBeGreaterThan(plain.cast_g.expected)
    expect(filed.blank_mm.length).toBe(plain.blank_mm.length + 1)
  })

  test('says what wax to cut from, and where that at hand is too thin', async () => {
    const drawing = await put('plate.svg', plate)
    const of = async (more: object) => {
      const { json } = await run(
        drawing,
        '--heights',
        await put('b.json', JSON.stringify({ ...heights, ...more })),
        '--json',
      )
      expect(patternJsonSchema.safeParse(json).error?.issues ?? []).toEqual([])
      return json
    }
    const kinds = (json: { problems: { kind: string }[] }) => json.problems.map(({ kind }) => kind)
    // 40 x 20 over by 1 / (1 - 0.0125), with 1.5 mm for the saw all round: 43.51 and 23.25; 3 becomes 3.04
    const short = await of({})
    expect(short.blank_mm).toEqual({ length: 44, width: 24, thickness: 3.1 })
    const told = short.problems.find(({ kind }: { kind: string }) => kind === 'blank-too-thin')
    expect(told).toMatchObject({ level: 'note' })
    expect(told.what).toBe('the wax to cut from is 0.04 mm short: take at least 3.1 mm')
    expect(kinds(await of({ blank_mm: 3.1 }))).toEqual([])
    const high = await of({ regions: { ...heights.regions, boss: { role: 'raised', height_mm: 4 } } })
    expect(high.blank_mm.thickness).toBe(4.1)
    expect(kinds(high)).toContain('height-over-blank')
    // a bar of 2 that stands 4 off the back: 3 + 6, over by the shrink
    const loop = {
      kind: 'loop',
      at_mm: [40, 15],
      strap_width_mm: 8,
      strap_thickness_mm: 3,
      bar_mm: 2,
      clear_mm: 4,
    }
    const behind = await of({ blank_mm: 3.1, hardware: [loop] })
    expect(behind.blank_mm.thickness).toBe(9.2)
    const apart = behind.problems.find(({ kind }: { kind: string }) => kind === 'hardware-behind-blank')
    expect(apart.remedy).toContain('apart')
    // R (1 - cos(20 / R)) = 2.48 at R = 80
    const bent = await of({ back: { shape: 'curved', radius_mm: 80 } })
    expect(bent.blank_mm.thickness).toBe(5.6)
  })

  test('a unit said on the command line or in the heights is not an assumed one', async () => {
    const bare = plate.replace('width="50mm" height="30mm" ', '')
    const drawing = await put('bare.svg', bare)
    expect((await run(drawing, '--json')).json.unitsAssumed).toBe(true)
    expect((await run(drawing, '--units', 'mm', '--json')).json.unitsAssumed).toBe(false)
  })

  test('a size in plain numbers is in px, as SVG has it, and is told both ways', async () => {
    const drawing = await put(
      'plain.svg',
      plate.replace('width="50mm" height="30mm" ', 'width="50" height="30" '),
    )
    const { status, json } = await run(drawing, '--json')
    expect(status).toBe(0)
    const said = await run(
      await put('px.svg', plate.replace('width="50mm" height="30mm" ', 'width="50px" height="30px" ')),
      '--json',
    )
    expect(json.solid.volume_mm3).toBeCloseTo(said.json.solid.volume_mm3, 9)
    expect(json.problems).toContainEqual(expect.objectContaining({ kind: 'plain-size', level: 'check' }))
    expect(json.problems.find(({ kind }: { kind: string }) => kind === 'plain-size').what).toContain(
      '50 x 30 mm',
    )
  })

  test('a drawing without a unit tells its size both ways, weighs nothing and gives no template or solid', async () => {
    const bare = plate.replace('width="50mm" height="30mm" ', '')
    const drawing = await put('bare.svg', bare)
    const { status, json, told } = await run(drawing, '--json')
    expect(status).toBe(2)
    expect(patternJsonSchema.safeParse(json).error?.issues ?? []).toEqual([])
    expect(json.regions).toHaveLength(3)
    expect(json.solid.volume_mm3).toBeNull()
    expect([json.wax_g, json.cast_g, json.mass_g.sterling]).toEqual([null, null, null])
    expect(json.blank_mm).toBeNull()
    const asked = json.problems.filter(({ level }: { level: string }) => level === 'stop')
    expect(asked).toMatchObject([{ kind: 'no-unit', remedy: expect.stringContaining('--units') }])
    // 50 of 1/96 in, and 50 mm
    for (const words of [asked[0].what, told]) {
      expect(words).toContain('13.23 x 7.938 mm')
      expect(words).toContain('50 x 30 mm')
    }
    for (const [option, name] of [
      ['--template', 'bare.pdf'],
      ['--mesh', 'bare.stl'],
      ['--wax-mesh', 'bare-wax.stl'],
    ] as const) {
      const refused = await run(drawing, option, join(folder, name), '--json')
      expect(refused.status).toBe(2)
      expect(refused.json.problems[0].remedy).toContain('--units')
      await expect(readFile(join(folder, name))).rejects.toThrow()
    }
    expect((await run(drawing, '--units', 'mm', '--json')).status).toBe(0)
  })

  test('comes out as large as its regions, whatever stray line lies beside them', async () => {
    const stray = plate.replace('</svg>', '<path id="stray" fill="none" stroke="black" d="M0 0h3"/></svg>')
    const { json } = await run(await put('stray.svg', stray), '--template', join(folder, 's.pdf'), '--json')
    expect(json.blank_mm).toEqual({ length: 44, width: 24, thickness: 3.1 })
    expect(json.bounds_mm).toEqual({ min: [5, 5, 0], max: [45, 25, 3] })
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

  test('heights that no solid comes of are a stop, and the status says so', async () => {
    // 80 mm goes more than once round a radius of 10 mm
    const long = plate.replace('h40v20h-40z', 'h80v20h-80z')
    const beside = await put(
      'bent.json',
      JSON.stringify({ ...heights, back: { shape: 'curved', radius_mm: 10 } }),
    )
    const { status, json, told } = await run(await put('long.svg', long), '--heights', beside, '--json')
    expect(json.problems).toContainEqual(
      expect.objectContaining({ level: 'stop', kind: 'bent-through-itself' }),
    )
    expect(json.mass_g.sterling).toBeNull()
    expect(status).toBe(2)
    expect(told.split('\n')).toHaveLength(1)
  })

  test('a file that could not be read is not told to have no outlines besides', async () => {
    const { json } = await run(await put('words.txt', 'a list of waxes'), '--json')
    expect(json.problems.map(({ kind }: { kind: string }) => kind)).toEqual(['unknown-format'])
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
    for (const bar of ['12', '94.9', '105.1', 'long'])
      expect((await run(drawing, '--bar', bar)).told, bar).toContain('--bar')
    const beside = await put('bad.json', JSON.stringify({ ...heights, blank_mm: -1 }))
    const { status, json } = await run(drawing, '--heights', beside, '--json')
    expect(status).toBe(2)
    expect(json.problems[0].where).toContain('blank_mm')
    expect((await run(join(folder, 'nowhere.svg'))).told).toContain('no such file')
  })
})
