import type { HeatMaterial } from './curves.ts'

/**
 * A body as the solver sees it: cells with a volume, faces between two cells, and faces to the outside. A
 * slab, a ball and a round flask differ only in these lists, so one solver serves them all. Lengths in m.
 */
export interface Region {
  readonly name: string
  readonly material: HeatMaterial
}

export interface Body {
  readonly regions: readonly Region[]
  /** index into `regions` of every cell */
  readonly region: Uint8Array
  /** m3 (a slab is one square metre of it) */
  readonly volume: Float64Array
  /** faces between cells: both cells, and from each cell's middle to the face its path over area [1/m] */
  readonly first: Int32Array
  readonly second: Int32Array
  readonly firstPath: Float64Array
  readonly secondPath: Float64Array
  /** faces to the outside: the cell, path over area [1/m], area [m2], index into `sides` */
  readonly outerCell: Int32Array
  readonly outerPath: Float64Array
  readonly outerArea: Float64Array
  readonly outerSide: Uint8Array
  readonly sides: readonly string[]
  readonly grid: Grid
}

/** Where the cells lie. Cell (i, j) has the number j * radial cells + i. */
export interface Grid {
  readonly shape: 'slab' | 'rod' | 'ball' | 'round'
  readonly radial: Axis
  /** a round body only */
  readonly axial?: Axis
  /** the lower end is a mirror: the upper half of a body that is the same upside down */
  readonly mirrored: boolean
}

export interface Axis {
  /** rising; one more than the cells */
  readonly edges: readonly number[]
  /** where a cell's mean temperature stands */
  readonly middles: readonly number[]
}

/** How area, volume and the mean square distance of a shell go with its edges; per metre of height for a rod. */
const SHELL = {
  slab: {
    area: () => 1,
    volume: (low: number, high: number) => high - low,
    meanSquare: (low: number, high: number) => (low * low + low * high + high * high) / 3,
  },
  rod: {
    area: (at: number) => 2 * Math.PI * at,
    volume: (low: number, high: number) => Math.PI * (high * high - low * low),
    meanSquare: (low: number, high: number) => (low * low + high * high) / 2,
  },
  ball: {
    area: (at: number) => 4 * Math.PI * at * at,
    volume: (low: number, high: number) => (4 / 3) * Math.PI * (high ** 3 - low ** 3),
    meanSquare: (low: number, high: number) => (0.6 * (high ** 5 - low ** 5)) / (high ** 3 - low ** 3),
  },
} as const

interface Shell {
  readonly area: number
  readonly volume: number
  /** path over area from the cell's mean to its lower and its upper edge [1/m]; no way down from a centre */
  readonly down: number
  readonly up: number
}

/**
 * Cells along a line from a centre or mirror. Near it temperature goes with the square of the distance; the
 * cell's mean then stands at the root of the mean square, and the paths are those that make the flow of such
 * a profile exact. Far out they become plain half cells (the difference goes with (cell/distance)²), so the
 * scheme is of second order everywhere and right at the centre, where the slow core is watched.
 */
const shellsOf = (shape: keyof typeof SHELL, edges: readonly number[]): { axis: Axis; shells: Shell[] } => {
  const { area, volume, meanSquare } = SHELL[shape]
  const pairs = edges.slice(1).map((high, index) => [edges[index] ?? Number.NaN, high] as const)
  return {
    axis: { edges, middles: pairs.map(([low, high]) => Math.sqrt(meanSquare(low, high))) },
    shells: pairs.map(([low, high]) => ({
      area: area(high),
      volume: volume(low, high),
      down: (meanSquare(low, high) - low * low) / (2 * low * area(low)),
      up: (high * high - meanSquare(low, high)) / (2 * high * area(high)),
    })),
  }
}

/** Cells along a line without a centre. */
const plainShells = (edges: readonly number[]): { axis: Axis; shells: Shell[] } => {
  const pairs = edges.slice(1).map((high, index) => [edges[index] ?? Number.NaN, high] as const)
  return {
    axis: { edges, middles: pairs.map(([low, high]) => (low + high) / 2) },
    shells: pairs.map(([low, high]) => ({
      area: 1,
      volume: high - low,
      down: (high - low) / 2,
      up: (high - low) / 2,
    })),
  }
}

interface Lists {
  readonly volume: number[]
  readonly region: number[]
  readonly faces: [first: number, second: number, firstPath: number, secondPath: number][]
  readonly outer: [cell: number, path: number, area: number, side: number][]
}

