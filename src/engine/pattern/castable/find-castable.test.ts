import { beforeAll, describe, expect, test } from 'vitest'
import { regionOf } from '../../../../fixtures/drawings/regions.ts'
import { loadReliefSolids } from '../../../solids/relief-solids.ts'
import { type HeightsInput, heightsSchema } from '../../documents/index.ts'
import type { Region } from '../drawing.ts'
import { turned } from '../loops.ts'
import { buildRelief } from '../relief/index.ts'
import { ellipse, rectangle } from '../relief/loops.ts'
import type { ReliefSolids } from '../solids.ts'
import { type CastableFindings, findCastable, measureThickness } from './index.ts'
import { findUndercuts } from './undercuts.ts'
import { treeOf, wallsOf } from './walls.ts'

let solids: ReliefSolids
beforeAll(async () => {
  solids = await loadReliefSolids()
})

const find = (regions: readonly Region[], input: Partial<HeightsInput>): CastableFindings => {
  const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3, ...input })
  const relief = buildRelief(regions, heights, solids)
  expect(relief.closed).toBe(true)
  return findCastable(relief, regions, heights)
}
const kinds = ({ spots }: CastableFindings): string[] => [...new Set(spots.map(({ kind }) => kind))]
const flat = (height_mm: number) => ({ role: 'ground', height_mm }) as const
const raised = (height_mm: number) => ({ role: 'raised', height_mm }) as const

describe('what can be cast', () => {
  test('is a plate of even thickness, which reads its own thickness and no spot', () => {
    const found = find([regionOf('tag', rectangle(0, 0, 30, 20))], { blank_mm: 2 })
    expect(found.spots).toEqual([])
    expect(found.thickness_mm?.usual).toBeCloseTo(2, 1)
    expect(found.thickness_mm?.thinnest).toBeCloseTo(2, 1)
    expect(found.wallByPoint_mm.length).toBeGreaterThan(7)
    expect([...found.wallByPoint_mm].every((wall) => Math.abs(wall - 2) < 0.1)).toBe(true)
  })

  test('is not a ground cut down to half a millimetre', () => {
    const eye = ellipse([15, 10], 8, 8, 90)
    const regions = [regionOf('plate', rectangle(0, 0, 30, 20), [turned(eye)]), regionOf('eye', eye)]
    const found = find(regions, { blank_mm: 2, regions: { eye: flat(0.5) } })
    expect(kinds(found)).toEqual(['too-thin'])
    const [spot] = found.spots
    expect(spot?.size).toBeCloseTo(0.5, 1)
    expect(Math.hypot((spot?.at_mm[0] ?? 0) - 15, (spot?.at_mm[1] ?? 0) - 10)).toBeLessThan(4.2)
  })

  test('is a pointed leaf on sound ground, wherever it stands and whatever stands beside it', () => {
    const leaf = (x: number): Float64Array => Float64Array.from([x, 10, x + 5, 8.4, x + 9, 10, x + 5, 11.6])
    const on = (leaves: readonly Float64Array[]): Region[] => [
      regionOf('ground', rectangle(0, 0, 40, 20), leaves.map(turned)),
      ...leaves.map((loop, i) => regionOf(`leaf-${i}`, loop)),
    ]
    const heights = { regions: { ground: flat(1.3), 'leaf-0': raised(2.2), 'leaf-1': raised(2.2) } }
    const thin = (regions: readonly Region[]) =>
      find(regions, heights).spots.filter(({ kind }) => kind === 'too-thin')
    expect(thin(on([leaf(3)]))).toEqual([])
    expect(thin(on([leaf(3.3), leaf(22)]))).toEqual([])
  })

  test('is not an upright fin half a millimetre thick', () => {
    const fin = rectangle(5, 9.75, 20, 0.5)
    const regions = [regionOf('plate', rectangle(0, 0, 30, 20), [turned(fin)]), regionOf('fin', fin)]
    const found = find(regions, { regions: { plate: flat(1.5), fin: raised(4) } })
    expect(kinds(found)).toEqual(['too-thin'])
    expect(found.spots[0]?.size).toBeCloseTo(0.5, 3)
  })

  test('is not a lump of many times the usual section', () => {
    const lump = rectangle(10, 5, 9, 9)
    const regions = [regionOf('plate', rectangle(0, 0, 40, 30), [turned(lump)]), regionOf('lump', lump)]
    const found = find(regions, { blank_mm: 1.5, regions: { lump: raised(8) } })
    expect(kinds(found)).toEqual(['too-thick'])
    expect(found.spots[0]?.size).toBeGreaterThan(6)
    expect(found.thick_mm).toBeCloseTo(3, 1)
  })

  test.each([
    [0.5, 0.8, true],
    [0.5, 2.6, false],
    [1.2, 0.8, false],
  ])('judges a groove %f mm wide down to %f mm by width and depth', (width, ground, told) => {
    const groove = rectangle(10, 5, width, 12)
    const regions = [regionOf('plate', rectangle(0, 0, 30, 20), [turned(groove)]), regionOf('groove', groove)]
    const found = find(regions, { regions: { groove: flat(ground) } })
    expect(kinds(found)).toEqual(told ? ['narrow-groove'] : [])
    if (told) expect(found.spots[0]?.size).toBeCloseTo(width, 2)
  })

  test('is not a ground that runs out between walls at 25 degrees; a square one is', () => {
    const wedge = (deg: number): Region[] => {
      const [x, y] = [12 * Math.cos((deg * Math.PI) / 180), 12 * Math.sin((deg * Math.PI) / 180)]
      const cut = Float64Array.from([5, 4, 17, 4, 5 + x, 4 + y])
      return [regionOf('plate', rectangle(0, 0, 30, 20), [turned(cut)]), regionOf('cut', cut)]
    }
    const sharp = find(wedge(25), { regions: { cut: flat(1.5) } }).spots.filter(
      ({ kind }) => kind === 'sharp-corner',
    )
    expect(sharp).toHaveLength(1)
    expect(sharp[0]?.size).toBeCloseTo(25, 1)
    expect(sharp[0]?.at_mm).toEqual([5, 4])
    expect(kinds(find(wedge(90), { regions: { cut: flat(1.5) } }))).not.toContain('sharp-corner')
  })

  test('is not an outline notched from outside at 20 degrees', () => {
    const dx = 6 * Math.tan((10 * Math.PI) / 180)
    const notched = Float64Array.from([0, 0, 20, 0, 20, 10, 10 + dx, 10, 10, 4, 10 - dx, 10, 0, 10])
    const found = find([regionOf('tag', notched)], { blank_mm: 2 })
    expect(kinds(found)).toContain('sharp-corner')
    expect(found.spots.find(({ kind }) => kind === 'sharp-corner')?.size).toBeCloseTo(20, 1)
  })

  test('has an undercut under a cap that overhangs, and none on a stepped block', () => {
    const mesh = solids.work((shop) => {
      const plate = shop.prism([rectangle(0, 0, 30, 20)], 0, 2)
      const stem = shop.prism([rectangle(12, 8, 4, 4)], 1, 5)
      const cap = shop.prism([rectangle(10, 6, 8, 8)], 4, 6)
      return {
        overhung: shop.mesh(shop.union([plate, stem, cap])),
        stepped: shop.mesh(shop.union([plate, stem])),
      }
    })
    const [spot] = findUndercuts(mesh.overhung, 5)
    expect(spot?.kind).toBe('undercut')
    expect(spot?.size).toBeCloseTo(90, 3)
    expect(findUndercuts(mesh.stepped, 5)).toEqual([])
  })
})

