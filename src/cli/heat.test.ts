import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runCommandLine } from './main.ts'

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pourwright-heat-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const call = async (...args: string[]) => {
  let out = ''
  const told: string[] = []
  const status = await runCommandLine(['heat', ...args], {
    write: (text) => {
      out += text
    },
    tell: (line) => told.push(line),
    now: () => new Date('2026-03-07T09:00:00Z'),
    root: folder,
  })
  return { status, out, told }
}

// Cengel, example 4-4: brass of 40 mm, 20 °C into 500 °C, h 120, k 110, alpha 33.9e-6
const plate = {
  kind: 'heat-case',
  geometry: { shape: 'slab', thickness_mm: 40 },
  material: { density_kg_m3: 8530, conductivity_W_mK: 110, specificHeat_J_kgK: 110 / (8530 * 33.9e-6) },
  initial_C: 20,
  boundary: { h_W_m2K: 120, ambient_C: 500 },
  probes_mm: [[0], [20]],
  times_s: [0, 420],
}
const solve = (change: object, ...args: string[]) => {
  const path = join(folder, 'case.json')
  writeFileSync(path, JSON.stringify({ ...plate, ...change }))
  return call(path, '--json', ...args)
}
const placesIn = (out: string): string[] =>
  JSON.parse(out).problems.map((problem: { where: string }) => problem.where)

describe('heat', () => {
  test('solves a textbook plate: the face is at 279.58 °C after seven minutes, and heat is kept', async () => {
    const { status, out, told } = await solve({})
    expect([status, told]).toEqual([0, []])
    const answer = JSON.parse(out)
    expect(answer.probes.map(({ at_mm }: { at_mm: number[] }) => at_mm)).toEqual([[0], [20]])
    expect(answer.probes[1].series[0]).toEqual([0, expect.closeTo(20, 9)])
    // the exact series; the book reads 282 off a chart
    expect(Math.abs(answer.probes[1].series[1][1] - 279.584)).toBeLessThan(0.1)
    expect(answer.energyError).toBeLessThan(1e-6)
  })

  test('says the same in words', async () => {
    const path = join(folder, 'case.json')
    writeFileSync(path, JSON.stringify(plate))
    const { status, out } = await call(path)
    expect(status).toBe(0)
    expect(out).toMatch(/time s +at 0 mm +at 20 mm\n +0 +20\.00 +20\.00\n +420 /)
  })

  test('names every fault with its place, and answers nothing', async () => {
    const { status, out, told } = await solve({
      material: {
        ...plate.material,
        conductivity_W_mK: [
          [100, 1],
          [20, 1],
        ],
        reactions: [
          { from_C: 100, to_C: 200, heat_J_kg: 1000 },
          { from_C: 150, to_C: 250, heat_J_kg: 1000 },
          { from_C: 400, to_C: 300, heat_J_kg: 1000 },
        ],
      },
      probes_mm: [[21], [0, 0], [-20]],
      times_s: [60, 30],
    })
    expect(status).toBe(2)
    expect(told).toHaveLength(1)
    expect(placesIn(out)).toEqual([
      '/material/conductivity_W_mK/1',
      '/material/reactions/2/to_C',
      '/material/reactions/1/from_C',
      '/probes_mm/0/0',
      '/probes_mm/1',
      '/times_s/1',
    ])
    for (const { remedy } of JSON.parse(out).problems) expect(remedy.length).toBeGreaterThan(10)
  })

  test.each([
    ['a negative time', { times_s: [-1, 5] }, '/times_s/0'],
    ['no density', { material: { ...plate.material, density_kg_m3: 0 } }, '/material/density_kg_m3'],
    [
      'an absurd conductivity',
      { material: { ...plate.material, conductivity_W_mK: 1e9 } },
      '/material/conductivity_W_mK',
    ],
    ['colder than can be', { initial_C: -300 }, '/initial_C'],
    [
      'an emissivity over 1',
      { boundary: { h_W_m2K: 1, emissivity: 2, ambient_C: 20 } },
      '/boundary/emissivity',
    ],
    ['an unknown shape', { geometry: { shape: 'cone', radius_mm: 3 } }, '/geometry/shape'],
    ['a body without size', { geometry: { shape: 'sphere', radius_mm: 0 } }, '/geometry/radius_mm'],
    ['a misspelt key', { material: { ...plate.material, colour: 'red' } }, '/material'],
    [
      'surroundings that go back in time',
      {
        boundary: {
          h_W_m2K: 9,
          ambient_C: [
            [60, 20],
            [0, 30],
          ],
        },
      },
      '/boundary/ambient_C/1',
    ],
    [
      'a negative radius for a probe',
      { geometry: { shape: 'sphere', radius_mm: 9 }, probes_mm: [[-1]] },
      '/probes_mm/0/0',
    ],
    [
      'heat set free faster than the material can warm',
      { material: { ...plate.material, reactions: [{ from_C: 100, to_C: 101, heat_J_kg: -1e6 }] } },
      '/material/reactions/0/heat_J_kg',
    ],
    ['faces that nothing is said of', { boundary: { ambient_C: 500 } }, '/boundary/h_W_m2K'],
    ['another kind of document', { kind: 'pour' }, '/kind'],
  ])('refuses %s and says where', async (_, change, where) => {
    const { status, out } = await solve(change)
    expect(status).toBe(2)
    expect(placesIn(out).map((place) => place.split(' ').at(-1))).toEqual([where])
  })

  test('a small copper ball left for a fortnight rests at the room’s warmth, and soon', async () => {
    const { status, out } = await solve({
      geometry: { shape: 'sphere', radius_mm: 1 },
      material: { density_kg_m3: 8960, conductivity_W_mK: 400, specificHeat_J_kgK: 385 },
      initial_C: 900,
      boundary: { emissivity: 0.5, ambient_C: 20 },
      probes_mm: [[0]],
      times_s: [1_200_000],
    })
    expect(status).toBe(0)
    const answer = JSON.parse(out)
    expect(answer.probes[0].series[0][1]).toBeCloseTo(20, 3)
    expect(answer.energyError).toBeLessThan(1e-6)
  })

  test('refuses no case, two cases, a case that is not there, and options that make no sense', async () => {
    const path = join(folder, 'case.json')
    writeFileSync(path, JSON.stringify(plate))
    for (const args of [
      [],
      [path, path],
      [join(folder, 'nowhere.json')],
      [path, '--cells', '2.5'],
      [path, '--tolerance', 'fine'],
      [path, '--strange'],
    ])
      expect([args, (await call(...args, '--json')).status]).toEqual([args, 2])
  })

  test('the examples solve', async () => {
    for (const name of ['heat-slab', 'heat-flask']) {
      const path = new URL(`../../examples/${name}.json`, import.meta.url)
      const { status, out } = await call(path.pathname, '--json', '--cells', '12', '--tolerance', '0.5')
      expect([name, status]).toEqual([name, 0])
      const { times_s } = JSON.parse(readFileSync(path, 'utf8'))
      expect(JSON.parse(out).probes[0].series).toHaveLength(times_s.length)
    }
  })
})
