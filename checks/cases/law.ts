import {
  type CountedMetal,
  FINENESS_STANDARDS,
  lawfulLeast,
  standardsMet,
  UK_HALLMARK_EXEMPT_BELOW,
} from '../../src/engine/materials/fineness-standards.ts'
import { SILICA_LIMITS, timeWeightedAverage } from '../../src/engine/physics/exposure.ts'
import { type Check, checkEach } from '../check.ts'

const section = '14'
const exact = { absolute: 1e-9 }

/** Lowest whole and half part per thousand at which a mark is still met, found by asking downward. */
const lowestMeeting = (
  jurisdiction: string,
  mark: string,
  metal: CountedMetal,
  soldered: boolean,
): number => {
  let lowest = Number.NaN
  for (let ppt = 1000; ppt >= 300; ppt -= 0.5) {
    const meets = standardsMet(metal, ppt, { soldered }).some(
      (row) => row.jurisdiction === jurisdiction && row.mark === mark,
    )
    if (!meets) break
    lowest = ppt
  }
  return lowest
}

const us = (mark: string, soldered: boolean) => () => lowestMeeting('United States', mark, 'silver', soldered)
const leastOf = (mark: string) => () =>
  FINENESS_STANDARDS.find((row) => row.jurisdiction === 'United States' && row.mark === mark)?.least ??
  Number.NaN

/** Richest ISO mark met, 0 for none. */
const isoMark = (metal: CountedMetal, ppt: number): number =>
  standardsMet(metal, ppt, { soldered: false }).find((row) => row.jurisdiction === 'ISO 9202')?.least ?? 0

const isoSum = (metal: CountedMetal) => () =>
  FINENESS_STANDARDS.filter((row) => row.jurisdiction === 'ISO 9202' && row.metal === metal).reduce(
    (sum, row) => sum + row.least,
    0,
  )

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'L1',
      says: 'fineness that United States words promise, ppt',
      section,
      source: '16 CFR part 23; 83 FR 40665 (2018); printed, found',
      within: exact,
    },
    { sterling: [leastOf('sterling'), 925], coin: [leastOf('coin'), 900] },
  ),
  ...checkEach(
    {
      id: 'L2',
      says: 'lowest lawful silver, ppt',
      section,
      source:
        '15 USC 296; same numbers in Maryland Commercial Law 14-604 and Rhode Island 6-11-3; printed, found',
      within: exact,
    },
    {
      'sterling without solder': [us('sterling', false), 921],
      'coin without solder': [us('coin', false), 896],
      'sterling with solder': [us('sterling', true), 915],
      'coin with solder': [us('coin', true), 890],
    },
  ),
  ...checkEach(
    {
      id: 'L4',
      says: 'tolerance below a gold mark, ppt',
      section,
      source: '15 USC 295 as amended 1976; printed, from memory',
      within: exact,
    },
    {
      'without solder': [() => 750 - lowestMeeting('United States', '18K', 'gold', false), 3],
      'with solder': [() => 750 - lowestMeeting('United States', '18K', 'gold', true), 7],
    },
  ),
  {
    id: 'L5',
    says: 'the gold tolerance of a misprinting page is not taken for sterling: 917.5 with solder still meets it',
    section,
    source: '15 USC 296 against a public page that prints 0.003 and 0.006; printed, found',
    got: () =>
      standardsMet('silver', 917.5, { soldered: true }).filter((row) => row.mark === 'sterling').length,
    want: 1,
    within: exact,
  },
  {
    id: 'L7',
    says: 'ISO values are minima: nothing is forgiven below any of them',
    section,
    source: 'ISO 9202, theiteh.com summary; printed, found',
    got: () =>
      FINENESS_STANDARDS.filter((row) => row.jurisdiction === 'ISO 9202').reduce(
        (sum, row) => sum + row.least - lawfulLeast(row, { soldered: true }),
        0,
      ),
    want: 0,
    within: exact,
  },
  ...checkEach(
    {
      id: 'L8',
      says: 'sum of the ISO values, ppt',
      section,
      source:
        'ISO 9202: silver 800 925 958 999; gold 375 585 750 916 999; platinum 850 900 950 999; palladium 500 950 999; printed, from memory',
      within: exact,
    },
    {
      silver: [isoSum('silver'), 3682],
      gold: [isoSum('gold'), 3625],
      platinum: [isoSum('platinum'), 3699],
      palladium: [isoSum('palladium'), 2449],
    },
  ),
  ...checkEach(
    {
      id: 'L9',
      says: 'weight below which a United Kingdom hallmark is not needed, g',
      section,
      source: 'Hallmarking Act 1973 sch. 1, legislation.gov.uk; printed, found',
      within: exact,
    },
    {
      silver: [() => 1000 * UK_HALLMARK_EXEMPT_BELOW.silver, 7.78],
      gold: [() => 1000 * UK_HALLMARK_EXEMPT_BELOW.gold, 1],
      palladium: [() => 1000 * UK_HALLMARK_EXEMPT_BELOW.palladium, 1],
      platinum: [() => 1000 * UK_HALLMARK_EXEMPT_BELOW.platinum, 0.5],
    },
  ),
  {
    id: 'L10',
    says: 'the lowest silver with a United Kingdom 925 mark',
    section,
    source: 'Hallmarking Act 1973 as amended, no minus tolerance; printed, from memory',
    got: () => lowestMeeting('United Kingdom', '925', 'silver', true),
    want: 925,
    within: exact,
  },
  ...checkEach(
    {
      id: 'L12',
      says: 'gold is marked down to the value below it',
      section,
      source: 'tukes.fi fineness requirements; printed, found',
      within: exact,
    },
    { '584': [() => isoMark('gold', 584), 375], '588': [() => isoMark('gold', 588), 585] },
  ),
  ...checkEach(
    {
      id: 'L13',
      says: 'limits for respirable crystalline silica, micrograms per m3',
      section,
      source: '29 CFR 1910.1053; NIOSH manual; ACGIH; printed, found',
      within: { absolute: 1e-6 },
    },
    {
      permissible: [() => SILICA_LIMITS.permissible.value * 1e9, 50],
      action: [() => SILICA_LIMITS.action.value * 1e9, 25],
      recommended: [() => SILICA_LIMITS.recommended.value * 1e9, 50],
      threshold: [() => SILICA_LIMITS.threshold.value * 1e9, 25],
    },
  ),
  {
    id: 'L14',
    says: 'half an hour at 120, an hour and a half at 30 and six hours at 6 average 17.6',
    section,
    source: 'sum(c t)/8 by hand: (60 + 45 + 36)/8; analytic, from memory',
    got: () =>
      timeWeightedAverage([
        { concentration: 120, hours: 0.5 },
        { concentration: 30, hours: 1.5 },
        { concentration: 6, hours: 6 },
      ]),
    want: 17.625,
    within: exact,
  },
  {
    id: 'L15',
    says: 'a quarter of an hour at 200 and nothing else averages 6.25',
    section,
    source: 'sum(c t)/8; analytic, from memory',
    got: () => timeWeightedAverage([{ concentration: 200, hours: 0.25 }]),
    want: 6.25,
    within: exact,
  },
]
