import { type HeatCase, readHeatCase } from '../../src/engine/documents/index.ts'
import {
  conduct,
  gradedEdges,
  type HeatMaterial,
  lineBody,
  meanOf,
  type Surroundings,
  solveHeat,
  temperatureAt,
} from '../../src/engine/physics/conduct/index.ts'
import { type SoakingShape, seriesTerms, shareLeft } from '../../src/engine/physics/conduction.ts'
import { onePhaseFront, twoPhaseFront } from '../../src/engine/physics/freezing-front.ts'
import { reachedFromFluid, reachedFromHeldFace } from '../../src/engine/physics/semi-infinite.ts'
import { erf, erfc } from '../../src/engine/physics/special-functions.ts'
import { type Check, checkEach } from '../check.ts'

/**
 * The conduction solver against closed forms: it knows none of them. The series, fronts and error functions
 * used here are themselves held to published figures in conduction.ts and fronts.ts beside this file.
 */
const section = '8'
const carslaw = (what: string) => `Carslaw and Jaeger 1959, ${what}; analytic, from memory`

/** Half a per cent of the span is the bound for every case; most are held closer. */
const BOUND = { absolute: 0.005 }

const solved = (given: HeatCase) => {
  const reading = readHeatCase(given)
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems))
  return solveHeat(reading.value)
}
const celsius = (given: HeatCase, probe: number, time: number): number =>
  solved(given).probes[probe]?.series[time]?.[1] ?? Number.NaN

const HEIGHTS: Record<SoakingShape, (length: number) => HeatCase['geometry']> = {
  slab: (length) => ({ shape: 'slab', thickness_mm: 2000 * length }),
  // ends forty radii off are not felt in the middle
  rod: (length) => ({ shape: 'cylinder', radius_mm: 1000 * length, height_mm: 40_000 * length }),
  ball: (length) => ({ shape: 'sphere', radius_mm: 1000 * length }),
}

/** Greatest distance from the series over places and times, as a share of the span. */
const worstOfShape = (shape: SoakingShape, biot: number): number => {
  const length = 0.03
  const [density, conductivity, heat] = [1240, 0.45, 1000]
  const fouriers = [0.02, 0.05, 0.1, 0.2, 0.5, 1, 2]
  const places = [0, 0.3, 0.7, 1]
  const { probes } = solved({
    kind: 'heat-case',
    geometry: HEIGHTS[shape](length),
    material: {
      density_kg_m3: density,
      conductivity_W_mK: conductivity,
      specificHeat_J_kgK: heat,
    },
    initial_C: 0,
    boundary:
      biot === Number.POSITIVE_INFINITY
        ? { fixed_C: 1000 }
        : { h_W_m2K: (biot * conductivity) / length, ambient_C: 1000 },
    probes_mm: places.map((place) => (shape === 'rod' ? [30 * place, 0] : [30 * place])),
    times_s: fouriers.map((fourier) => (fourier * length ** 2 * density * heat) / conductivity),
  })
  const terms = seriesTerms(shape, biot)
  return Math.max(
    ...probes.flatMap(({ series }, place) =>
      series.map(([, reached], time) =>
        Math.abs(
          reached / 1000 -
            1 +
            shareLeft(shape, terms, fouriers[time] ?? Number.NaN, places[place] ?? Number.NaN),
        ),
      ),
    ),
  )
}

const shapes: Check[] = (['slab', 'rod', 'ball'] as const).flatMap((shape) =>
  [0.1, 1, 10, Number.POSITIVE_INFINITY].map((biot) => ({
    id: `HS1.${shape}-${biot}`,
    says: `The solver follows a ${shape} at Biot ${biot}: furthest from the series, of the span`,
    section,
    source: carslaw('ch. 3, 7, 9: 60 terms, seven times, four places'),
    got: () => worstOfShape(shape, biot),
    want: 0,
    within: BOUND,
  })),
)

