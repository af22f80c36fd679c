import type { Cabochon, RegionEdge, RegionHeight } from '../../documents/index.ts'
import { millimetresPer } from '../../piece/mesh/index.ts'

/** The one unit of a template, named in its title block. */
export type TemplateUnit = 'mm' | 'in'

/** A length without its unit: tenths of a millimetre, or thousandths of an inch. */
export const figure = (mm: number, unit: TemplateUnit): string =>
  unit === 'mm' ? mm.toFixed(1) : (mm / millimetresPer.in).toFixed(3)

/** A small length that may need more digits, such as what filing takes: 0.1, 0.05. */
export const smallFigure = (mm: number, unit: TemplateUnit): string =>
  unit === 'mm' ? `${Number(mm.toFixed(2))}` : (mm / millimetresPer.in).toFixed(3)

/** By how many per cent the wax is over, one decimal. */
export const percentOver = (shrink: number): string => (100 * (1 / (1 - shrink) - 1)).toFixed(1)

/** What a region is, what is known of its height, and how its rim is worked. Sizes of the finished piece. */
export interface RegionNote {
  readonly id: string
  /** as on the page; by order of what is worked alike when absent */
  readonly number?: number
  /** what the carver calls it */
  readonly name?: string
  readonly role: RegionHeight['role']
  /** from the flat back; 0 for what is cut through */
  readonly height_mm: number
  readonly edge?: RegionEdge
  readonly stone?: Cabochon
}

const ROLES: Readonly<Record<RegionNote['role'], string>> = {
  ground: 'Ground, cut back',
  raised: 'Raised',
  through: 'Cut through',
  seat: 'Seat for a stone',
}

export const roleInWords = ({ role }: Pick<RegionNote, 'role'>): string => ROLES[role]

/** The rim in wax sizes, or what a seat holds: the stone's own size, since a stone does not shrink. */
export const edgeInWords = (
  { role, edge, stone, height_mm }: RegionNote,
  scale: number,
  unit: TemplateUnit,
): string => {
  if (role === 'seat' && stone !== undefined) {
    const size = `${figure(stone.length_mm, unit)} × ${figure(stone.width_mm, unit)}`
    const bearer = stone.bearer_mm > 0 ? `, bearer ${figure(stone.bearer_mm * scale, unit)}` : ''
    const well =
      stone.well_mm > 0
        ? `, well ${figure(stone.well_mm * scale, unit)}${stone.well_mm >= height_mm ? ', open behind' : ''}`
        : ''
    const wall =
      stone.wall === undefined
        ? ''
        : `, wall ${figure(stone.wall.thickness_mm * scale, unit)} thick, ${figure(stone.wall.height_mm * scale, unit)} high`
    return `${stone.shape} stone ${size}${bearer}${well}${wall}`
  }
  if (role === 'through') return 'straight through'
  if (edge === undefined || edge.shape === 'square') return 'square'
  const [wide, high] = [figure(edge.width_mm * scale, unit), figure(edge.height_mm * scale, unit)]
  return `${edge.shape}, ${wide} wide, ${high} high`
}