const bodyOf = (lists: Lists, regions: readonly Region[], sides: readonly string[], grid: Grid): Body => ({
  regions,
  sides,
  grid,
  region: Uint8Array.from(lists.region),
  volume: Float64Array.from(lists.volume),
  first: Int32Array.from(lists.faces, ([first]) => first),
  second: Int32Array.from(lists.faces, ([, second]) => second),
  firstPath: Float64Array.from(lists.faces, ([, , path]) => path),
  secondPath: Float64Array.from(lists.faces, ([, , , path]) => path),
  outerCell: Int32Array.from(lists.outer, ([cell]) => cell),
  outerPath: Float64Array.from(lists.outer, ([, path]) => path),
  outerArea: Float64Array.from(lists.outer, ([, , area]) => area),
  outerSide: Uint8Array.from(lists.outer, ([, , , side]) => side),
})

/**
 * A body in which heat moves along one line only: a slab from its mid-plane, a long rod from its axis (one
 * metre of it), a ball from its centre. Its one outer side is called `side`.
 * @param edges of the cells, from 0 outward
 * @param regionAt index into `regions` for a distance
 */
export const lineBody = (
  shape: 'slab' | 'rod' | 'ball',
  edges: readonly number[],
  regions: readonly Region[],
  regionAt: (distance: number) => number,
): Body => {
  const { axis: radial, shells } = shellsOf(shape, edges)
  const lists: Lists = { volume: [], region: [], faces: [], outer: [] }
  for (const [index, { area, volume, up }] of shells.entries()) {
    lists.volume.push(volume)
    lists.region.push(regionAt(radial.middles[index] ?? Number.NaN))
    const next = shells[index + 1]
    if (next !== undefined) lists.faces.push([index, index + 1, up, next.down])
    else lists.outer.push([index, up, area, 0])
  }
  return bodyOf(lists, regions, ['side'], { shape, radial, mirrored: true })
}

/**
 * A round body: heat moves outward and along the axis. Sides `side`, `top` and, unless mirrored, `bottom`.
 * @param axialEdges from 0 at mid-height when `mirrored`, from the bottom otherwise
 */
export const roundBody = (
  radialEdges: readonly number[],
  axialEdges: readonly number[],
  mirrored: boolean,
  regions: readonly Region[],
  regionAt: (fromAxis: number, height: number) => number,
): Body => {
  const { axis: radial, shells: rings } = shellsOf('rod', radialEdges)
  const { axis: axial, shells: floors } = mirrored ? shellsOf('slab', axialEdges) : plainShells(axialEdges)
  const columns = rings.length
  const lists: Lists = { volume: [], region: [], faces: [], outer: [] }
  for (const [j, floor] of floors.entries())
    for (const [i, ring] of rings.entries()) {
      const cell = j * columns + i
      // a ring's volume per metre of height is its floor; a floor's volume per square metre is its height
      const [plan, height] = [ring.volume, floor.volume]
      lists.volume.push(plan * height)
      lists.region.push(regionAt(radial.middles[i] ?? Number.NaN, axial.middles[j] ?? Number.NaN))
      const [outward, upward] = [rings[i + 1], floors[j + 1]]
      if (outward !== undefined) lists.faces.push([cell, cell + 1, ring.up / height, outward.down / height])
      else lists.outer.push([cell, ring.up / height, ring.area * height, 0])
      if (upward !== undefined) lists.faces.push([cell, cell + columns, floor.up / plan, upward.down / plan])
      else lists.outer.push([cell, floor.up / plan, plan, 1])
      if (j === 0 && !mirrored) lists.outer.push([cell, floor.down / plan, plan, 2])
    }
  return bodyOf(lists, regions, mirrored ? ['side', 'top'] : ['side', 'top', 'bottom'], {
    shape: 'round',
    radial,
    axial,
    mirrored,
  })
}

/**
 * Edges from 0 to a length, the cells finest at the far end and growing steadily from there.
 * @param finest the smallest cell asked for; never exceeded
 * @param growth from cell to cell, 1 or more
 */
export const gradedEdges = (length: number, finest: number, growth: number): number[] => {
  const sum = (count: number): number => (growth === 1 ? count : (growth ** count - 1) / (growth - 1))
  let count = 2
  while (finest * sum(count) < length) count++
  const scale = length / sum(count)
  const edges = Array.from({ length: count + 1 }, (_, index) => length - scale * sum(count - index))
  edges[0] = 0
  edges[count] = length
  return edges
}

/** Edges that carry on from a list outward, in equal cells. */
export const withLayer = (edges: readonly number[], thickness: number, cells: number): number[] => {
  const from = edges.at(-1) ?? Number.NaN
  return [...edges, ...Array.from({ length: cells }, (_, index) => from + (thickness * (index + 1)) / cells)]
}
