import type { Calipers } from '../../engine/documents/pour.ts'
import type { UnitChoice } from '../../engine/quantity/units.ts'
import { entryWriting, plainNumber, readTyped } from './entry.ts'
import { readCaliperShape } from './limits.ts'

export const SIZES = [
  ['length_mm', 'Length'],
  ['width_mm', 'Width'],
  ['height_mm', 'Height'],
  ['thickest_mm', 'Thickest section'],
  ['thinnest_mm', 'Thinnest section'],
] as const

type SizeKey = (typeof SIZES)[number][0] | 'sectionWidth_mm'

/** What the thickest place is, as the caster chooses it; a wide bar has a width of its own. */
export type ThickPlace = 'plate' | 'bar' | 'wide bar' | 'ball'

/** Sizes as typed, in the unit shown. */
export type CaliperDraft = Partial<Record<SizeKey, string>> & { readonly place?: ThickPlace | undefined }

/** Least and most of each size, in millimetres. */
export type CaliperBounds = Readonly<Record<SizeKey, { readonly least: number; readonly most: number }>>

export interface CaliperTrouble {
  readonly key: SizeKey | 'place'
  readonly words: string
}

export type CaliperReading =
  | { readonly kind: 'none' }
  | { readonly kind: 'read'; readonly calipers: Calipers }
  | { readonly kind: 'trouble'; readonly troubles: readonly CaliperTrouble[] }

/** The bounds that the pour file itself sets. */
export const caliperBounds = async (): Promise<CaliperBounds> => {
  const shape = await readCaliperShape()
  const of = (number: { minValue: number | null; maxValue: number | null }) => ({
    least: number.minValue ?? 0,
    most: number.maxValue ?? Number.POSITIVE_INFINITY,
  })
  return {
    length_mm: of(shape.length_mm),
    width_mm: of(shape.width_mm),
    height_mm: of(shape.height_mm),
    thickest_mm: of(shape.thickest_mm),
    thinnest_mm: of(shape.thinnest_mm),
    sectionWidth_mm: of(shape.sectionWidth_mm.unwrap()),
  }
}

/** What stands in a document, as the choice shows it. */
export const thickPlaceOf = (calipers: Partial<Calipers>): ThickPlace | undefined => {
  const { section, sectionWidth_mm } = calipers
  if (sectionWidth_mm !== undefined && (section === undefined || section === 'bar')) return 'wide bar'
  return section === 'round' ? 'bar' : section
}

/** The sizes with another thick place; a wide bar stays unsaid until its width is known. */
export const withThickPlace = (calipers: Calipers, place: ThickPlace): Calipers => {
  const { section: _before, sectionWidth_mm: _wide, ...sizes } = calipers
  return place === 'wide bar' ? sizes : { ...sizes, section: place }
}

/** To two decimals, so that what is said to be taken is taken. */
const inward = (shown: number, way: 1 | -1): string =>
  plainNumber((way * Math.ceil(way * shown * 100 - 1e-6)) / 100, 2)

/** All five sizes and what the thickest place is; 'none' when nothing was typed. Every trouble at once. */
export const readCalipers = (
  draft: CaliperDraft,
  units: UnitChoice,
  bounds: CaliperBounds,
): CaliperReading => {
  const typedOf = (key: SizeKey): string => draft[key]?.trim() ?? ''
  if (SIZES.every(([key]) => typedOf(key) === '')) return { kind: 'none' }
  const troubles: CaliperTrouble[] = []
  const read = (key: SizeKey, name: string): number => {
    const typed = typedOf(key)
    const writing = entryWriting(`/${key}`, units)
    const shown = readTyped(typed)
    if (shown === undefined) {
      troubles.push({
        key,
        words: typed === '' ? `${name} is still missing.` : `${name}: “${typed}” is not a number.`,
      })
      return Number.NaN
    }
    const value = Number(writing.toDocument(shown).toPrecision(10))
    const { least, most } = bounds[key]
    if (value < least || value > most)
      troubles.push({
        key,
        words: `${name} must lie between ${inward(writing.toShown(least), 1)} and ${inward(writing.toShown(most), -1)} ${writing.label}.`,
      })
    return value
  }
  const [length_mm = 0, width_mm = 0, height_mm = 0, thickest_mm = 0, thinnest_mm = 0] = SIZES.map(
    ([key, name]) => read(key, name),
  )
  const { place } = draft
  const sectionWidth_mm = place === 'wide bar' ? read('sectionWidth_mm', 'Width of the bar') : undefined
  if (place === undefined) troubles.push({ key: 'place', words: 'Say what the thickest place is.' })
  if (place === undefined || troubles.length > 0) return { kind: 'trouble', troubles }
  const sizes: Calipers = { length_mm, width_mm, height_mm, thickest_mm, thinnest_mm }
  return {
    kind: 'read',
    calipers:
      sectionWidth_mm === undefined
        ? withThickPlace(sizes, place)
        : { ...sizes, section: 'bar', sectionWidth_mm },
  }
}