const brass = { density_kg_m3: 8530, conductivity_W_mK: 110, specificHeat_J_kgK: 110 / (8530 * 33.9e-6) }
const wall: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'slab', thickness_mm: 80 },
  material: { density_kg_m3: 7832, conductivity_W_mK: 63.9, specificHeat_J_kgK: 434 },
  initial_C: -20,
  boundary: { h_W_m2K: 500, ambient_C: 60 },
  probes_mm: [[0], [40]],
  times_s: [480],
}
const egg: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'sphere', radius_mm: 25 },
  material: { density_kg_m3: 1000, conductivity_W_mK: 0.627, specificHeat_J_kgK: 0.627 / (1000 * 0.151e-6) },
  initial_C: 5,
  boundary: { h_W_m2K: 1200, ambient_C: 95 },
  probes_mm: [[0]],
  times_s: [862.65],
}
const shortSteel: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'cylinder', radius_mm: 40, height_mm: 60 },
  material: { density_kg_m3: 7900, conductivity_W_mK: 17.4, specificHeat_J_kgK: 526 },
  initial_C: 600 - 273.15,
  boundary: { h_W_m2K: 500, ambient_C: 300 - 273.15 },
  probes_mm: [
    [0, 0],
    [0, 30],
    [40, 0],
    [40, 30],
  ],
  times_s: [180],
}
const shortBrass: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'cylinder', radius_mm: 50, height_mm: 120 },
  material: brass,
  initial_C: 120,
  boundary: { h_W_m2K: 60, ambient_C: 25 },
  probes_mm: [
    [0, 0],
    [0, 60],
  ],
  times_s: [900],
}
const longSteel: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'cylinder', radius_mm: 100, height_mm: 4000 },
  material: { density_kg_m3: 7900, conductivity_W_mK: 14.9, specificHeat_J_kgK: 14.9 / (7900 * 3.95e-6) },
  initial_C: 600,
  boundary: { h_W_m2K: 80, ambient_C: 200 },
  probes_mm: [[0, 0]],
  times_s: [2700],
}

/** Worked examples; a thousandth of the span is allowed, a fifth of the general bound. */
const worked: Check[] = [
  ...checkEach(
    {
      id: 'HS2',
      says: 'The solver warms a steel wall in hot oil, eight minutes',
      section,
      source: 'Incropera, example 5.4; exact values of the series, printed 42.9 °C; from memory',
      within: { absolute: 0.08 },
    },
    { middle: [() => celsius(wall, 0, 0), 43.0162], face: [() => celsius(wall, 1, 0), 45.3625] },
  ),
  {
    id: 'HS3',
    says: 'The solver cooks an egg: 70 °C in the middle',
    section,
    source: 'Cengel, example 4-3; one term, exact 862.65 s; from memory',
    got: () => celsius(egg, 0, 0),
    want: 70,
    within: { absolute: 0.09 },
  },
  {
    id: 'HS5',
    says: 'The solver cools a long steel shaft, 45 minutes',
    section,
    source: 'Cengel, example 4-5; exact 364.30 °C, printed 360 off a chart; from memory',
    got: () => celsius(longSteel, 0, 0),
    want: 364.3,
    within: { absolute: 0.4 },
  },
  ...checkEach(
    {
      id: 'HS6',
      says: 'The solver cools a short cylinder, three minutes, in kelvin',
      section,
      source: 'Incropera, short-cylinder example; exact product of the series; from memory',
      within: { absolute: 0.3 },
    },
    {
      centre: [() => celsius(shortSteel, 0, 0) + 273.15, 402.746],
      'end face': [() => celsius(shortSteel, 1, 0) + 273.15, 370.544],
      'middle of the side': [() => celsius(shortSteel, 2, 0) + 273.15, 362.427],
      rim: [() => celsius(shortSteel, 3, 0) + 273.15, 342.862],
    },
  ),
  ...checkEach(
    {
      id: 'HS7',
      says: 'The solver cools a short brass cylinder, fifteen minutes',
      section,
      source: 'Cengel, example 4-7; exact product of the series; from memory',
      within: { absolute: 0.095 },
    },
    { centre: [() => celsius(shortBrass, 0, 0), 62.732], top: [() => celsius(shortBrass, 1, 0), 62.123] },
  ),
]

/** A slab so thick that its middle feels nothing, watched from its face. */
const worstOfThick = (held: boolean): number => {
  const [k, density, heat, h, half] = [0.5, 1200, 1000, 40, 0.3]
  const alpha = k / (density * heat)
  const depths = [0, 2, 5, 10, 20, 40]
  const times = [600, 1800, 3600]
  const { probes } = solved({
    kind: 'heat-case',
    geometry: { shape: 'slab', thickness_mm: 2000 * half },
    material: { density_kg_m3: density, conductivity_W_mK: k, specificHeat_J_kgK: heat },
    initial_C: 0,
    boundary: held ? { fixed_C: 1000 } : { h_W_m2K: h, ambient_C: 1000 },
    probes_mm: depths.map((depth) => [1000 * half - depth]),
    times_s: times,
  })
  return Math.max(
    ...probes.flatMap(({ series }, index) =>
      series.map(([time, reached]) => {
        const depth = (depths[index] ?? Number.NaN) / 1000
        const exact = held
          ? reachedFromHeldFace(depth, alpha, time)
          : reachedFromFluid(depth, alpha, time, h, k)
        return Math.abs(reached / 1000 - exact)
      }),
    ),
  )
}

