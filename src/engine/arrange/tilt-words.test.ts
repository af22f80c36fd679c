import { expect, test } from 'vitest'
import { tiltWords } from './tilt-words.ts'

test('a sprue is straight up, level, or so many degrees off level', () => {
  expect([90, 89.6, 89.4, 30, 0.4, -0.4, -12, -90].map(tiltWords)).toEqual([
    'straight up',
    'straight up',
    '89° above level',
    '30° above level',
    'level',
    'level',
    '12° below level',
    'straight down',
  ])
})
