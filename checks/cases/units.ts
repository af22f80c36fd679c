import {
  fahrenheit,
  fromUser,
  METRIC,
  toCelsius,
  toUser,
  turnsPerMinute,
} from '../../src/engine/quantity/index.ts'
import type { Check } from '../check.ts'

/** Section 1. At most five rows: a unit is right or wrong once. */
export const checks: Check[] = [
  {
    id: 'U1',
    says: 'one troy ounce is 31.1034768 g',
    section: '1',
    source: '480 grains of 0.06479891 g, international yard and pound agreement 1959; definition',
    got: () => fromUser(1, 'kg', { ...METRIC, mass: 'oz t' }) * 1000,
    want: 31.1034768,
    within: { relative: 1e-12 },
  },
  {
    id: 'U2',
    says: 'one pennyweight is 1.55517384 g',
    section: '1',
    source: 'a twentieth of a troy ounce; definition',
    got: () => fromUser(1, 'kg', { ...METRIC, mass: 'dwt' }) * 1000,
    want: 1.55517384,
    within: { relative: 1e-12 },
  },
  {
    id: 'U9',
    says: '1300 °F is 704.4444 °C',
    section: '1',
    source: '(F − 32) / 1.8; definition',
    got: () => toCelsius(fahrenheit(1300)),
    want: 704.4444,
    within: { absolute: 1e-4 },
  },
  {
    id: 'U13',
    says: '101325 Pa is 29.92126 inHg',
    section: '1',
    source: 'conventional inch of mercury 3386.389 Pa, NIST SP 811; from memory',
    got: () => toUser(101_325, 'Pa', METRIC),
    want: 29.92126,
    within: { absolute: 3e-4 },
  },
  {
    id: 'U14',
    says: '400 turns a minute are 41.887902 rad/s',
    section: '1',
    source: '2 π n / 60; definition',
    got: () => turnsPerMinute(400),
    want: 41.887902,
    within: { absolute: 1e-6 },
  },
]
