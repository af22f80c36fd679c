import { expect, test } from 'vitest'
import type { Pour } from '../engine/documents/index.ts'
import type { TriangleMesh } from '../engine/piece/mesh/index.ts'
import { samplePour, sampleWax } from '../engine/sample-pour.ts'
import { meshShelf } from './mesh-shelf.ts'

const source: Pour['pieces'][number]['source'] = {
  from: 'mesh',
  file: 'tag.stl',
  sha256: 'a'.repeat(64),
  units: 'mm',
}
const pour = samplePour({ pieces: [{ ...sampleWax('tag', 1), source }] })
const mesh: TriangleMesh = { positions: new Float64Array(9), corners: Uint32Array.of(0, 1, 2) }

test('a model that did not come is asked for again, and one that came is not', async () => {
  const answers = [undefined, mesh]
  let asked = 0
  const read = meshShelf(async () => {
    asked += 1
    return answers.shift()
  })
  expect(Object.keys(await read(pour))).toEqual([])
  expect(Object.values(await read(pour))).toEqual([mesh])
  expect(Object.values(await read(pour))).toEqual([mesh])
  expect(asked).toBe(2)
})
