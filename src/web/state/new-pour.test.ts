import { expect, test } from 'vitest'
import { pourSchema } from '../../engine/documents/pour.ts'
import { usualShop } from '../../engine/materials/index.ts'
import { countOfPieces, letterOf, namesFor, newPour, samePiece, weighedPiece } from './new-pour.ts'

test('a pour begun with a weight and a time alone is a sound document', () => {
  const shop = usualShop()
  const piece = weighedPiece([], shop, { name: 'Slide', mass_g: 1.13 })
  const pour = newPour(shop, { name: 'First', castAt: '2026-11-14T15:30:00-07:00', piece })
  expect(pourSchema.safeParse(pour).error?.issues ?? []).toEqual([])
})

test('a new pour is made up from the shelf as soon as the shelf holds metal, and not before', () => {
  const shop = usualShop()
  const fromStock = (lots: typeof shop.lots): boolean => {
    const piece = weighedPiece([], shop, { name: 'Tag', mass_g: 1 })
    return newPour({ ...shop, lots }, { name: 'Tag', castAt: '2026-11-14T15:30:00-07:00', piece }).charge
      .fromStock
  }
  const lot = {
    id: 'grain',
    name: 'Grain',
    kind: 'casting grain' as const,
    mass_g: 120,
    composition: { Ag: 0.925, Cu: 0.075 },
    price_g: 1,
    owner: 'shop',
  }
  expect(fromStock([])).toBe(false)
  expect(fromStock([{ ...lot, mass_g: 0 }])).toBe(false)
  expect(fromStock([lot])).toBe(true)
})

test('a second piece never takes the first one’s id', () => {
  const shop = usualShop()
  const first = weighedPiece([], shop, { name: 'A', mass_g: 1 })
  const second = weighedPiece([first], shop, { name: 'B', mass_g: 1 })
  const again = weighedPiece([second], shop, { name: 'C', mass_g: 1 })
  expect(new Set([first.id, second.id]).size).toBe(2)
  expect(again.id).not.toBe(second.id)
})

test('another of the same keeps wax, sizes and sprue, and takes a name and a weight of its own', () => {
  const shop = usualShop()
  const calipers = {
    length_mm: 24,
    width_mm: 20,
    height_mm: 5,
    thickest_mm: 3,
    thinnest_mm: 1.2,
    section: 'bar' as const,
  }
  const first = {
    ...weighedPiece([], shop, { name: 'Ring', mass_g: 1.2, calipers }),
    quantity: 3,
    gate: { diameter_mm: 3 },
  }
  const second = samePiece([first], first, 1.31)
  if (second === undefined) throw new Error('a weighed wax has another like it')
  const third = samePiece([first, second], second, 1.4)
  expect(second).toMatchObject({
    name: 'Ring 2',
    quantity: 1,
    gate: { diameter_mm: 3 },
    source: { mass_g: 1.31, wax: first.source.wax, calipers },
  })
  expect(third?.name).toBe('Ring 3')
  expect(new Set([first.id, second.id, third?.id]).size).toBe(3)
})

test('letters run from A to Z and go on with AA', () => {
  expect([0, 25, 26, 27].map(letterOf)).toEqual(['A', 'Z', 'AA', 'AB'])
})

test('the name of a pour is not forced on its piece, and either may wait', () => {
  expect(namesFor('Saturday', 'Clasp')).toEqual({ title: 'Saturday', called: 'Clasp' })
  expect(namesFor('', ' Clasp ')).toEqual({ title: 'Clasp', called: 'Clasp' })
  expect(namesFor('Saturday', '')).toEqual({ title: 'Saturday', called: 'Piece A' })
  expect(namesFor('', '').title).toBe('Pour without a name')
})

test('copies count in the list of pours', () => {
  const shop = usualShop()
  const piece = weighedPiece([], shop, { name: 'Slide', mass_g: 1 })
  expect(countOfPieces([piece])).toBe('one piece')
  expect(countOfPieces([piece, { ...piece, quantity: 2 }])).toBe('3 pieces')
})
