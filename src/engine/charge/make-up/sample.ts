import type { ChargeAlloy, ChargeRequest, Content, Lot } from './lots.ts'

/** Builders for tests, checks and benches: one plain request or lot, changed where the case needs it. */
export const exactly = (value: number): Content => ({ value, low: value, high: value })

export const sterling = (over: Partial<ChargeAlloy> = {}): ChargeAlloy => ({
  id: 'sterling',
  name: 'sterling silver',
  principal: 'Ag',
  limits: { Ag: { low: 0, high: 1 }, Cu: { low: 0, high: 1 } },
  ...over,
})

export const lot = (id: string, kind: Lot['kind'], silver: number, over: Partial<Lot> = {}): Lot => ({
  id,
  name: id,
  kind,
  mass_kg: 1,
  composition: { Ag: exactly(silver / 1000), Cu: exactly(1 - silver / 1000) },
  price_per_kg: silver,
  mayUse: true,
  owner: 'shop',
  ...over,
})

export const request = (over: Partial<ChargeRequest> = {}): ChargeRequest => ({
  target_kg: 0.14,
  scaleStep_kg: 0.0001,
  alloy: sterling({ finenessTarget_ppt: 925 }),
  lots: [],
  returnedMost: 1,
  ...over,
})
