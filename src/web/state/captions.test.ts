import { expect, test } from 'vitest'
import { pageOf } from './captions.ts'
import { patternPiece, volumePiece } from './new-pour.ts'

const pieces = [
  patternPiece([], { name: 'Clasp', file: 'clasp.svg', sha256: 'a'.repeat(64) }),
  volumePiece([], { name: 'Tag', volume_cm3: 1 }),
]

test('what is wrong with a drawing is put right on the drawing’s own page', () => {
  for (const path of [
    '/pour/pieces/0/source',
    '/pour/pieces/0/source/carved_g',
    '/pour/pieces/0/source/heights/blank_mm',
  ])
    expect(pageOf(path, 'p', pieces)).toBe(`/pours/p/pattern/${pieces[0]?.id}`)
})

test('its wax, its sprue, and every other piece stay where they were', () => {
  expect(pageOf('/pour/pieces/0/source/wax', 'p', pieces)).toBe('/pours/p/pieces')
  expect(pageOf('/pour/pieces/0/gate/count', 'p', pieces)).toBe('/pours/p/freeze')
  expect(pageOf('/pour/pieces/1/source', 'p', pieces)).toBe('/pours/p/pieces')
  expect(pageOf('/pour/pieces/0/source', 'p')).toBe('/pours/p/pieces')
})
