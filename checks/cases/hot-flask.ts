import { carry, cutFlask, type HotFlask } from '../../src/engine/heat/cooled/index.ts'
import { smallFlask } from '../../src/engine/heat/cooled/sample.ts'
import {
  conduct,
  type HeatMaterial,
  lineBody,
  meanOf,
  stateAt,
  temperatureAt,
  withRegionsAt,
} from '../../src/engine/physics/conduct/index.ts'
import { type Check, checkEach } from '../check.ts'

/** The poured flask against closed forms: contact, an even flask that radiates, and heat shared out shut in. */
const section = '8'
const celsius = (value: number): number => value + 273.15

const flask = smallFlask

// --- metal against mould: two thick bodies brought together ------------------------------------------------
const metal: HeatMaterial = { density: 10360, conductivity: 330, specificHeat: 280 }
const mould: HeatMaterial = { density: 1213, conductivity: 0.45, specificHeat: 1050 }
const [hot, warm] = [celsius(760), celsius(482)]

/** Metal within, mould round it; what lies beyond both ends is not felt in so short a time. */
const inContact = (seconds: number, into: number): number => {
  const half = 0.2
  const edges: number[] = []
  for (let at = 0; at < half - 1e-9; at += half / 200) edges.push(at)
  // finest where the mould begins, for its warmed skin is a fraction of a millimetre
  for (let count = 0, at = half, step = 5e-5; count < 160; count += 1, at += step, step *= 1.03)
    edges.push(at)
  const body = lineBody(
    'slab',
    edges,
    [
      { name: 'metal', material: metal },
      { name: 'mould', material: mould },
    ],
    (at) => (at < half ? 0 : 1),
  )
  const { moments } = conduct({
    body,
    start: [hot, warm],
    surroundings: [{ heatTransfer: 0, emissivity: 0, ambient: warm }],
    times: [seconds],
    tolerance: 0.05,
  })
  const [last] = moments
  return last === undefined ? Number.NaN : temperatureAt(body, last, [half + into])
}

const ability = ({ density, conductivity, specificHeat }: HeatMaterial): number =>
  Math.sqrt(density * (conductivity as number) * (specificHeat as number))
const atContact = (ability(metal) * hot + ability(mould) * warm) / (ability(metal) + ability(mould))

// --- a flask even throughout, losing heat by radiation alone ----------------------------------------------
/** Its heat capacity at a temperature [J/K]: the table of the mould written out between 100 and 650 °C. */
const capacityAt = (kelvins: number): number =>
  flask.dryInvestment * flask.mouldHeat * (0.85 + (0.315 * (kelvins - celsius(100))) / 550) +
  flask.steel * 500

/** Shiny and passing heat well, so that its middle and its wall stand within a degree. */
const DULL = 0.04
const evenFlask: HotFlask = { ...flask, conductivity: 40, airTakes: 0, emissivity: DULL, mould: celsius(600) }

/** Seconds to fall to a temperature: the balance summed by Simpson's rule. */
const radiatingSeconds = (to: number): number => {
  const wall = Math.sqrt(flask.radius ** 2 + flask.steel / (Math.PI * flask.height * 7900))
  const area = 2 * Math.PI * wall * flask.height + 2 * Math.PI * wall ** 2
  const slope = (kelvins: number): number =>
    capacityAt(kelvins) / (DULL * 5.670374419e-8 * area * (kelvins ** 4 - flask.air ** 4))
  const [parts, from] = [400, celsius(600)]
  const step = (from - to) / parts
  let sum = slope(to) + slope(from)
  for (let part = 1; part < parts; part += 1) sum += (part % 2 === 1 ? 4 : 2) * slope(to + part * step)
  return (sum * step) / 3
}

const fallen = (seconds: number): number => carry(evenFlask, [], seconds, 4).core.at(-1) ?? Number.NaN

// --- shut in: the metal's heat shared out ------------------------------------------------------------------
/** Where the balance of heats lies: the metal's, latent heat with it, against mould's and steel's. */
const sharedOut = (): number => {
  const gained = (to: number): number => {
    const [a, b] = [celsius(482), to]
    const middle = capacityAt((a + b) / 2)
    return middle * (b - a)
  }
  const given = (to: number): number =>
    flask.charge * (flask.freezingHeat + flask.metalHeat * (flask.solidAt - to))
  let [low, high] = [celsius(482), celsius(650)]
  for (let round = 0; round < 60; round += 1) {
    const middle = (low + high) / 2
    if (given(middle) > gained(middle)) low = middle
    else high = middle
  }
  return low
}

const settled = (region: string): number => {
  const { poured, hollow } = cutFlask(flask, 6)
  const shut = { heatTransfer: 0, emissivity: 0, ambient: 300 }
  const { moments } = conduct({
    body: poured,
    start: withRegionsAt(poured, stateAt(hollow, flask.mould), { metal: flask.pour }),
    surroundings: [shut, shut],
    times: [60_000],
    tolerance: 0.01,
  })
  const [last] = moments
  return last === undefined ? Number.NaN : meanOf(poured, last, region)
}

export const checks: Check[] = [
  {
    id: 'HF1',
    says: 'Where metal meets mould the solver holds the temperature of two thick bodies in contact, K, after 1 s',
    section,
    source: 'Carslaw and Jaeger 1959, §2.15; Incropera eq. 5.63; analytic, from memory',
    got: () => inContact(1, 0),
    want: atContact,
    within: { absolute: 0.005 * (hot - warm) },
  },
  {
    id: 'HF1.later',
    says: 'and holds it still after 9 s',
    section,
    source: 'Carslaw and Jaeger 1959, §2.15; analytic, from memory',
    got: () => inContact(9, 0),
    want: atContact,
    within: { absolute: 0.005 * (hot - warm) },
  },
  ...checkEach(
    {
      id: 'HF2',
      says: 'A flask even throughout radiates itself cool: what it stands at after the balance’s time, K',
      section,
      source:
        'integral of C(T) dT = -εσA(T⁴ - Ta⁴) dt, Incropera eq. 5.18 with a capacity that falls; by Simpson’s rule',
      within: { absolute: 1.5 },
    },
    {
      'to 500 °C': [() => fallen(radiatingSeconds(celsius(500))), celsius(500)],
      'to 350 °C': [() => fallen(radiatingSeconds(celsius(350))), celsius(350)],
    },
  ),
  ...checkEach(
    {
      id: 'HF3',
      says: 'A poured flask shut in settles where the heat of freezing and cooling metal is shared out, K',
      section,
      source: 'balance of heats, analytic',
      within: { absolute: 0.02 },
    },
    {
      metal: [() => settled('metal'), sharedOut()],
      wall: [() => settled('wall'), sharedOut()],
    },
  ),
]
