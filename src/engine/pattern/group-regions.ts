import type { Heights, RegionHeight } from '../documents/index.ts'
import type { Region } from './drawing.ts'
import { heightOf, saidNameOf } from './height-of.ts'
import { isInside } from './loops.ts'
import { halfOf } from './mirror.ts'

/** Regions that are worked alike and stand in one row, such as twelve leaves. */
export interface RegionGroup {
  /** as on the page, on the relief, in the table and on the template */
  readonly number: number
  /** the same as long as the same regions are worked alike */
  readonly key: string
  readonly name: string
  /** the caster or the drawing itself names these; else the name is only what they are */
  readonly named: boolean
  readonly regions: readonly Region[]
  readonly setting: RegionHeight
}

/** Traced lines have numbers and no names. */
const TRACED = /^trace-\d/

/** `leaf-3`, `leaf/2` and `Leaf 12` are leaves. */
const stemOf = (id: string): string => {
  const half = halfOf(id)
  return half.replace(/[-_ /.]?\d+$/, '').replace(/[-_ /.]?\d+$/, '') || half
}

/** Regions of one name whose areas differ by more are not the same thing drawn several times. */
const ALIKE = 1.3
/** Of traced lines nothing but the size tells, so that it has to be nearer. */
const ALIKE_TRACED = 1.12

const holds = (outer: Float64Array, [x, y]: Region['at_mm']): boolean => isInside([outer], x, y)

/** How many others lie round a region, and whether it goes round others itself. */
const nestingOf = (region: Region, regions: readonly Region[]): string => {
  const round = regions.filter((other) => other !== region && holds(other.outer, region.at_mm)).length
  return `${round}${region.holes.length > 0 ? ' round others' : ''}`
}

const kindsKnown = new WeakMap<readonly Region[], ReadonlyMap<Region, string>>()

const kindsOf = (regions: readonly Region[]): ReadonlyMap<Region, string> => {
  const known = kindsKnown.get(regions)
  if (known !== undefined) return known
  const stems = new Map<string, Region[]>()
  for (const region of regions.toSorted((a, b) => b.area_mm2 - a.area_mm2)) {
    const stem = TRACED.test(region.id) ? 'trace' : stemOf(region.id)
    stems.set(stem, [...(stems.get(stem) ?? []), region])
  }
  const kinds = new Map<Region, string>()
  for (const [stem, ofName] of stems) {
    const nested = new Map<string, Region[]>()
    for (const region of ofName) {
      const nesting = ofName.length === 1 ? '' : nestingOf(region, regions)
      nested.set(nesting, [...(nested.get(nesting) ?? []), region])
    }
    const ratio = stem === 'trace' ? ALIKE_TRACED : ALIKE
    for (const [nesting, alike] of nested) {
      let size = 0
      let last = Infinity
      for (const region of alike) {
        if (last > region.area_mm2 * ratio) size += 1
        last = region.area_mm2
        kinds.set(region, `${stem} ${nesting} ${size}`)
      }
    }
  }
  kindsKnown.set(regions, kinds)
  return kinds
}

const ROLE_NAMES = { raised: 'Raised', ground: 'Ground', through: 'Opening', seat: 'Seat' } as const

const capital = (text: string): string =>
  text.charAt(0).toUpperCase() + text.slice(1).replaceAll(/[-_]/g, ' ')

/**
 * The one order and numbering of regions, for page and paper alike: largest region first; regions of one name,
 * of nearly one size and lying alike share a row, those worked differently stand apart.
 */
export const groupRegions = (regions: readonly Region[], heights: Heights): readonly RegionGroup[] => {
  const kinds = kindsOf(regions)
  const groups = new Map<string, Region[]>()
  for (const region of regions.toSorted((a, b) => b.area_mm2 - a.area_mm2 || (a.id < b.id ? -1 : 1))) {
    const called = saidNameOf(heights, region.id) ?? ''
    const key = `${kinds.get(region)} ${JSON.stringify([called, heightOf(heights, region.id)])}`
    groups.set(key, [...(groups.get(key) ?? []), region])
  }
  return [...groups.values()].map((alike, index) => {
    const [first] = alike as [Region]
    const setting = heightOf(heights, first.id)
    const called = saidNameOf(heights, first.id)
    const named = called !== undefined || !TRACED.test(first.id)
    const plain = TRACED.test(first.id) ? ROLE_NAMES[setting.role] : capital(stemOf(first.id))
    return {
      number: index + 1,
      key: first.id,
      name: called ?? plain,
      named,
      regions: alike,
      setting,
    }
  })
}
