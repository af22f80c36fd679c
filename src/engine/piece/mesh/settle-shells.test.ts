import { expect, test } from 'vitest'
import { cube, together } from '../../../../fixtures/meshes/shapes.ts'
import { settleShells } from './settle-shells.ts'

const asOneShell = (shape: ReturnType<typeof cube>) => {
  const mesh = { positions: Float64Array.from(shape.positions), corners: Uint32Array.from(shape.corners) }
  const triangles = mesh.corners.length / 3
  const map = {
    count: 1,
    shellOf: new Int32Array(triangles),
    turned: new Uint8Array(triangles),
    oneSided: new Set<number>(),
  }
  return settleShells(mesh, map, 1e-6, null)
}

test('one shell that encloses space twice with flush sides, crossing nowhere, is found by its rays', () => {
  const settled = asOneShell(together(cube(10), cube(10, [5, 0, 0])))
  expect(settled.volume_mm3).toBeNull()
  expect(settled.problems.map((p) => [p.kind, p.level])).toEqual([['self-crossing', 'stop']])
  expect(settled.problems[0]?.what).toContain('twice')
})

test('one shell of two bodies apart is sound, and every ray finds one wall on each side', () => {
  const settled = asOneShell(together(cube(10), cube(10, [15, 0, 0])))
  expect(settled.volume_mm3).toBeCloseTo(2000, 9)
  expect(settled.problems).toEqual([])
  expect(settled.probes.length).toBeGreaterThan(950)
  expect(settled.probes.every((p) => p.inside === 1 && p.outside === 0)).toBe(true)
})
