import { type Heights, type Piece, type Pour, readStated, type Shop } from '../engine/documents/index.ts'
import { usualShop } from '../engine/materials/index.ts'
import type { PatternProblem } from '../engine/pattern/drawing.ts'
import { groupRegions } from '../engine/pattern/group-regions.ts'
import {
  blankChecks,
  blankOf,
  lacksUnit,
  type PatternReading,
  type PatternShape,
} from '../engine/pattern/index.ts'
import { shapeKey, spreadThrough } from '../engine/piece/index.ts'
import { planPour } from '../engine/plan.ts'
import type { Quantity } from '../engine/quantity/index.ts'

/** What a drawing without a unit asks for here. */
export const SAY_UNIT = 'say which it is with --units mm, in or px'

/** Keys are part of the published contract: more may come, none may go. */
export interface PatternJson {
  readonly file: string
  readonly format: string | null
  readonly units: string
  readonly unitsAssumed: boolean
  readonly regions: readonly {
    readonly id: string
    /** as the page and the template call it, with the number both write on it */
    readonly name: string
    readonly number: number
    readonly area_mm2: number
    readonly perimeter_mm: number
    readonly holes: number
    readonly role: string
    readonly height_mm: number
  }[]
  readonly bounds_mm: { readonly min: readonly number[]; readonly max: readonly number[] } | null
  /** wax to cut from, at the size of the wax */
  readonly blank_mm: { readonly length: number; readonly width: number; readonly thickness: number } | null
  readonly solid: {
    readonly volume_mm3: number | null
    readonly area_mm2: number | null
    readonly closed: boolean
  }
  readonly mass_g: Readonly<Record<string, number | null>>
  readonly wax_g: Expected | null
  readonly cast_g: Expected | null
  readonly problems: readonly PatternProblem[]
}

/** Nine in ten, and how much of the half-width either way comes from the drawing and from the hand. */
interface Expected {
  readonly low: number
  readonly expected: number
  readonly high: number
  readonly fromDrawing: number
  readonly fromHand: number
}

/** One drawing as a pour of one piece in the usual shop, so that its weight comes through the one law. */
const asPiece = (file: string, heights: Heights): Piece => ({
  id: 'pattern',
  name: 'Pattern',
  quantity: 1,
  source: { from: 'pattern', file: file === '' ? 'drawing' : file, heights },
})

const pourOf = (shop: Shop, piece: Piece): Pour => ({
  kind: 'pour',
  version: 1,
  name: 'Pattern',
  alloy: 'sterling',
  pieces: [piece],
  tree: {},
  investment: { id: shop.investments[0]?.id ?? '', work: 'heavy', water_C: 22 },
  kiln: shop.kilns[0]?.id ?? '',
  machine: shop.machines[0]?.id ?? '',
  crucible: shop.crucibles[0]?.id ?? '',
  torch: shop.torches[0]?.id ?? '',
  castAt: '2030-01-01T12:00:00Z',
  charge: { fromStock: false },
  spin: {},
  price: { labour_h: {}, clientsMetal: false },
})

const weigh = (
  file: string,
  heights: Heights,
  shape: PatternShape,
): Pick<PatternJson, 'wax_g' | 'cast_g'> => {
  const shop = usualShop()
  const piece = asPiece(file, heights)
  const plan = planPour(shop, pourOf(shop, piece), {
    now: 0,
    meshes: { [shapeKey(piece.source) ?? '']: shape.facts },
  })
  const [weighed] = plan.pieces.pieces
  const drawn = weighed?.drawn
  const grams = (quantity: Quantity | undefined): Expected | null =>
    quantity === undefined || drawn === undefined
      ? null
      : {
          low: quantity.low * 1000,
          expected: quantity.value * 1000,
          high: quantity.high * 1000,
          fromDrawing: spreadThrough(quantity, drawn.ofDrawing) * 1000,
          fromHand: spreadThrough(quantity, drawn.ofHand) * 1000,
        }
  return { wax_g: grams(drawn?.wax), cast_g: grams(weighed?.castMass) }
}

