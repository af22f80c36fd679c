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

/** The ends of a line placed on the drawing, as far beyond it as the casting goes for filing. */
export const throughCast = (
  { from_mm, to_mm }: Pick<Cut, 'from_mm' | 'to_mm'>,
  filing_mm = 0,
): [Place, Place] => {
  const [dx, dy] = [to_mm[0] - from_mm[0], to_mm[1] - from_mm[1]]
  const share = filing_mm / Math.max(Math.hypot(dx, dy), 1e-9)
  return [
    [from_mm[0] - dx * share, from_mm[1] - dy * share],
    [to_mm[0] + dx * share, to_mm[1] + dy * share],
  ]
}
