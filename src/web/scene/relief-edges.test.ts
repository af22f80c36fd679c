import { expect, test } from 'vitest'
import { edgesOf } from './relief-edges.ts'

/** A unit cube of twelve triangles, outward. */
const cube = {
  positions: Float64Array.of(0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1),
  corners: Uint32Array.of(
    ...[0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5],
    ...[2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7],
  ),
}

test('a cube has twelve edges, all creases, and no diagonal of a face is one', () => {
  const { ends, crease, one, other } = edgesOf(cube)
  expect(crease.length / 2).toBe(12)
  expect([...crease].every((value) => value === 1)).toBe(true)
  for (let at = 0; at < ends.length; at += 6) {
    const length = Math.hypot(...[0, 1, 2].map((axis) => (ends[at + 3 + axis] ?? 0) - (ends[at + axis] ?? 0)))
    expect(length).toBeCloseTo(1, 9)
    const between = [0, 1, 2].reduce((sum, axis) => sum + (one[at + axis] ?? 0) * (other[at + axis] ?? 0), 0)
    expect(between).toBeCloseTo(0, 6)
  }
})

test('a many-sided column keeps the edges between its sides, as smooth ones that may show as an outline', () => {
  const sides = 60
  const positions: number[] = [0, 0, 0, 0, 0, 2]
  for (let k = 0; k < sides; k += 1) {
    const angle = (2 * Math.PI * k) / sides
    positions.push(Math.cos(angle), Math.sin(angle), 0, Math.cos(angle), Math.sin(angle), 2)
  }
  const corners: number[] = []
  for (let k = 0; k < sides; k += 1) {
    const [a, b] = [2 + 2 * k, 2 + 2 * ((k + 1) % sides)]
    corners.push(0, b, a, 1, a + 1, b + 1, a, b, b + 1, a, b + 1, a + 1)
  }
  const { crease } = edgesOf({ positions: Float64Array.from(positions), corners: Uint32Array.from(corners) })
  const creases = [...crease].filter((value) => value === 1).length / 2
  expect(creases).toBe(2 * sides)
  expect(crease.length / 2 - creases).toBe(sides)
})
