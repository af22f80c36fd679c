import { expect, test } from 'vitest'
import { sampleShop } from '../../sample-pour.ts'
import { type KeptFit, learnFromLog, loggedBurnout, withFit } from './index.ts'

const kept = (value: number) => ({
  value,
  low: value * 0.9,
  high: value * 1.1,
  source: 'fitted to a thermocouple’s log of 200 readings',
  measured: '2030-11-14',
})

test('what a log taught goes into the rows it belongs to, and into no other', () => {
  const shop = sampleShop()
  const [investment, kiln] = [shop.investments[0], shop.kilns[0]]
  if (investment === undefined || kiln === undefined) throw new Error('a shop has an investment and a kiln')
  const learned: KeptFit = {
    investment: { id: investment.id, dryConductivity_W_mK: kept(0.5) },
    kiln: { id: kiln.id, film_W_m2K: kept(9) },
  }
  const after = withFit(shop, learned)
  expect(after.investments[0]).toEqual({ ...investment, dryConductivity_W_mK: kept(0.5) })
  expect(after.kilns[0]).toEqual({ ...kiln, film_W_m2K: kept(9) })
  expect({ ...after, investments: after.investments.slice(1), kilns: after.kilns.slice(1) }).toEqual({
    ...shop,
    investments: shop.investments.slice(1),
    kilns: shop.kilns.slice(1),
  })
  const gone = { ...learned, kiln: { ...learned.kiln, id: 'sold' } }
  expect(withFit(shop, gone).kilns).toEqual(shop.kilns)
})

test('a burnout that is not solved learns nothing, and says what to do', () => {
  const rows = Array.from({ length: 90 }, (_, minute) => `${minute},${20 + 5 * minute}`).join('\n')
  const { problems, keep } = learnFromLog(`time_min,core_C\n${rows}`, {}, loggedBurnout({ program: [] }), {
    investment: 'one',
    kiln: 'two',
    day: '2030-11-14',
  })
  expect(keep).toBeUndefined()
  expect(problems.map(({ kind }) => kind)).toEqual(['log-not-solved'])
})
