import type { Heights, RegionHeight } from '../documents/index.ts'
import { halfOf } from './mirror.ts'

/** What is said by a region's id, which may be any word a drawing holds; of an image, what is said of its half. */
const saidBy = <T>(said: Readonly<Record<string, T>>, id: string): T | undefined => {
  if (Object.hasOwn(said, id)) return said[id]
  const half = halfOf(id)
  return half !== id && Object.hasOwn(said, half) ? said[half] : undefined
}

/** undefined where nothing is said of the region */
export const saidHeightOf = ({ regions }: Heights, id: string): RegionHeight | undefined =>
  saidBy(regions, id)

/** What the caster calls a region. */
export const saidNameOf = ({ names }: Heights, id: string): string | undefined => names && saidBy(names, id)

/** A region of which nothing is said stands at the blank's thickness. */
export const heightOf = (heights: Heights, id: string): RegionHeight =>
  saidHeightOf(heights, id) ?? { role: 'raised', height_mm: heights.blank_mm }
