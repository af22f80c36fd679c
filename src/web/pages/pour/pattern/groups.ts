import type { Heights, RegionHeight } from '../../../../engine/documents/heights.ts'

export { groupRegions, type RegionGroup } from '../../../../engine/pattern/group-regions.ts'
export { heightOf } from '../../../../engine/pattern/height-of.ts'

/** The document with some regions worked another way. */
export const withSetting = (heights: Heights, ids: readonly string[], setting: RegionHeight): Heights => ({
  ...heights,
  regions: { ...heights.regions, ...Object.fromEntries(ids.map((id) => [id, setting])) },
})

/** The document with some regions called another name, or by none of the caster's where it is empty. */
export const withName = (heights: Heights, ids: readonly string[], name: string): Heights => {
  if (ids.every((id) => (heights.names?.[id] ?? '') === name)) return heights
  const others = Object.entries(heights.names ?? {}).filter(([id]) => !ids.includes(id))
  const names = Object.fromEntries([...others, ...(name === '' ? [] : ids.map((id) => [id, name]))])
  const { names: _before, ...rest } = heights
  return Object.keys(names).length === 0 ? rest : { ...rest, names }
}

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
