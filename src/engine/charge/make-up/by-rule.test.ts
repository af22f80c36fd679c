import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { USUAL_ALLOYS } from '../../materials/index.ts'
import type { ChargeAlloy } from './index.ts'
import { makeUpFromFine } from './index.ts'
import { exactly, lot, request, sterling } from './sample.ts'

const fine = lot('fine', 'fine', 999, { composition: { Ag: exactly(0.999) } })
const copper = lot('copper', 'alloying', 0)

describe('make-up by the bench rule', () => {
  test('140 g at 927 with 60 g of returns at 925 takes 74.36 g of fine and 5.64 g of copper', () => {
    // (140 x 927 - 60 x 925) / 999 = 74.354 g: the next hundredth up keeps the aim.
    const alloy = sterling({ finenessTarget_ppt: 927 })
    const lots = [lot('returns', 'returns', 925, { mass_kg: 0.06 }), fine, copper]
    const answer = makeUpFromFine(request({ scaleStep_kg: 0.00001, alloy, lots, returnedMost: 0.5 }))
    expect(answer).toMatchObject({
      by: 'rule',
      lines: [
        { lot: 'returns', mass_kg: 0.06 },
        { lot: 'fine', mass_kg: 0.07436 },
        { lot: 'copper', mass_kg: 0.00564 },
      ],
    })
  })

  test('without stock it names standard fine silver and copper, and gives no cost', () => {
    const answer = makeUpFromFine(request({ target_kg: 0.1 }))
    expect(answer).toMatchObject({
      lines: [
        { lot: 'fine-Ag', name: 'fine silver 999', mass_kg: 0.0926 },
        { lot: 'alloying-Cu', name: 'copper', mass_kg: 0.0074 },
      ],
    })
    expect(answer).not.toHaveProperty('cost')
  })

  test('a line that wants more than its lot holds is noted with how much', () => {
    const lots = [{ ...fine, mass_kg: 0.09 }, copper]
    expect(makeUpFromFine(request({ target_kg: 0.1, lots }))).toMatchObject({
      notes: [{ kind: 'beyond-stock', lot: 'fine', short_kg: 0.0026 }],
    })
  })

  test('returns that would break a limit are left out', () => {
    const alloy = sterling({ finenessTarget_ppt: 925, forbidden: { Pb: 0.0001 } })
    const leaded = lot('leaded', 'returns', 925, {
      composition: { Ag: exactly(0.925), Cu: exactly(0.07), Pb: exactly(0.002) },
    })
    const answer = makeUpFromFine(request({ alloy, lots: [leaded, fine, copper], returnedMost: 0.5 }))
    expect(answer).toMatchObject({ kind: 'made-up', returnedShare: 0 })
  })

  test('an alloy with no fineness to reach takes casting grain, with returns up to their share', () => {
    const bronze = {
      id: 'silicon-bronze',
      name: 'silicon bronze',
      principal: 'Cu' as const,
      limits: { Cu: { low: 0.93, high: 0.97 }, Si: { low: 0.028, high: 0.04 } },
    }
    const button = lot('button', 'returns', 0, {
      mass_kg: 0.1,
      composition: { Cu: exactly(0.955), Si: exactly(0.034), Mn: exactly(0.01) },
    })
    const answer = makeUpFromFine(
      request({ target_kg: 0.276, alloy: bronze, lots: [button], returnedMost: 0.5 }),
    )
    expect(answer).toMatchObject({
      lines: [
        { lot: 'button', mass_kg: 0.1 },
        { lot: 'casting-grain-silicon-bronze', mass_kg: 0.176 },
      ],
    })
  })

  test('every alloy that ships with the program can be made from new metal', () => {
    const principals = { silver: 'Ag', gold: 'Au', copper: 'Cu' } as const
    for (const { id, name, metal, composition, fineness_ppt, forbidden } of USUAL_ALLOYS) {
      const alloy: ChargeAlloy = {
        id,
        name,
        principal: principals[metal],
        limits: composition,
        finenessTarget_ppt: fineness_ppt?.aim,
        finenessLeast_ppt: fineness_ppt?.least,
        forbidden,
      }
      expect([id, makeUpFromFine(request({ alloy })).kind]).toEqual([id, 'made-up'])
    }
  })

  test('an aim above the fine metal is refused with the best that can be had', () => {
    const answer = makeUpFromFine(request({ alloy: sterling({ finenessTarget_ppt: 999.5 }) }))
    expect(answer).toMatchObject({ kind: 'cannot', problems: [{ kind: 'fineness-out-of-reach' }] })
  })

  test('every answer sums to the target, reaches the aim and keeps the least counted on', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 50, max: 5000 }),
        fc.integer({ min: 800, max: 980 }),
        fc.integer({ min: 0, max: 3000 }),
        fc.integer({ min: 850, max: 990 }),
        fc.integer({ min: 0, max: 9 }),
        fc.constantFrom(0, 0.3, 0.5, 1),
        (target, aim, stock, silver, half, returnedMost) => {
          const value = silver / 1000
          const returns = lot('returns', 'returns', silver, {
            mass_kg: stock * 0.0001,
            composition: {
              Ag: { value, low: value - half / 1000, high: value + half / 1000 },
              Cu: exactly(1 - value),
            },
          })
          const answer = makeUpFromFine(
            request({
              target_kg: Number((target * 0.0001).toFixed(4)),
              alloy: sterling({ finenessTarget_ppt: aim, finenessLeast_ppt: aim }),
              lots: [returns, fine, copper],
              returnedMost,
            }),
          )
          if (answer.kind === 'cannot') throw new Error(JSON.stringify(answer))
          const steps = answer.lines.map((line) => Math.round(line.mass_kg / 0.0001))
          expect(steps.reduce((sum, count) => sum + count, 0)).toBe(target)
          expect(answer.finenessExpected_ppt).toBeGreaterThanOrEqual(aim - 1e-6)
          expect(answer.fineness.low_ppt).toBeGreaterThanOrEqual(aim - 1e-6)
          expect(answer.returnedShare).toBeLessThanOrEqual(returnedMost + 1e-9)
        },
      ),
      { numRuns: 300 },
    )
  })
})
