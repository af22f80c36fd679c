import { planMelt } from '../../src/engine/melt/index.ts'
import { celsius, toCelsius } from '../../src/engine/quantity/index.ts'
import { energyInArm } from '../../src/engine/spin/formulas.ts'
import { planSpin } from '../../src/engine/spin/index.ts'
import { type Check, checkEach } from '../check.ts'
import { type BenchChange, bench, stated } from '../small-studio.ts'

// The published rows of spinning and melting, run through the whole rooms rather than their single laws.

interface Row {
  readonly rpm: number
  readonly mouth: number
  readonly depth: number
  readonly density: number
}

const spun = ({ rpm, mouth, depth, density }: Row) =>
  planSpin({
    ...bench({ machine: { speedAtTurns_rpm: rpm, flaskEnd_mm: mouth * 1000 } }),
    machineIndex: 0,
    gateDepth: stated('depth', 'm', depth),
    liquidDensity: stated('density', 'kg/m3', density),
  })

/** Flask 0.9 kg with its middle at 0.20 m; crucible and metal 0.35 kg at 0.13 m; 400 turns a minute. */
const balanced = () =>
  planSpin({
    ...bench({
      machine: {
        speedAtTurns_rpm: 400,
        flaskEnd_mm: 150,
        cradle_g: 300,
        cradleAt_mm: 130,
        crucibleAt_mm: 130,
        counterweight_g: 1252.778,
      },
    }),
    machineIndex: 0,
    flaskSteel: stated('steel', 'kg', 0.3),
    dryInvestment: stated('dry', 'kg', 0.6),
    wetFlask: stated('wet', 'kg', 0.95),
    charge: stated('charge', 'kg', 0.05),
    flaskInside: { diameter: stated('d', 'm', 0.08), height: stated('h', 'm', 0.1) },
    metalCentroid: stated('centroid', 'm', 0.03),
    liquidDensity: stated('density', 'kg/m3', 9160),
  }).balance

const melted = (pouring_C: number, alloy: BenchChange['alloy'] = {}) =>
  planMelt({
    ...bench({ alloy: { liquidus_C: 896.3, superheat_K: pouring_C - 896.3, ...alloy } }),
    alloyIndex: 0,
    torchIndex: 0,
    crucibleIndex: 0,
    charge: stated('charge', 'kg', 0.15),
    fineness: stated('fineness', 'ppt', 925),
  })

const turning = 'rho w² (r2² - r1²)/2, rigid rotation; analytic, from memory'
const sgte = 'pure elements of Dinsdale 1991 with Hayes, Lukas, Effenberg and Petzow 1986; analytic, found'

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'P7.room',
      says: 'an arm at 400 turns a minute with metal from 0.15 to 0.20 m',
      section: '11',
      source: turning,
      within: { relative: 1e-5 },
    },
    {
      'pressure, kPa': [
        () => (spun({ rpm: 400, mouth: 0.15, depth: 0.05, density: 9160 }).pressure?.value ?? NaN) / 1000,
        140.6309,
      ],
      'at the far end, gravities': [
        () => spun({ rpm: 400, mouth: 0.15, depth: 0.05, density: 9160 }).gravities?.value ?? NaN,
        35.7838,
      ],
    },
  ),
  ...checkEach(
    {
      id: 'P8.room',
      says: 'an arm at 300 turns a minute with metal from 0.18 to 0.21 m',
      section: '11',
      source: turning,
      within: { relative: 1e-5 },
    },
    {
      'pressure, kPa': [
        () => (spun({ rpm: 300, mouth: 0.18, depth: 0.03, density: 9160 }).pressure?.value ?? NaN) / 1000,
        52.88726,
      ],
      'at the far end, gravities': [
        () => spun({ rpm: 300, mouth: 0.18, depth: 0.03, density: 9160 }).gravities?.value ?? NaN,
        21.1348,
      ],
    },
  ),
  {
    id: 'P9.room',
    says: 'pressure on gold at 500 turns a minute from 0.10 to 0.15 m, kPa',
    section: '11',
    source: turning,
    got: () => (spun({ rpm: 500, mouth: 0.1, depth: 0.05, density: 17310 }).pressure?.value ?? NaN) / 1000,
    want: 296.6022,
    within: { relative: 1e-5 },
  },
  {
    id: 'P10.room',
    says: 'a counterweight of 1.252778 kg balances 0.9 kg at 0.20 m and 0.35 kg at 0.13 m from 0.18 m',
    section: '11',
    source: 'moments; analytic, from memory',
    got: () => balanced()?.counterweightSpan.start.value ?? NaN,
    want: 0.18,
    within: { absolute: 1e-6 },
  },
  {
    id: 'P11.room',
    says: '50 g left unbalanced at 0.20 m pulls at 400 turns a minute, N',
    section: '11',
    source: 'm r w²; analytic, from memory',
    got: () => balanced()?.pull.ifWet?.value ?? NaN,
    want: 17.54596,
    within: { absolute: 1e-5 },
  },
  {
    id: 'P12.room',
    says: 'energy in an arm at 400 turns a minute: 0.9 kg at 0.20, 0.35 kg at 0.13, 1.25 kg at 0.18 m, J',
    section: '11',
    source: 'I w²/2; analytic, from memory',
    got: () =>
      energyInArm.record.value({
        flask: 0.9,
        flaskAt: 0.2,
        cradle: 0.3,
        cradleAt: 0.13,
        metal: 0.05,
        metalAt: 0.13,
        counterweight: 1.25,
        counterweightAt: 0.18,
        speed: (400 * Math.PI) / 30,
      }),
    want: 72.3025,
    within: { relative: 1e-5 },
  },
  {
    id: 'AC17.room',
    says: 'sterling at 1000 °C holds this much heat over its metals at 25 °C, kJ/kg',
    section: '3',
    source: sgte,
    got: () => (melted(1000).diagram?.heat.value ?? NaN) / 1000,
    want: 401.04,
    within: { relative: 0.01 },
  },
  {
    id: 'AC17.room-energy',
    says: '150 g of sterling takes 60.16 kJ by the diagram, and the alloy sheet agrees',
    section: '3',
    source: `${sgte}; the sheet counts to 980 °C, 6 kJ/kg less`,
    got: () => (melted(1000).energy?.value ?? NaN) / 1000,
    want: 60.16,
    within: { relative: 0.03 },
  },
  {
    id: 'AC5.room',
    says: 'sterling is wholly liquid above, by the diagram in the melting room, °C',
    section: '3',
    source: sgte,
    got: () => toCelsius(melted(1000).diagram?.liquidus.value ?? NaN),
    want: 896.3,
    within: { absolute: 1 },
  },
  {
    id: 'AC7.room',
    says: 'the liquidus that the melting room pours from lies by the handbook value of 893 °C, °C',
    section: '3',
    source: 'jewellery handbooks, 1640 °F; printed, from memory',
    got: () => toCelsius(melted(980).pourTemperature.value - (celsius(980) - celsius(896.3))),
    want: 893,
    within: { absolute: 5 },
  },
]