describe('the thickness that a plan takes', () => {
  const leaf = ellipse([20, 12], 18, 12, 90)
  const plate = [regionOf('plate', rectangle(0, 0, 40, 24), [turned(leaf)]), regionOf('leaf', leaf)]
  const domed = { shape: 'domed', width_mm: 5, height_mm: 1 } as const
  const heights = heightsSchema.parse({
    kind: 'heights',
    version: 1,
    blank_mm: 1.6,
    regions: { leaf: { role: 'raised', height_mm: 3, edge: domed } },
  })

  test('is what the whole search says, and within 3 % of what six times as many places say', () => {
    const relief = buildRelief(plate, heights, solids)
    const { mesh } = relief
    const taken = measureThickness(relief) ?? expect.fail('it should have a thickness')
    expect(taken).toEqual(findCastable(relief, plate, heights).thickness_mm)
    const many = wallsOf(mesh, treeOf(mesh), 12_000)
      .map(({ thickness_mm }) => thickness_mm)
      .sort((a, b) => a - b)
    const at = (share: number): number => many[Math.round(share * (many.length - 1))] ?? Number.NaN
    expect(Math.abs(taken.thinnest / at(0.05) - 1)).toBeLessThan(0.03)
    expect(Math.abs(taken.usual / at(0.5) - 1)).toBeLessThan(0.03)
    expect(Math.abs(taken.thickest / at(0.95) - 1)).toBeLessThan(0.03)
  })
})
