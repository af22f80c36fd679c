import { describe, expect, it } from 'vitest'
import {
  fitOf,
  fromUser,
  leastLengthOf,
  lengthBeside,
  METRIC,
  root,
  say,
  toUser,
  UNITS,
  type Unit,
  type UnitChoice,
  writeChance,
  writeDuration,
  writeFigure,
  writeQuantity,
  writeWords,
} from './index.ts'

const INCHES: UnitChoice = { ...METRIC, length: 'in', temperature: 'F', mass: 'oz t' }

describe('units at the edge', () => {
  it('come back the same from every unit in every choice', () => {
    for (const unit of Object.keys(UNITS) as Unit[])
      for (const choice of [METRIC, INCHES, { ...METRIC, mass: 'dwt', pressure: 'kPa' } as const])
        for (const value of [0.3, 2, 500])
          expect(fromUser(toUser(value, unit, choice), unit, choice)).toBeCloseTo(value, 9)
  })

  it('leave powder and water in grams when metal is read in troy ounces', () => {
    const powder = { value: 0.559, unit: 'kg', plainMass: true } as const
    expect(writeFigure(powder, INCHES)).toBe('559.0\u00a0g')
    expect(writeFigure({ value: 0.0311034768, unit: 'kg' }, INCHES)).toBe('1.000\u00a0oz t')
  })

  it('never show less than a length that something is to be made by', () => {
    expect(writeFigure(leastLengthOf(0.08421), METRIC)).toBe('84.3\u00a0mm')
    expect(writeFigure(leastLengthOf(0.08421), INCHES)).toBe('3.32\u00a0in')
    expect(writeFigure(leastLengthOf(0.1016), INCHES)).toBe('4.00\u00a0in')
  })

  it('write a sentence anew in each choice', () => {
    const words = say`The clasp is ${{ value: 0.00635, unit: 'm' }} from the wall at ${{ value: 977.594, unit: 'K' }}.`
    expect(writeWords(words, METRIC)).toBe('The clasp is 6.35\u00a0mm from the wall at 704\u00a0°C.')
    expect(writeWords(words, INCHES)).toBe('The clasp is 0.25\u00a0in from the wall at 1,300\u00a0°F.')
  })

  it('read a fit as closely in inches as in millimetres, whatever its size', () => {
    const seat = root({ id: 's', title: 's', unit: 'm', value: 0.01829, kind: 'asked', source: 'test' })
    expect(writeFigure(fitOf(seat), METRIC)).toBe('18.29\u00a0mm')
    // 18.29 / 25.4 = 0.7201
    expect(writeFigure(fitOf(seat), INCHES)).toBe('0.720\u00a0in')
  })

  it('never show a small gap as none', () => {
    expect(writeFigure({ value: 0.0001, unit: 'm' }, INCHES)).toBe('0.004\u00a0in')
  })

  it('say a force as the weight that pulls as hard, and the swing of an arm as a weight let fall', () => {
    // 1 kgf is 9.80665 N and 1 lbf 4.448222 N; 1 ft lbf is 1.355818 J (NIST SP 811, appendix B.8)
    expect(writeFigure({ value: 9.80665, unit: 'N' }, METRIC)).toBe('1.00\u00a0kg of pull')
    expect(writeFigure({ value: 4.448222, unit: 'N' }, INCHES)).toBe('1.00\u00a0lb of pull')
    expect(writeFigure({ value: 1.355818, unit: 'J' }, INCHES)).toBe('1.00\u00a0lb dropped a foot')
    expect(writeFigure({ value: 9.80665, unit: 'J' }, METRIC)).toBe('1.00\u00a0kg dropped a metre')
  })

  it('show the heat of a kiln in kWh and of a melt in kJ', () => {
    expect(writeFigure({ value: 19.8e6, unit: 'J' }, METRIC)).toContain('kWh')
    expect(writeFigure({ value: 48_300, unit: 'J' }, METRIC)).toContain('kJ')
  })
})

describe('water for a bucket', () => {
  it('is read in litres or gallons, never to the gram', () => {
    const bucket = { value: 0.014433, unit: 'm3 water' } as const
    expect(writeFigure(bucket, METRIC)).toBe('14.4\u00a0litres')
    // a US gallon is 3.785412 L (NIST SP 811, appendix B.8): 14.433 / 3.785412 = 3.813
    expect(writeFigure(bucket, INCHES)).toBe('3.81\u00a0gallons')
  })
})

describe('a quantity in words', () => {
  const of = (value: number, u: number) =>
    root({ id: 'a', title: 'a', unit: 'kg', value, u, kind: 'asked', source: 'test' })

  it('shows no more digits than its range supports', () => {
    expect(writeQuantity(of(0.1209, 0.002), METRIC).value).toBe('121')
    expect(writeQuantity(of(0.1209, 0.0002), METRIC).value).toBe('120.9')
  })
})

describe('times and chances', () => {
  it('are said as a person says them', () => {
    expect(writeDuration(45)).toBe('45 s')
    expect(writeDuration(490)).toBe('8 min 10 s')
    expect(writeDuration(9000)).toBe('2 h 30 min')
  })

  it('are counts, and very small ones name what dominates', () => {
    expect(writeChance(0.0125)).toBe('1 in 80')
    expect(writeChance(0.0001)).toBe('very small; blunders dominate')
    expect(writeChance(Number.NaN)).toBe('not known')
  })
})

describe('two lengths beside one another', () => {
  const INCHES = { ...METRIC, length: 'in' } as const
  it.each([
    [6.345, 6.35, METRIC, '6.345 mm', '6.350 mm'],
    [6.3, 6.35, METRIC, '6.30 mm', '6.35 mm'],
    [6.3, 6.35, INCHES, '0.248 in', '0.250 in'],
    [5.2, 6.35, INCHES, '0.20 in', '0.25 in'],
    [22.5, 22.52, METRIC, '22.50 mm', '22.52 mm'],
  ])('%f and %f mm are told apart', (one, other, choice, first, second) => {
    const told = say`${lengthBeside(one / 1000, other / 1000)} ${lengthBeside(other / 1000, one / 1000)}`
    expect(writeWords(told, choice).replaceAll('\u202f', ' ').replaceAll('\u00a0', ' ')).toBe(
      `${first} ${second}`,
    )
  })
})
