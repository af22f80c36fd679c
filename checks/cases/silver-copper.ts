import {
  alloyEnthalpy,
  EUTECTIC,
  freezingHeat,
  latentHeat,
  leverRule,
  liquidFraction,
  liquidus,
  phaseEnthalpy,
  scheilEutecticFraction,
  scheilTemperature,
  solidus,
} from '../../src/engine/physics/silver-copper.ts'
import { copperByMole, molarMass } from '../../src/engine/physics/silver-copper-gibbs.ts'
import { SILVER_MELTING } from '../../src/engine/physics/silver-copper-tie-lines.ts'
import { type Check, checkEach } from '../check.ts'

const celsius = (T: number): number => T - 273.15
const kelvin = (t: number): number => t + 273.15
const section = '3'
const nist = 'NIST assessment page, Ag-Cu system, metallurgy.nist.gov/phase/solder/agcu.html; printed, found'
const solve =
  'the same published functions (SGTE 1991; Hayes et al. 1986) solved in another program; analytic, found'

const points = (function_: (copper: number) => number, values: Record<string, number>) =>
  Object.fromEntries(
    Object.entries(values).map(([percent, want]) => [
      `${percent} % Cu`,
      [() => celsius(function_(Number(percent) / 100)), want] as const,
    ]),
  )