interface Front {
  readonly face: number
  readonly melts: number
  readonly initial: number
  readonly latent: number
}

/** A front through a thick slab; the reaction is a tenth of a kelvin wide. */
const worstOfFront = ({ face, melts, initial, latent }: Front): number => {
  const [k, density, heat, half] = [0.5, 1500, 1000, 0.1]
  const alpha = k / (density * heat)
  const onePhase = initial === melts
  const phase = { conductivity: k, diffusivity: alpha }
  const lambda = onePhase
    ? onePhaseFront((heat * Math.abs(face - melts)) / latent)
    : twoPhaseFront(phase, phase, density * latent, Math.abs(face - melts), Math.abs(melts - initial))
  const exact = (depth: number, time: number): number => {
    const at = depth / (2 * Math.sqrt(alpha * time))
    return at < lambda
      ? face + ((melts - face) * erf(at)) / erf(lambda)
      : initial + ((melts - initial) * erfc(at)) / erfc(lambda)
  }
  const reach = 2 * lambda * Math.sqrt(alpha * 900)
  const depths = [0.2, 0.4, 0.6, 0.8, 1.1, 1.5].map((share) => share * reach)
  const { probes } = solved({
    kind: 'heat-case',
    geometry: { shape: 'slab', thickness_mm: 2000 * half },
    material: {
      density_kg_m3: density,
      conductivity_W_mK: k,
      specificHeat_J_kgK: heat,
      reactions: [{ from_C: melts - 0.05, to_C: melts + 0.05, heat_J_kg: latent }],
    },
    // a body already at its melting point stands where the reaction has not begun
    initial_C: onePhase ? melts - 0.05 : initial,
    boundary: { fixed_C: face },
    probes_mm: depths.map((depth) => [1000 * (half - depth)]),
    times_s: [450, 600, 750, 900],
  })
  return Math.max(
    ...probes.flatMap(({ series }, index) =>
      series.map(
        ([time, reached]) =>
          Math.abs(reached - exact(depths[index] ?? Number.NaN, time)) / Math.abs(face - initial),
      ),
    ),
  )
}

const thickAndFronts: Check[] = [
  ...checkEach(
    {
      id: 'HS11',
      says: 'The solver heats a very thick slab: furthest from the error function, of the span',
      section,
      source: carslaw('ch. 2'),
      within: BOUND,
    },
    {
      'face held': [() => worstOfThick(true), 0],
      'face in a fluid': [() => worstOfThick(false), 0],
    },
  ),
  ...checkEach(
    {
      id: 'HS12',
      says: 'The solver follows a melting or freezing front: furthest from Neumann, of the span',
      section,
      source: carslaw('ch. 11, Neumann and Stefan'),
      within: BOUND,
    },
    {
      'melting at the melting point': [
        () => worstOfFront({ face: 400, melts: 100, initial: 100, latent: 500e3 }),
        0,
      ],
      'melting from cold': [() => worstOfFront({ face: 400, melts: 100, initial: 20, latent: 500e3 }), 0],
      'freezing from warm': [() => worstOfFront({ face: -40, melts: 0, initial: 20, latent: 100e3 }), 0],
    },
  ),
]

/** A thin copper ball, even throughout: Biot near 0.0005. */
const evenBall = (boundary: HeatCase['boundary'], initial: number, time: number): HeatCase => ({
  kind: 'heat-case',
  geometry: { shape: 'sphere', radius_mm: 10 },
  material: { density_kg_m3: 8900, conductivity_W_mK: 900, specificHeat_J_kgK: 400 },
  initial_C: initial,
  boundary,
  probes_mm: [[10]],
  times_s: [time],
})
const lumpedRate = 3 / (8900 * 400 * 0.01)
const radiationSeconds = (from: number, to: number, emissivity: number): number => {
  // into 0 K around: 1/T³ grows evenly
  const sigma = 5.670374419e-8
  return (1 / to ** 3 - 1 / from ** 3) / (3 * emissivity * sigma * lumpedRate)
}

