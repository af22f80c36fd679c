import type { Place, Region } from '../drawing.ts'
import type { RegionGroup } from '../group-regions.ts'

export interface Cut {
  readonly name: string
  readonly from_mm: Place
  readonly to_mm: Place
  /** what it goes across, where nobody placed it */
  readonly across?: string
}

const BEYOND_MM = 1

/** Until the caster places one: across the seat, or through the middle. */
export const usualCut = (
  bounds: { readonly min: readonly number[]; readonly max: readonly number[] },
  groups: readonly RegionGroup[],
): Cut => {
  const seat: Region | undefined = groups.find(({ setting }) => setting.role === 'seat')?.regions[0]
  const y = seat?.at_mm[1] ?? ((bounds.min[1] ?? 0) + (bounds.max[1] ?? 0)) / 2
  return {
    name: 'A',
    from_mm: [(bounds.min[0] ?? 0) - BEYOND_MM, y],
    to_mm: [(bounds.max[0] ?? 0) + BEYOND_MM, y],
    across: seat === undefined ? 'the middle' : 'the seat',
  }
}
