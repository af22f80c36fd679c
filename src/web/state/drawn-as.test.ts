import { expect, test } from 'vitest'
import { heightsSchema } from '../../engine/documents/heights.ts'
import type { Piece } from '../../engine/documents/pour.ts'
import { drawnAs } from './drawn-as.ts'
import { modelPiece, volumePiece } from './new-pour.ts'

const slide = volumePiece([], { name: 'Slide', volume_cm3: 1 })
const tag = modelPiece([slide], { name: 'Tag', file: 'tag.stl', sha256: 'a'.repeat(64) })
const none = new Set<string>()

test('a pour without models is drawn as plain blocks', () => {
  expect(drawnAs([slide], none, none)).toBe('each piece as a plain block of its outside measures')
})

test('pieces drawn as their models are named, and what the rest are', () => {
  expect(drawnAs([slide, tag], new Set([tag.id]), none)).toBe(
    'Tag as modelled, the rest as plain blocks of their outside measures',
  )
  expect(drawnAs([tag], new Set([tag.id]), none)).toBe('each piece as its model')
})

test('a piece that is still a drawing is named as drawn once its relief is there', () => {
  const heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })
  const clasp: Piece = {
    id: 'clasp',
    name: 'Clasp',
    quantity: 1,
    source: { from: 'pattern', file: 'clasp.svg', sha256: 'b'.repeat(64), heights },
  }
  expect(drawnAs([slide, clasp], new Set([clasp.id]), none)).toBe(
    'Clasp as drawn, the rest as plain blocks of their outside measures',
  )
  expect(drawnAs([slide, clasp, tag], new Set([clasp.id, tag.id]), none)).toContain('as drawn or modelled')
  expect(drawnAs([clasp], new Set([clasp.id]), none)).toBe('each piece as its drawing or model has it')
})

test('a model too large to draw is said to be so', () => {
  expect(drawnAs([slide, tag], none, new Set([tag.id]))).toContain('the shape of Tag has too many triangles')
})