/** A slab of two layers whose surroundings climb steadily, once settled: what lags what, by flows in series. */
const layered = { first: 0.02, second: 0.01, k1: 0.5, k2: 1.5, c1: 1.2e6, c2: 2.4e6, h: 25, climb: 0.02 }
const layeredLag = (): number => {
  const { first, second, k1, k2, c1, c2, h, climb } = layered
  return (
    climb *
    ((c1 * first ** 2) / (2 * k1) +
      (c1 * first * second) / k2 +
      (c2 * second ** 2) / (2 * k2) +
      (c1 * first + c2 * second) / h)
  )
}
const layeredCase: HeatCase = {
  kind: 'heat-case',
  geometry: { shape: 'slab', thickness_mm: 2000 * layered.first },
  material: { density_kg_m3: 1200, conductivity_W_mK: layered.k1, specificHeat_J_kgK: layered.c1 / 1200 },
  layers: [
    {
      thickness_mm: 1000 * layered.second,
      material: { density_kg_m3: 2400, conductivity_W_mK: layered.k2, specificHeat_J_kgK: layered.c2 / 2400 },
    },
  ],
  initial_C: 0,
  boundary: {
    h_W_m2K: layered.h,
    ambient_C: [
      [0, 0],
      [40_000, 40_000 * layered.climb],
    ],
  },
  probes_mm: [[0]],
  times_s: [40_000],
}

const ramped = (shape: 'slab' | 'rod' | 'ball'): number => {
  const alpha = 4.032258e-7
  const climb = 300 / 1.8 / 3600
  const material: HeatMaterial = { density: 1240, conductivity: alpha * 1240 * 1000, specificHeat: 1000 }
  const body = lineBody(shape, gradedEdges(0.03175, 0.0004, 1.02), [{ name: 'mould', material }], () => 0)
  const end = 14_000
  const ramp: Surroundings = {
    held: [
      [0, 300],
      [end, 300 + climb * end],
    ],
  }
  const { moments } = conduct({ body, start: 300, surroundings: [ramp], times: [end], tolerance: 0.01 })
  const [last] = moments
  return last === undefined ? Number.NaN : 300 + climb * end - temperatureAt(body, last, [0])
}

/** How much heat a metre of long shaft has given off, as a share of all it can give. */
const shaftHeat = (): number => {
  const material: HeatMaterial = { density: 7900, conductivity: 14.9, specificHeat: 14.9 / (7900 * 3.95e-6) }
  const body = lineBody('rod', gradedEdges(0.1, 0.001, 1.02), [{ name: 'shaft', material }], () => 0)
  const { moments } = conduct({
    body,
    start: 873.15,
    surroundings: [{ heatTransfer: 80, emissivity: 0, ambient: 473.15 }],
    times: [2700],
    tolerance: 0.01,
  })
  const [last] = moments
  return last === undefined ? Number.NaN : (873.15 - meanOf(body, last, 'shaft')) / 400
}

const others: Check[] = [
  {
    id: 'HS5b',
    says: 'The solver’s long shaft has given off this share of its heat',
    section,
    source: 'Cengel, example 4-5; exact 0.635764, printed 0.62 off a chart; from memory',
    got: shaftHeat,
    want: 0.635764,
    within: { absolute: 0.001 },
  },
  ...checkEach(
    {
      id: 'HS14',
      says: 'The solver’s middle lags a face that climbs 300 °F an hour, once settled, K',
      section,
      source: carslaw('ch. 3, 7, 9: beta R²/2a, /4a, /6a'),
      within: { relative: 0.001 },
    },
    {
      slab: [() => ramped('slab'), 57.8703],
      'long cylinder': [() => ramped('rod'), 28.9351],
      ball: [() => ramped('ball'), 19.2901],
    },
  ),
  {
    id: 'HS15',
    says: 'The solver cools an even ball by radiation alone into empty cold: 700 °C after the closed form’s time',
    section,
    source: 'exact integral of dT/dt = -s T⁴ (Incropera eq. 5.18 with nothing around), from memory',
    got: () =>
      celsius(
        evenBall(
          { h_W_m2K: 0, emissivity: 0.8, ambient_C: -273.15 },
          1000,
          radiationSeconds(1273.15, 973.15, 0.8),
        ),
        0,
        0,
      ),
    want: 700,
    within: { absolute: 0.3 },
  },
  {
    id: 'HS17',
    says: 'The solver cools an even ball in moving air: one time constant leaves 1/e',
    section,
    source: 'exponential, Incropera eq. 5.6, from memory',
    got: () => celsius(evenBall({ h_W_m2K: 45, ambient_C: 0 }, 1000, 1 / (45 * lumpedRate)), 0, 0),
    want: 1000 / Math.E,
    within: { absolute: 0.5 },
  },
  {
    id: 'HS18',
    says: 'The solver’s layered slab lags a steady climb by its resistances in series, K',
    section,
    source: 'heat flow past each plane is what lies inside it times the climb; analytic',
    got: () => 40_000 * layered.climb - celsius(layeredCase, 0, 0),
    want: layeredLag(),
    within: { relative: 0.002 },
  },
]

export const checks: Check[] = [...shapes, ...worked, ...thickAndFronts, ...others]
