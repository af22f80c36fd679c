import { describe, expect, test } from 'vitest'
import { celsius, hours, toCelsius } from '../../quantity/index.ts'
import { type DesignQuestion, designBurnout, holdAndReplan } from './index.ts'

const question: DesignQuestion = {
  variant: 'gentle',
  flask: {
    radius: 0.0381,
    height: 0.0889,
    wall: 0.0016,
    waxShare: 0.03,
    conductivity: 0.45,
    wetConductivity: 1,
    heat: 1000,
    hemihydrate: 0.3,
    ratio: 0.38,
    particle: 2550,
    waterDoubt: 1,
    boiling: celsius(100),
    film: 8,
    emissivity: 0.8,
  },
  spread: { conductivity: 0.076, film: 2.1, waterDoubt: 0.09 },
  melts: { pattern: { at: celsius(112), u: 5 }, sprue: { at: celsius(60), u: 6 } },
  kiln: {
    room: celsius(20),
    first: celsius(149),
    drying: celsius(205),
    top: celsius(704),
    casting: celsius(480),
    rise: 167 / 3600,
    fall: 110 / 3600,
  },
  ask: {
    wax: hours(2),
    leastDrying: 1800,
    clean: { gentle: hours(2), shortest: hours(1) },
    leastSoak: { gentle: hours(1), shortest: 1800 },
  },
}
const designed = designBurnout(question)

describe('a kiln that stops', () => {
  test('for an hour in the drying hold moves the cast by more than nothing and less than three hours', () => {
    const again = holdAndReplan(question, designed, hours(4), hours(1))
    expect(again.stages.map(({ id }) => id)).toEqual(['drying', 'top', 'casting'])
    expect(toCelsius(again.kiln)).toBeCloseTo(205 - 110, 0)
    expect(again.later).toBeGreaterThan(1800)
    expect(again.later).toBeLessThan(hours(3))
  })

  test('at the top keeps the time that the core has stood where carbon burns', () => {
    const nearEnd = designed.totals.gentle - hours(3.6)
    const [top] = holdAndReplan(question, designed, nearEnd, hours(1)).stages
    expect(top?.id).toBe('top')
    expect(top?.hold).toBeLessThanOrEqual(designed.holds.top)
  })

  test('for longer falls further and costs more', () => {
    const later = [0.5, 1, 3, 8].map((stop) => holdAndReplan(question, designed, hours(8), hours(stop)))
    for (const [index, one] of later.slice(1).entries()) {
      expect(one.later).toBeGreaterThan(later[index]?.later ?? Number.NaN)
      expect(one.kiln).toBeLessThanOrEqual(later[index]?.kiln ?? Number.NaN)
      expect(one.kiln).toBeGreaterThanOrEqual(question.kiln.room)
    }
  })

  test('for no time, asked at the start, is the program itself', () => {
    const again = holdAndReplan(question, designed, 0, 0)
    expect(again.stages.map(({ id }) => id)).toEqual(['wax', 'drying', 'top', 'casting'])
    expect(Math.abs(again.later)).toBeLessThanOrEqual(900)
  })

  test('keeps the casting moment where it can, and waits for it at the casting heat', () => {
    const [at, stop] = [hours(4), hours(1)]
    const soonest = holdAndReplan(question, designed, at, stop, 0)
    expect(soonest.waits).toBe(0)
    expect(soonest.later).toBeCloseTo(soonest.total, 9)
    const wished = soonest.total + hours(3)
    const late = holdAndReplan(question, designed, at, stop, wished)
    expect(late.later).toBe(0)
    expect(late.total).toBeCloseTo(wished, 6)
    expect(late.waits).toBeCloseTo(hours(3), 6)
    const holds = (one: typeof late): number[] => one.stages.map(({ hold }) => hold)
    expect((holds(late).at(-1) ?? 0) - (holds(soonest).at(-1) ?? 0)).toBeCloseTo(hours(3), 6)
    expect(holds(late).slice(0, -1)).toEqual(holds(soonest).slice(0, -1))
  })

  test('gives the top again what the design added for a core that comes late', () => {
    const without = holdAndReplan(question, { ...designed, late: 0 }, hours(4), hours(1))
    const within = holdAndReplan(question, { ...designed, late: 900 }, hours(4), hours(1))
    const top = ({ stages }: typeof within): number =>
      stages.find(({ id }) => id === 'top')?.hold ?? Number.NaN
    expect(top(within) - top(without)).toBe(900)
  })

  test('says of a hold that even the longest does not do', () => {
    // a kiln that never gets the core to where carbon burns
    const cold = { ...question, kiln: { ...question.kiln, top: celsius(560) } }
    const again = holdAndReplan(cold, designBurnout(cold), hours(4), hours(1))
    expect(again.stages.find(({ id }) => id === 'top')?.cut).toBe(true)
    expect(again.stages.find(({ id }) => id === 'casting')?.cut).toBeUndefined()
  })
})
