import { expect, test } from 'vitest'
import { frameOfBounds, frameOfPicture, pathOn, sheetOf } from './frame.ts'
import { photoSetting } from './sheets.ts'

test('up on the drawing is up on the screen, and a press finds its place again', () => {
  const frame = frameOfBounds({ min: [10, 20], max: [60, 50] })
  const [, high] = frame.toView([30, 45])
  const [, low] = frame.toView([30, 25])
  expect(high).toBeLessThan(low)
  const [x, y] = frame.toDrawing(frame.toView([33.25, 41.5]))
  expect(x).toBeCloseTo(33.25, 9)
  expect(y).toBeCloseTo(41.5, 9)
})

test('on a photo the sheet’s corners lie under the marks', () => {
  const corners: [[number, number], [number, number], [number, number], [number, number]] = [
    [100, 90],
    [900, 60],
    [950, 640],
    [70, 600],
  ]
  const picture = { width: 1000, height: 700 }
  const photo = photoSetting({ by: 'sheet', corners_px: corners, width_mm: 127, height_mm: 76.2 })
  const frame = frameOfPicture(picture, sheetOf(photo, picture))
  for (const [place, mark] of [
    [[0, 76.2], corners[0]],
    [[127, 76.2], corners[1]],
    [[127, 0], corners[2]],
    [[0, 0], corners[3]],
  ] as const) {
    const [x, y] = frame.toView([place[0], place[1]])
    expect(x).toBeCloseTo(mark[0], 6)
    expect(y).toBeCloseTo(mark[1], 6)
  }
})

test('marks that can be no rectangle leave the photo without a scale', () => {
  const picture = { width: 1000, height: 700 }
  const photo = photoSetting({
    by: 'sheet',
    corners_px: [
      [100, 90],
      [900, 60],
      [70, 600],
      [950, 640],
    ],
    width_mm: 127,
    height_mm: 76.2,
  })
  expect(sheetOf(photo, picture)).toBeUndefined()
})

test('an open line is not closed', () => {
  const frame = frameOfBounds({ min: [0, 0], max: [10, 10] })
  const line = Float64Array.of(0, 0, 10, 0, 10, 10)
  expect(pathOn(frame, line, false)).not.toContain('Z')
  expect(pathOn(frame, line, true)).toMatch(/^M.+L.+L.+Z$/)
})
