import type { Shop } from '../../documents/index.ts'
import { FITTED, type Fitted, type LogFit } from './fit-log.ts'

/** A number as the shop's document states it, with where it comes from and the day. */
export interface KeptNumber {
  readonly value: number
  readonly low: number
  readonly high: number
  readonly source: string
  readonly measured: string
}

/** What a fitted log changes in the shop: one powder and one kiln, by their ids. */
export interface KeptFit {
  readonly investment: { readonly id: string; readonly dryConductivity_W_mK: KeptNumber }
  readonly kiln: { readonly id: string; readonly film_W_m2K: KeptNumber }
}

export const FITTED_TITLES: Readonly<Record<Fitted, string>> = {
  conductivity: 'heat passed by the dry mould, W/mK',
  film: 'heat passed by the kiln’s air, W/m²K',
}

const tidy = (value: number): number => Number(value.toPrecision(4))

/** @param day the day of the log, such as 2030-03-07 */
export const keepFit = (
  fit: Pick<LogFit, 'values' | 'used'>,
  of: { readonly investment: string; readonly kiln: string },
  day: string,
): KeptFit => {
  const [conductivity, film] = FITTED.map((name): KeptNumber => {
    const { value, low, high } = fit.values[name]
    return {
      value: tidy(value),
      low: tidy(low),
      high: tidy(high),
      source: `fitted to a thermocouple's log of ${fit.used} readings`,
      measured: day,
    }
  }) as [KeptNumber, KeptNumber]
  return {
    investment: { id: of.investment, dryConductivity_W_mK: conductivity },
    kiln: { id: of.kiln, film_W_m2K: film },
  }
}

/** The shop with a fit kept in it; what the fit does not name stays as it is. */
export const withFit = (shop: Shop, { investment, kiln }: KeptFit): Shop => ({
  ...shop,
  investments: shop.investments.map((one) => (one.id === investment.id ? { ...one, ...investment } : one)),
  kilns: shop.kilns.map((one) => (one.id === kiln.id ? { ...one, ...kiln } : one)),
})