export const checks: Check[] = [
  {
    id: 'AC1',
    says: 'the eutectic of silver and copper stands at 779.1 C',
    section,
    source: nist,
    got: () => celsius(EUTECTIC.temperature),
    want: 779.1,
    within: { absolute: 0.1 },
  },
  ...checkEach(
    {
      id: 'AC2',
      says: 'percent copper of the phases at the eutectic',
      section,
      source: nist,
      within: { absolute: 0.01 },
    },
    {
      liquid: [() => 100 * EUTECTIC.liquid, 28.41],
      'silver-rich solid': [() => 100 * EUTECTIC.silverSolid, 8.27],
      'copper-rich solid': [() => 100 * EUTECTIC.copperSolid, 92.53],
    },
  ),
  ...checkEach(
    {
      id: 'AC4',
      says: 'melting points of the pure metals',
      section,
      source: 'ITS-90 fixed points; printed, found',
      within: { absolute: 0.01 },
    },
    {
      silver: [() => celsius(liquidus(0)), 961.78],
      copper: [() => celsius(liquidus(1)), 1084.62],
    },
  ),
  ...checkEach(
    { id: 'AC5', says: 'liquidus', section, source: solve, within: { absolute: 0.1 } },
    points(liquidus, { 4.2: 923.6, 4.16: 923.9, 7.5: 896.3, 10: 877.2, 20: 815.5, 25: 792.4 }),
  ),
  ...checkEach(
    { id: 'AC6', says: 'equilibrium solidus', section, source: solve, within: { absolute: 0.1 } },
    points(solidus, { 2.5: 913.4, 4.2: 879, 5: 862.1, 6: 840, 7.5: 802.8 }),
  ),
  ...checkEach(
    {
      id: 'AC7',
      says: 'sterling melts over the range that handbooks print',
      section,
      source: 'jewellery handbooks, 1640 F and 1475 F; printed, from memory',
      within: { absolute: 5 },
    },
    {
      liquidus: [() => celsius(liquidus(0.075)), 893],
      solidus: [() => celsius(solidus(0.075)), 802],
    },
  ),
  {
    id: 'AC8',
    says: 'coin silver at the eutectic holds 8.6 % liquid',
    section,
    source: 'lever rule on the NIST compositions 8.27 and 28.41; analytic, found',
    got: () => leverRule(10, 8.27, 28.41),
    want: 0.0858987,
    within: { absolute: 1e-6 },
  },
  {
    id: 'AC9',
    says: 'coin silver by the older compositions 8.8 and 28.1 holds 6.2 % liquid',
    section,
    source: 'lever rule on older handbook compositions; analytic, from memory',
    got: () => leverRule(10, 8.8, 28.1),
    want: 0.0621762,
    within: { absolute: 1e-6 },
  },
  {
    id: 'AC10',
    says: 'half copper, half silver just above the eutectic is two-thirds liquid',
    section,
    source: 'lever rule on the NIST compositions 92.53 and 28.41; analytic, found',
    got: () => liquidFraction(0.5, EUTECTIC.temperature + 1e-6),
    want: 0.663288,
    within: { absolute: 2e-4 },
  },
  ...checkEach(
    {
      id: 'AC11',
      says: 'liquid fraction of sterling while it melts evenly',
      section,
      source: solve,
      within: { absolute: 1e-4 },
    },
    Object.fromEntries(
      Object.entries({
        890: 0.8272,
        880: 0.6119,
        870: 0.4503,
        860: 0.3267,
        850: 0.231,
        840: 0.1565,
        830: 0.0986,
        820: 0.0537,
        810: 0.0194,
      }).map(([t, want]) => [`${t} C`, [() => liquidFraction(0.075, kelvin(Number(t))), want] as const]),
    ),
  ),
  ...checkEach(
    {
      id: 'AC12',
      says: 'fraction left to freeze as eutectic without diffusion in the solid',
      section,
      source: `Gulliver and Scheil, df/f = -dC/(CL - CS), 40000 steps; ${solve}`,
      within: { absolute: 3e-4 },
    },
    {
      '4.2 % Cu': [() => scheilEutecticFraction(0.042), 0.0387],
      '7.5 % Cu': [() => scheilEutecticFraction(0.075), 0.1135],
      '10 % Cu': [() => scheilEutecticFraction(0.1), 0.1894],
    },
  ),
  ...checkEach(
    {
      id: 'AC13',
      says: 'sterling freezing without diffusion: temperature at a liquid fraction',
      section,
      source: `Gulliver and Scheil; ${solve}`,
      within: { absolute: 0.2 },
    },
    {
      'half liquid': [() => celsius(scheilTemperature(0.075, 0.5)), 869.3],
      'quarter liquid': [() => celsius(scheilTemperature(0.075, 0.25)), 832.7],
    },
  ),
  ...checkEach(
    {
      id: 'AC14',
      says: 'sterling by moles',
      section,
      source: 'IUPAC molar masses 63.546 and 107.8682 g/mol; analytic, found',
      within: { relative: 1e-6 },
    },
    {
      'mole fraction copper': [() => copperByMole(0.075), 0.1209824],
      'molar mass, g/mol': [() => 1000 * molarMass(copperByMole(0.075)), 102.50599],
    },
  ),
  ...checkEach(
    {
      id: 'AC15',
      says: 'heat of melting from the element functions, kJ/kg',
      section,
      source: 'SGTE data for pure elements (Dinsdale 1991); analytic, found',
      within: { absolute: 0.1 },
    },
    {
      silver: [() => (phaseEnthalpy('liquid', 0, 1234.8) - phaseEnthalpy('solid', 0, 1234.8)) / 1000, 104.73],
      copper: [() => (phaseEnthalpy('liquid', 1, 1357.7) - phaseEnthalpy('solid', 1, 1357.7)) / 1000, 208.72],
    },
  ),
  ...checkEach(
    {
      id: 'AC16',
      says: 'heat to bring silver from 25 C to its melting point, kJ/kg',
      section,
      source: 'SGTE data for pure elements (Dinsdale 1991); analytic, found',
      within: { absolute: 0.2 },
    },
    {
      solid: [() => phaseEnthalpy('solid', 0, SILVER_MELTING) / 1000, 245.19],
      melted: [() => phaseEnthalpy('liquid', 0, SILVER_MELTING) / 1000, 349.92],
    },
  ),
  ...checkEach(
    {
      id: 'AC17',
      says: 'heat from silver and copper at 25 C to liquid sterling at 1000 C',
      section,
      source: 'SGTE 1991 and Hayes et al. 1986; analytic, found',
      within: { relative: 0.001 },
    },
    {
      'kJ/kg': [() => alloyEnthalpy(0.075, kelvin(1000)) / 1000, 401.04],
      'kJ for 150 g': [() => 0.15 * (alloyEnthalpy(0.075, kelvin(1000)) / 1000), 60.16],
    },
  ),
  {
    id: 'ST3',
    says: 'latent heat of sterling, kJ/kg',
    section,
    source: 'Hayes et al. 1986 and SGTE 1991, worked out in another program as 96 to 97; analytic, found',
    got: () => latentHeat(0.075) / 1000,
    want: 96.5,
    within: { absolute: 0.5 },
  },
  {
    id: 'ST5',
    says: 'heat given off by sterling from liquidus to solidus, kJ/kg',
    section,
    source: solve,
    got: () => freezingHeat(0.075) / 1000,
    want: 124.8,
    within: { absolute: 0.1 },
  },
]