/** The JSON answer of `pattern`; `shape` is absent when the drawing left no region. */
export const patternToJson = (
  file: string,
  heights: Heights,
  reading: PatternReading,
  shape: PatternShape | undefined,
  over: number,
): PatternJson => {
  const sound = shape !== undefined && shape.facts.volume_mm3 !== null
  const unsaid = lacksUnit(reading)
  // wax for a size that nobody has said would be bought in vain
  const blank =
    shape && unsaid === undefined ? blankOf(shape.relief, reading.regions, heights, over) : undefined
  const byId = new Map(shape?.relief.regions.map((region) => [region.id, region]))
  const groupOf = new Map(
    groupRegions(reading.regions.regions, heights).flatMap((group) =>
      group.regions.map(({ id }) => [id, group] as const),
    ),
  )
  const flat = reading.regions.bounds_mm
  const mass_g: Record<string, number | null> = {}
  for (const { id, density_g_cm3 } of usualShop().alloys)
    mass_g[id] =
      shape === undefined || !sound
        ? null
        : (shape.relief.volume_mm3 / 1000) * readStated(density_g_cm3).value
  return {
    file,
    format: reading.drawing.format,
    units: reading.drawing.units.is,
    unitsAssumed: !reading.drawing.units.said && heights.units === undefined,
    regions: reading.regions.regions.map(({ id, area_mm2, perimeter_mm, holes }) => ({
      id,
      name: groupOf.get(id)?.name ?? id,
      number: groupOf.get(id)?.number ?? 0,
      area_mm2,
      perimeter_mm,
      holes: holes.length,
      role: byId.get(id)?.role ?? 'raised',
      height_mm: byId.get(id)?.height_mm ?? heights.blank_mm,
    })),
    bounds_mm: shape?.relief.bounds_mm ?? (flat && { min: [...flat.min, 0], max: [...flat.max, 0] }),
    blank_mm:
      blank === undefined
        ? null
        : { length: blank.length_mm, width: blank.width_mm, thickness: blank.thickness_mm },
    solid: {
      volume_mm3: sound && shape ? shape.relief.volume_mm3 : null,
      area_mm2: sound && shape ? shape.relief.area_mm2 : null,
      closed: shape?.relief.closed ?? false,
    },
    mass_g,
    ...(shape !== undefined && sound ? weigh(file, heights, shape) : { wax_g: null, cast_g: null }),
    problems: [
      ...reading.problems.map((one) => (one === unsaid ? { ...one, remedy: SAY_UNIT } : one)),
      ...(shape?.relief.problems ?? []),
      ...(shape && unsaid === undefined ? blankChecks(shape.relief, reading.regions, heights, over) : []),
    ],
  }
}

const number = (value: number): string => value.toLocaleString('en-US', { maximumSignificantDigits: 5 })

/** The same answer for a person. */
export const patternInWords = (json: PatternJson): string => {
  const lines = [json.file]
  if (json.bounds_mm) {
    const [x = 0, y = 0, z = 0] = json.bounds_mm.max.map(
      (most, axis) => most - (json.bounds_mm?.min[axis] ?? 0),
    )
    lines.push(
      `  ${number(x)} x ${number(y)} x ${number(z)} mm, ${json.regions.length === 1 ? '1 region' : `${json.regions.length} regions`}`,
    )
  }
  for (const { id, name, number: at, area_mm2, role, height_mm } of json.regions)
    lines.push(
      `    ${at} ${name} (${id}): ${role === 'through' ? 'cut through' : `${role}, ${number(height_mm)} mm high`}, ${number(area_mm2)} mm2`,
    )
  if (json.blank_mm) {
    const { length, width, thickness } = json.blank_mm
    lines.push(`  wax to cut from ${number(length)} x ${number(width)} x ${number(thickness)} mm`)
  }
  if (json.solid.volume_mm3 !== null)
    lines.push(`  solid ${number(json.solid.volume_mm3)} mm3, as it is to be cast`)
  const range = ({ low, expected, high, fromDrawing, fromHand }: Expected): string =>
    `${number(expected)} g (${number(low)} to ${number(high)}; drawing ±${number(fromDrawing)}, hand ±${number(fromHand)})`
  if (json.wax_g) lines.push(`  carved in hard wax ${range(json.wax_g)}`)
  if (json.cast_g) lines.push(`  as cast in sterling ${range(json.cast_g)}`)
  for (const { level, what, where, remedy } of json.problems)
    lines.push(`  ${level}: ${what}`, `    where: ${where}`, `    what to do: ${remedy}`)
  return lines.join('\n')
}
