import { expect, test } from 'vitest'
import { METRIC, writeWords } from './index.ts'
import { sayLengths, wordsOf } from './say-lengths.ts'

test('a sentence is in one unit, whatever lengths it holds', () => {
  const said = 'a stone of 18 mm x 12.7 mm wants 0.254 mm; leave 1 to 1.5 mm, 3 x 25.4 mm or 20 mm2 at 45°'
  expect(sayLengths(said, 'mm')).toBe(said)
  expect(sayLengths(said, 'in')).toBe(
    'a stone of 0.709 in x 0.500 in wants 0.010 in; leave 0.039 to 0.059 in, 0.118 x 1.000 in or 20 mm2 at 45°',
  )
})

test('as words, a sentence is written in the unit that it is read in', () => {
  const words = wordsOf('A sprue is 3.2 mm across (2.4 to 4.5 mm), fed at 0.5 m/s')
  expect(writeWords(words, METRIC)).toBe('A sprue is 3.2 mm across (2.4 to 4.5 mm), fed at 0.5 m/s')
  expect(writeWords(words, { ...METRIC, length: 'in' })).toBe(
    'A sprue is 0.126\u00a0in across (0.094 to 0.177\u00a0in), fed at 1.64\u00a0ft per s',
  )
  expect(wordsOf('nothing long')).toEqual(['nothing long'])
  for (const none of ['20 mm³ of it', '3 mm² of face', 'over 1,234 mm wide']) {
    expect(wordsOf(none)).toEqual([none])
    expect(sayLengths(none, 'in')).toBe(none)
  }
})

test('what is asked at least is never a hair less in inches', () => {
  // 3.1 mm is 0.12205 in, 6.4 mm is 0.25197 in
  for (const [said, inches] of [
    ['make it 3.1 mm or more', 'make it 0.123 in or more'],
    ['of its own, 3.1 mm across or more', 'of its own, 0.123 in across or more'],
    ['4.1 mm apart where 3.1 mm is needed', '0.161 in apart where 0.123 in is needed'],
    [
      'goes 3.1 mm past it, where 3.1 mm to it is needed',
      'goes 0.122 in past it, where 0.123 in to it is needed',
    ],
    ['take at least 3.1 mm, or 3.1 mm if bent', 'take at least 0.123 in, or 0.122 in if bent'],
    ['3.1 x 6.4 mm or more', '0.123 x 0.252 in or more'],
    ['make it 25.4 mm or more', 'make it 1.000 in or more'],
  ] as const) {
    expect(sayLengths(said, 'in')).toBe(inches)
    const inWords = writeWords(wordsOf(said), { ...METRIC, length: 'in' })
    expect(inWords.replaceAll('\u00a0', ' ')).toBe(inches)
  }
})

test('in millimetres nothing is written otherwise, and a name that holds a length stays a name', () => {
  const said = 'Ring 18 mm and Bar 3 x 5 mm tag 2 are 0.3 mm apart where 1 mm is needed'
  const names = ['Ring 18 mm', 'Bar 3 x 5 mm tag']
  const inches = 'Ring 18 mm and Bar 3 x 5 mm tag 2 are 0.012 in apart where 0.040 in is needed'
  expect(writeWords(wordsOf(said), METRIC)).toBe(said)
  expect(writeWords(wordsOf(said, names), METRIC)).toBe(said)
  expect(sayLengths(said, 'in', names)).toBe(inches)
  expect(writeWords(wordsOf(said, names), { ...METRIC, length: 'in' }).replaceAll('\u00a0', ' ')).toBe(inches)
  // a piece that is called by a length alone hides no length
  expect(sayLengths('make it 3 mm wide', 'in', ['3 mm'])).toBe('make it 0.118 in wide')
})

test('a speed is in feet a second where lengths are in inches', () => {
  // a foot is 304.8 mm
  const said = 'at a gate speed of 0.5 m/s, and 9.81 m/s2'
  expect(sayLengths(said, 'mm')).toBe(said)
  expect(sayLengths(said, 'in')).toBe('at a gate speed of 1.64\u00a0ft per s, and 9.81 m/s2')
})
