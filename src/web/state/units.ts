import { createContext, useContext, useMemo } from 'react'
import type { UnitChoice } from '../../engine/quantity/units.ts'
import { useChoice } from './choice.ts'

/** The shop's currency, which the units choice does not know by itself. */
export const CurrencyContext = createContext('USD')

export const useUnits = (): UnitChoice => {
  const { units } = useChoice()
  const currency = useContext(CurrencyContext)
  return useMemo(() => ({ ...units, currency }), [units, currency])
}
