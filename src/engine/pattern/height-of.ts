import type { Heights, RegionHeight } from '../documents/index.ts'

/** What is said of a region by its id, which may be any word a drawing holds; undefined where nothing is. */
export const saidHeightOf = ({ regions }: Heights, id: string): RegionHeight | undefined =>
  Object.hasOwn(regions, id) ? regions[id] : undefined

/** A region of which nothing is said stands at the blank's thickness. */
export const heightOf = (heights: Heights, id: string): RegionHeight =>
  saidHeightOf(heights, id) ?? { role: 'raised', height_mm: heights.blank_mm }
