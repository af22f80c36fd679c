import { expect, test } from 'vitest'
import { drawingTrouble } from './drawing-file.ts'

const file = (name: string, size = 1000): { name: string; size: number } => ({ name, size })

test('the five kinds of drawing are taken, whatever the case of their endings', () => {
  for (const name of ['clasp.svg', 'clasp.DXF', 'clasp.png', 'clasp.JPG', 'clasp.jpeg', 'clasp.webp'])
    expect(drawingTrouble(file(name))).toBeUndefined()
})

test('what can’t be read is named, with what would work', () => {
  expect(drawingTrouble(undefined)).toContain('No file is chosen yet')
  expect(drawingTrouble(file('IMG_1.HEIC'))).toContain('as JPEG')
  expect(drawingTrouble(file('clasp.pdf'))).toContain('SVG or DXF')
  expect(drawingTrouble(file('clasp.stl'))).toContain('clasp.stl')
  expect(drawingTrouble(file('clasp.svg', 0))).toContain('empty')
  expect(drawingTrouble(file('clasp.png', 1e9))).toContain('60 MB')
})
