import type { Heights, RegionHeight } from '../../../../engine/documents/heights.ts'
import type { Region } from '../../../../engine/pattern/drawing.ts'

/** Regions that are worked alike and stand in one row, such as twelve leaves. */
export interface RegionGroup {
  /** as on the drawing, the relief and in the table */
  readonly number: number
  /** the same as long as the same regions are worked alike */
  readonly key: string
  readonly name: string
  readonly regions: readonly Region[]
  readonly setting: RegionHeight
}

export const settingOf = (heights: Heights, id: string): RegionHeight =>
  heights.regions[id] ?? { role: 'raised', height_mm: heights.blank_mm }

/** Traced lines have numbers and no names. */
const TRACED = /^trace-\d/

/** `leaf-3`, `leaf/2` and `Leaf 12` are leaves. */
const stemOf = (id: string): string => id.replace(/[-_ /.]?\d+$/, '').replace(/[-_ /.]?\d+$/, '') || id

/** Regions of nearly one size in a row of sizes are taken for the same thing drawn several times. */
const ALIKE = 1.12

/** A second face of one mark is numbered so; it may be anything from a twin to the ground inside a border. */
const FACE = /\/\d+$/

const kindsOf = (regions: readonly Region[]): ReadonlyMap<Region, string> => {
  const stems = new Map<string, Region[]>()
  for (const region of regions.toSorted((a, b) => b.area_mm2 - a.area_mm2)) {
    const stem = TRACED.test(region.id) ? 'trace' : stemOf(region.id)
    stems.set(stem, [...(stems.get(stem) ?? []), region])
  }
  const kinds = new Map<Region, string>()
  for (const [stem, alike] of stems) {
    const bySize = alike.some(({ id }) => TRACED.test(id) || FACE.test(id))
    let size = 0
    let last = Infinity
    for (const region of alike) {
      if (bySize && last > region.area_mm2 * ALIKE) size += 1
      last = region.area_mm2
      kinds.set(region, `${stem} ${size}`)
    }
  }
  return kinds
}

const ROLE_NAMES = { raised: 'Raised', ground: 'Ground', through: 'Opening', seat: 'Seat' } as const

const capital = (text: string): string =>
  text.charAt(0).toUpperCase() + text.slice(1).replaceAll(/[-_]/g, ' ')

/** The rows of the table, largest region first; regions of one kind that are worked differently stand apart. */
export const groupRegions = (regions: readonly Region[], heights: Heights): readonly RegionGroup[] => {
  const kinds = kindsOf(regions)
  const groups = new Map<string, Region[]>()
  for (const region of regions.toSorted((a, b) => b.area_mm2 - a.area_mm2 || (a.id < b.id ? -1 : 1))) {
    const key = `${kinds.get(region)} ${JSON.stringify(settingOf(heights, region.id))}`
    groups.set(key, [...(groups.get(key) ?? []), region])
  }
  return [...groups.values()].map((alike, index) => {
    const [first] = alike as [Region]
    const setting = settingOf(heights, first.id)
    return {
      number: index + 1,
      key: first.id,
      name: TRACED.test(first.id) ? ROLE_NAMES[setting.role] : capital(stemOf(first.id)),
      regions: alike,
      setting,
    }
  })
}

/** The document with some regions worked another way. */
export const withSetting = (heights: Heights, ids: readonly string[], setting: RegionHeight): Heights => ({
  ...heights,
  regions: { ...heights.regions, ...Object.fromEntries(ids.map((id) => [id, setting])) },
})

const heightIn = (setting: RegionHeight, otherwise: number): number =>
  setting.role === 'through' ? otherwise : setting.height_mm

/** The same region in another role, keeping the height and edge that still mean something there. */
export const inRole = (setting: RegionHeight, role: RegionHeight['role'], blank_mm: number): RegionHeight => {
  const height_mm = heightIn(setting, blank_mm)
  const edge = 'edge' in setting && setting.edge !== undefined ? { edge: setting.edge } : {}
  if (role === 'through') return { role }
  if (role === 'seat') return { role, height_mm }
  return { role, height_mm, ...edge }
}
