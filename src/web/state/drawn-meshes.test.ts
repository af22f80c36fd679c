import { expect, test } from 'vitest'
import { heightsSchema } from '../../engine/documents/heights.ts'
import { shapeKey } from '../../engine/piece/mesh-facts.ts'
import { keepMesh, meshOfDrawing, onMeshKept, type PatternSource } from './drawn-meshes.ts'

const drawn = (blank_mm: number, letter = 'a'): PatternSource => ({
  from: 'pattern',
  file: 'clasp.svg',
  sha256: letter.repeat(64),
  heights: heightsSchema.parse({ kind: 'heights', version: 1, blank_mm }),
})
const mesh = () => ({ positions: [0, 0, 0], corners: [0, 0, 0] })
const keep = (source: PatternSource) => {
  const made = mesh()
  keepMesh(shapeKey(source) ?? '', source.sha256 ?? '', made)
  return made
}

test('two pieces of one drawing at other heights each have their own solid', () => {
  const [low, high] = [keep(drawn(2)), keep(drawn(3))]
  expect(meshOfDrawing(drawn(2))).toBe(low)
  expect(meshOfDrawing(drawn(3))).toBe(high)
})

test('while newer heights are worked out the last solid of the same drawing stands, and no other', () => {
  let told = 0
  const stop = onMeshKept(() => {
    told += 1
  })
  const last = keep(drawn(2, 'b'))
  stop()
  expect(told).toBe(1)
  expect(meshOfDrawing(drawn(2.5, 'b'))).toBe(last)
  expect(meshOfDrawing(drawn(2.5, 'c'))).toBeUndefined()
})

test('solids that nobody looks at any more are let go', () => {
  for (let n = 1; n <= 20; n += 1) keep(drawn(n, 'd'))
  const newest = meshOfDrawing(drawn(20, 'd'))
  // the first is gone, and the newest of the drawing stands in for it
  expect(meshOfDrawing(drawn(1, 'd'))).toBe(newest)
})
