import type { HeatCase, HeatCaseMaterial } from '../../documents/index.ts'
import { radiationCoefficient } from '../radiation.ts'
import { type Body, gradedEdges, lineBody, type Region, roundBody, withLayer } from './body.ts'
import { conduct } from './conduct.ts'
import { type HeatMaterial, type Table, tableAt } from './curves.ts'
import { temperatureAt } from './read-off.ts'
import type { Surroundings } from './surroundings.ts'

const ZERO_C = 273.15
/** Stages times cells: about a minute. */
const MOST_WORK = 2e9

type Pairs = number | readonly (readonly [number, number])[]

const kelvinKnots = (table: Pairs): Table =>
  typeof table === 'number' ? table : table.map(([at, value]) => [at + ZERO_C, value] as const)

const kelvinValues = (table: Pairs): Table =>
  typeof table === 'number' ? table + ZERO_C : table.map(([at, value]) => [at, value + ZERO_C] as const)

const materialOf = (given: HeatCaseMaterial): HeatMaterial => ({
  density: given.density_kg_m3,
  conductivity: kelvinKnots(given.conductivity_W_mK),
  specificHeat: kelvinKnots(given.specificHeat_J_kgK),
  reactions: given.reactions?.map(({ from_C, to_C, heat_J_kg, reversible }) => ({
    from: from_C + ZERO_C,
    to: to_C + ZERO_C,
    heat: heat_J_kg,
    reversible,
  })),
})

/** Index of the last edge a distance lies beyond, counted over the ends of core and layers. */
const layerAt = (ends: readonly number[], distance: number): number =>
  ends.findIndex((end) => distance <= end)

/** m2/s at 300 °C, to weigh materials against each other. */
const diffusivityOf = ({ conductivity, density, specificHeat }: HeatMaterial): number =>
  tableAt(conductivity, 300 + ZERO_C) / (density * tableAt(specificHeat, 300 + ZERO_C))

const bodyOf = (given: HeatCase, cells: number): Body => {
  const { geometry, layers = [] } = given
  const regions: Region[] = [
    { name: 'core', material: materialOf(given.material) },
    ...layers.map(({ material }, index) => ({ name: `layer ${index + 1}`, material: materialOf(material) })),
  ]
  const radius = (geometry.shape === 'slab' ? geometry.thickness_mm / 2 : geometry.radius_mm) / 1000
  const halfHeight = geometry.shape === 'cylinder' ? geometry.height_mm / 2000 : radius
  const typical = Math.min(radius, halfHeight) / cells
  // the finest cells lie at the face, where temperature changes soonest and most steeply
  const growth = 1 + 1.6 / cells
  // a layer's cells take as long to even out as the core's: more would slow the steps and show nothing
  const ofCore = diffusivityOf(materialOf(given.material))
  const extend = (core: number, covering: (covers: 'side' | 'all' | undefined) => boolean) => {
    let edges = gradedEdges(core, typical / 2, growth)
    const ends = [core]
    for (const { thickness_mm, material, covers } of layers) {
      if (covering(covers)) {
        const thickness = thickness_mm / 1000
        const cell = typical * Math.sqrt(diffusivityOf(materialOf(material)) / ofCore)
        edges = withLayer(edges, thickness, Math.min(2 * cells, Math.max(1, Math.ceil(thickness / cell))))
      }
      ends.push(edges.at(-1) ?? Number.NaN)
    }
    return { edges, ends }
  }
  const outward = extend(radius, () => true)
  if (geometry.shape !== 'cylinder')
    return lineBody(geometry.shape === 'slab' ? 'slab' : 'ball', outward.edges, regions, (distance) =>
      layerAt(outward.ends, distance),
    )
  const upward = extend(halfHeight, (covers) => covers === 'all')
  return roundBody(outward.edges, upward.edges, true, regions, (fromAxis, height) =>
    Math.max(layerAt(outward.ends, fromAxis), layerAt(upward.ends, height)),
  )
}

