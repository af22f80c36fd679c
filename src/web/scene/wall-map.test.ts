import { expect, test } from 'vitest'
import { mapWalls } from './wall-map.ts'

const limits = { thin_mm: 0.8, thick_mm: 4 }

test('a plate measured here and there is equally thick all over its map, holes included', () => {
  const places: number[] = []
  for (let x = 0; x <= 20; x += 1.7) for (let y = 0; y <= 4; y += 1.3) places.push(x, y, 2, 2)
  // far away from the rest, so that cells between have nothing near them
  places.push(20, 30, 2, 2)
  const map = mapWalls({ measured_mm: Float32Array.from(places), ...limits })
  expect(map).toBeDefined()
  for (const value of map?.values ?? []) expect(value).toBeCloseTo(2, 5)
})

test('a step from thin to thick stays where it is', () => {
  const places: number[] = []
  for (let x = 0; x <= 20; x += 0.4) for (let y = 0; y <= 10; y += 0.4) places.push(x, y, 0, x < 10 ? 1 : 3)
  const map = mapWalls({ measured_mm: Float32Array.from(places), ...limits })
  if (map === undefined) throw new Error('nothing was mapped')
  const at = (x: number, y: number): number => {
    const column = Math.floor(((x - map.from[0]) / map.span[0]) * map.across)
    const row = Math.floor(((y - map.from[1]) / map.span[1]) * map.up)
    return map.values[row * map.across + column] ?? Number.NaN
  }
  expect(at(3, 5)).toBeCloseTo(1, 2)
  expect(at(17, 5)).toBeCloseTo(3, 2)
})

test('nothing measured is no map', () => {
  expect(mapWalls({ measured_mm: new Float32Array(0), ...limits })).toBeUndefined()
})
