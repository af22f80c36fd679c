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
    const again = holdAndReplan(question, designed, { at: hours(4), stopped: hours(1) })
    expect(again.stages.map(({ id }) => id)).toEqual(['drying', 'top', 'casting'])
    expect(toCelsius(again.kiln)).toBeCloseTo(205 - 110, 0)
    expect(again.later).toBeGreaterThan(1800)
    expect(again.later).toBeLessThan(hours(3))
  })

  test('at the top keeps the time that the core has stood where carbon burns', () => {
    const nearEnd = designed.totals.gentle - hours(3.6)
    const [top] = holdAndReplan(question, designed, { at: nearEnd, stopped: hours(1) }).stages
    expect(top?.id).toBe('top')
    expect(top?.hold).toBeLessThanOrEqual(designed.holds.top)
  })

  test('for longer falls further and costs more', () => {
    const later = [0.5, 1, 3, 8].map((stop) =>
      holdAndReplan(question, designed, { at: hours(8), stopped: hours(stop) }),
    )
    for (const [index, one] of later.slice(1).entries()) {
      expect(one.later).toBeGreaterThan(later[index]?.later ?? Number.NaN)
      expect(one.kiln).toBeLessThanOrEqual(later[index]?.kiln ?? Number.NaN)
      expect(one.kiln).toBeGreaterThanOrEqual(question.kiln.room)
    }
  })

  test('for no time, asked at the start, is the program itself', () => {
    const again = holdAndReplan(question, designed, { at: 0, stopped: 0 })
    expect(again.stages.map(({ id }) => id)).toEqual(['wax', 'drying', 'top', 'casting'])
    expect(Math.abs(again.later)).toBeLessThanOrEqual(900)
  })
})

describe('a caster who is late', () => {
  const total = designed.totals.gentle

  test('has a flask that waits at casting heat until the moment wished now', () => {
    const again = holdAndReplan(question, designed, { at: hours(9), stopped: 0, wished: total + hours(3) })
    expect(again.later).toBeCloseTo(hours(3), 6)
    expect(again.total).toBeCloseTo(total + hours(3), 6)
    const waits = again.stages.at(-1)
    expect(waits?.id).toBe('casting')
    expect(waits?.hold).toBeGreaterThan(designed.holds.casting + hours(2.5))
  })

  test('keeps the moment that stood where nothing is wished, and is never told of one that is sooner', () => {
    for (const at of [0, 2, 5, 8, 11].map(hours))
      expect(holdAndReplan(question, designed, { at, stopped: 0 }).later).toBeGreaterThanOrEqual(0)
  })

  test('who wishes for too soon a moment is given the soonest there is', () => {
    const again = holdAndReplan(question, designed, { at: hours(9), stopped: hours(1), wished: hours(9.5) })
    expect(again.total).toBe(again.soonest)
    expect(again.soonest).toBeGreaterThan(hours(9.5))
  })
})

describe('what is still to come after a stop', () => {
  test('burns the core clean at its latest, as the program itself does', () => {
    // where other things than its conductivity are unsure, the program holds its top longer than the slow
    // flask alone would ask
    const wide: DesignQuestion = {
      ...question,
      variant: 'shortest',
      flask: { ...question.flask, radius: 0.06, height: 0.14 },
      spread: { waterDoubt: 0.02, heat: 200, ratio: 0.06, hemihydrate: 0.06, wetConductivity: 0.2 },
    }
    const own = designBurnout(wide)
    const top = holdAndReplan(wide, own, { at: 0, stopped: 0 }).stages.find(({ id }) => id === 'top')
    expect(Math.abs((top?.hold ?? Number.NaN) - own.holds.top)).toBeLessThanOrEqual(300)
  })

  test('says of a hold that it was cut, where even the longest does not do', () => {
    // a kiln that can't come above boiling in the drying hold never dries the middle
    const cold = { ...question, kiln: { ...question.kiln, first: celsius(96), drying: celsius(99) } }
    const own = designBurnout(cold)
    expect(own.cut).toContain('drying')
    const again = holdAndReplan(cold, own, { at: hours(3), stopped: hours(1) })
    expect(again.stages.filter(({ cut }) => cut).map(({ id }) => id)).toContain('drying')
    expect(designed.cut).toEqual([])
  })

  test('says when a burnt-out mould has cooled through cristobalite’s inversion, and not before it was hot', () => {
    const at = designed.totals.gentle - hours(2)
    expect(holdAndReplan(question, designed, { at, stopped: hours(48) }).chilled).toBe(true)
    expect(holdAndReplan(question, designed, { at, stopped: hours(0.5) }).chilled).toBe(false)
    // still drying: below the inversion all along
    expect(holdAndReplan(question, designed, { at: hours(3), stopped: hours(48) }).chilled).toBe(false)
  })

  test('for no time, asked near the end of the last hold, does not begin that hold again', () => {
    const whole = designed.totals.gentle
    const { soonest } = holdAndReplan(question, designed, { at: whole - 600, stopped: 0 })
    expect(soonest).toBeLessThanOrEqual(whole + 300)
  })

  test('gives wax that has set again its whole hold', () => {
    const [first] = holdAndReplan(question, designed, { at: hours(2.7), stopped: hours(12) }).stages
    expect(first?.id).toBe('wax')
    expect(first?.hold).toBeGreaterThanOrEqual(designed.holds.wax - 1)
    // off for minutes the hold goes on where it was
    const [soon] = holdAndReplan(question, designed, { at: hours(2), stopped: 300 }).stages
    expect(soon?.hold).toBeLessThan(designed.holds.wax)
  })
})