const surroundingsOf = ({ boundary }: HeatCase): Surroundings =>
  'fixed_C' in boundary
    ? { held: kelvinValues(boundary.fixed_C) }
    : {
        heatTransfer: boundary.h_W_m2K ?? 0,
        emissivity: boundary.emissivity ?? 0,
        ambient: kelvinValues(boundary.ambient_C),
      }

/** K between the coldest and hottest that the case speaks of. */
const spanOfCase = ({ boundary, initial_C }: HeatCase): number => {
  const table: Pairs = 'fixed_C' in boundary ? boundary.fixed_C : boundary.ambient_C
  const all = [initial_C, ...(typeof table === 'number' ? [table] : table.map(([, value]) => value))]
  return Math.max(...all) - Math.min(...all)
}

export interface HeatSolution {
  readonly probes: readonly {
    readonly at_mm: readonly number[]
    readonly series: readonly (readonly [s: number, C: number])[]
  }[]
  /** |stored - through the boundary| over all heat exchanged */
  readonly energyError: number
  readonly steps: number
  readonly cells: number
  /** false where the work allowed ran out: the series then end early */
  readonly finished: boolean
}

export interface HeatOptions {
  /** error allowed in each step; a small share of the case's temperature span when left out */
  readonly tolerance_K?: number
  /** along the shortest half of the body */
  readonly cells?: number
}

/** How hard heat gets through the faces against how hard it gets to them, at its largest. */
const biotOf = ({ geometry, material, boundary, initial_C }: HeatCase): number => {
  if ('fixed_C' in boundary) return Number.POSITIVE_INFINITY
  const values = (table: Pairs): number[] =>
    typeof table === 'number' ? [table] : table.map(([, value]) => value)
  const hottest = Math.max(initial_C, ...values(boundary.ambient_C)) + ZERO_C
  const transfer = (boundary.h_W_m2K ?? 0) + radiationCoefficient(boundary.emissivity ?? 0, hottest, hottest)
  const half = (geometry.shape === 'slab' ? geometry.thickness_mm / 2 : geometry.radius_mm) / 1000
  const farthest = geometry.shape === 'cylinder' ? Math.max(half, geometry.height_mm / 2000) : half
  return (transfer * farthest) / Math.min(...values(material.conductivity_W_mK))
}

/**
 * A narrow reaction is a front that crosses the body cell by cell: its error is of the cells' making, so it
 * wants many of them and gains nothing from shorter steps.
 */
const usual = (given: HeatCase): { cells: number; share: number } => {
  const { geometry, material, layers = [] } = given
  const reacting = [material, ...layers.map((one) => one.material)].some(
    ({ reactions = [] }) => reactions.length > 0,
  )
  // a body even throughout needs few cells, and small cells of a good conductor make for small steps
  if (!reacting && layers.length === 0 && biotOf(given) < 0.05) return { cells: 12, share: 1 / 20_000 }
  if (geometry.shape === 'cylinder')
    return reacting ? { cells: 40, share: 1 / 1000 } : { cells: 32, share: 1 / 20_000 }
  return reacting ? { cells: 640, share: 1 / 3000 } : { cells: 80, share: 1 / 30_000 }
}

/** Solves a case that has been read by `readHeatCase`. */
export const solveHeat = (given: HeatCase, options: HeatOptions = {}): HeatSolution => {
  const { cells, share } = usual(given)
  const body = bodyOf(given, options.cells ?? cells)
  const { moments, energyError, steps } = conduct({
    body,
    start: given.initial_C + ZERO_C,
    surroundings: body.sides.map(() => surroundingsOf(given)),
    times: given.times_s,
    mostWork: MOST_WORK,
    tolerance: options.tolerance_K ?? Math.max(1e-6, spanOfCase(given) * share),
  })
  return {
    probes: given.probes_mm.map((at_mm) => ({
      at_mm,
      series: moments.map((moment) => [
        moment.time,
        // at the start even a face has not moved yet
        moment.time === 0
          ? given.initial_C
          : temperatureAt(
              body,
              moment,
              at_mm.map((one) => one / 1000),
            ) - ZERO_C,
      ]),
    })),
    energyError,
    steps,
    cells: body.volume.length,
    finished: moments.length === given.times_s.length,
  }
}
