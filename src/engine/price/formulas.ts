import { formula } from '../quantity/index.ts'

const MASS = { unit: 'kg', valid: [0, 20] } as const
const MONEY = { unit: 'money', valid: [0, 10_000_000] } as const
const BY_MASS = { unit: 'money/kg', valid: [0, 100_000_000] } as const
const SHARE = { unit: '1', valid: [0, 1] } as const

export const metalSold = formula({
  name: 'metalSold',
  title: 'Metal',
  says: 'the finished weight, at what its metal costs to buy today',
  unit: 'money',
  inputs: { mass: MASS, price: BY_MASS },
  source: 'common practice: metal is priced at what replacing it costs',
  value: ({ mass, price }) => mass * price,
})

export const metalLost = formula({
  name: 'metalLost',
  title: 'Metal lost in finishing',
  says: "what finishing takes off, times the share that is never recovered, at today's price",
  unit: 'money',
  inputs: { cast: MASS, finished: MASS, gone: SHARE, price: BY_MASS },
  source: 'common practice',
  holdsWhen: 'filings and sweeps are kept and refined',
  value: ({ cast, finished, gone, price }) => (cast - finished) * gone * price,
})

export const massPrice = formula({
  name: 'massPrice',
  title: 'Wax',
  says: 'its weight, times its price',
  unit: 'money',
  inputs: { mass: MASS, price: BY_MASS },
  source: 'arithmetic',
  value: ({ mass, price }) => mass * price,
})

export const usualHours = formula({
  name: 'usualHours',
  title: 'Hours, usual and not yours',
  says: 'hours such a step often takes, times how often it is done',
  unit: 's',
  inputs: {
    each: { unit: 's', valid: [0, 360_000] },
    times: { unit: '1', valid: [1, 12_000] },
  },
  source: 'common practice, from memory: carving time is hard to estimate',
  holdsWhen: 'nobody has entered hours for it',
  value: ({ each, times }) => each * times,
})

export const labourCost = formula({
  name: 'labourCost',
  title: 'Labour',
  says: 'the hours, times the rate',
  unit: 'money',
  inputs: {
    time: { unit: 's', valid: [0, 3_600_000] },
    rate: { unit: 'money/s', valid: [0, 3] },
  },
  source: 'arithmetic',
  value: ({ time, rate }) => time * rate,
})

export const shareOf = formula({
  name: 'shareOf',
  title: 'A share of it',
  says: 'the sum, times the share',
  unit: 'money',
  inputs: { sum: MONEY, share: { unit: '1', valid: [0, 10] } },
  source: 'arithmetic',
  value: ({ sum, share }) => sum * share,
})

export const expectedAgain = formula({
  name: 'expectedAgain',
  title: 'If it must be made again',
  says: 'the chance that the pour is spoiled, times what a second try costs',
  unit: 'money',
  inputs: { chance: SHARE, cost: MONEY },
  source: 'common practice: failures are spread over the pours that succeed',
  holdsWhen: 'the second try succeeds',
  value: ({ chance, cost }) => chance * cost,
})

export const breakEvenChance = formula({
  name: 'breakEvenChance',
  title: 'Chance at which a mould pays',
  says: 'what a mould of the wax costs, over what carving it again costs',
  unit: '1',
  inputs: { mould: MONEY, carving: { unit: 'money', valid: [0.01, 10_000_000] } },
  source: 'common practice: a mould pays when the chance of loss times the second carving costs more',
  value: ({ mould, carving }) => mould / carving,
})

export const fineMetal = formula({
  name: 'fineMetal',
  title: 'Fine metal',
  says: 'the weight, times the fineness',
  unit: 'kg',
  inputs: { mass: MASS, share: SHARE },
  source: 'mass balance',
  value: ({ mass, share }) => mass * share,
})
