import type { Loop, Place, Region } from '../drawing.ts'
import type { RegionNote } from './figures.ts'

/** Shapes for the tests of this folder and of the printed template. Loops run anticlockwise, y up. */
export const ring = (points: number, at: (turn: number) => Place): Loop =>
  Float64Array.from(Array.from({ length: points }, (_, i) => at((2 * Math.PI * i) / points)).flat())

export const rectangle = (x: number, y: number, wide: number, high: number): Loop =>
  Float64Array.of(x, y, x + wide, y, x + wide, y + high, x, y + high)

export const backwards = (loop: Loop): Loop =>
  Float64Array.from(
    Array.from({ length: loop.length / 2 }, (_, i) => {
      const j = loop.length / 2 - 1 - i
      return [loop[2 * j] ?? 0, loop[2 * j + 1] ?? 0]
    }).flat(),
  )

/** A face; area and perimeter are not read by the template. */
export const region = (id: string, outer: Loop, holes: readonly Loop[], at_mm: Place): Region => ({
  id,
  outer,
  holes: holes.map(backwards),
  area_mm2: 0,
  perimeter_mm: 0,
  at_mm,
})

const four = (wide: number, high: number): Loop =>
  ring(240, (t) => {
    const bulge = 1 + 0.05 * Math.cos(4 * t)
    const soft = (value: number): number => Math.sign(value) * Math.abs(value) ** 0.62
    return [(wide / 2) * bulge * soft(Math.cos(t)), (high / 2) * bulge * soft(Math.sin(t))]
  })

const oval = (wide: number, high: number): Loop =>
  ring(120, (t) => [(wide / 2) * Math.cos(t), (high / 2) * Math.sin(t)])

const LEAVES = 12

const leaf = (index: number, long: number, wide: number): { loop: Loop; at: Place } => {
  const turn = (2 * Math.PI * (index + 0.5)) / LEAVES
  const [cx, cy] = [18.6 * Math.cos(turn), 14.2 * Math.sin(turn)]
  const away = Math.atan2(cy, cx)
  const loop = ring(40, (t) => {
    const [u, v] = [(long / 2) * Math.cos(t), (wide / 2) * Math.sin(t) * (1 - 0.35 * Math.cos(t))]
    return [cx + u * Math.cos(away) - v * Math.sin(away), cy + u * Math.sin(away) + v * Math.cos(away)]
  })
  return { loop, at: [cx, cy] }
}

/** A clasp 58 by 44 mm over all: border, ground, twelve leaves, and an oval seat with its wall. */
export const clasp = (): { regions: Region[]; notes: RegionNote[] } => {
  const outline = four(58 / 1.05, 44 / 1.05)
  const inner = four(50.4 / 1.05, 36.6 / 1.05)
  const leaves = Array.from({ length: LEAVES }, (_, i) => leaf(i, 7.4, 4.6))
  const [wall, floor] = [oval(21, 16), oval(18.2, 13.2)]
  return {
    regions: [
      region('border', outline, [inner], [27.2, 0]),
      region('ground', inner, [...leaves.map(({ loop }) => loop), wall], [0, 10.2]),
      ...leaves.map(({ loop, at }, i) => region(`leaf-${i + 1}`, loop, [], at)),
      region('seat-wall', wall, [floor], [9.8, 0]),
      region('seat', floor, [], [0, 0]),
    ],
    notes: [
      {
        id: 'border',
        role: 'raised',
        height_mm: 2.9,
        edge: { shape: 'rounded', width_mm: 0.8, height_mm: 0.8 },
      },
      { id: 'ground', role: 'ground', height_mm: 1.6 },
      ...leaves.map(
        (_, i): RegionNote => ({
          id: `leaf-${i + 1}`,
          role: 'raised',
          height_mm: 2.5,
          edge: { shape: 'domed', width_mm: 2.3, height_mm: 0.9 },
        }),
      ),
      { id: 'seat-wall', role: 'raised', height_mm: 4.6 },
      {
        id: 'seat',
        role: 'seat',
        height_mm: 1.4,
        stone: {
          shape: 'oval',
          length_mm: 18,
          width_mm: 13,
          gap_mm: 0.1,
          bearer_mm: 1,
          well_mm: 0.4,
          turned_deg: 0,
        },
      },
    ],
  }
}
