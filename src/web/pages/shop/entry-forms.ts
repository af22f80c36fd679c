/** How the shop's entries are read whose keys do not name their unit whole: money, and masses kept in grams. */
export const MONEY = { unit: 'money', scale: 1 } as const
export const MONEY_GRAM = { unit: 'money/kg', scale: 1000 } as const
export const PLAIN = { plainMass: true } as const
