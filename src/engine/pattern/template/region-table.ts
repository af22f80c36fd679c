import type { RegionKind } from './badges.ts'
import { edgeInWords, figure, type RegionNote, roleInWords, type TemplateUnit } from './figures.ts'
import { fitted, line, type SheetMark, words } from './marks.ts'

const ROW = 5.6
const SIZE = 3.1
const HEAD = 6.4

/** A long name gets smaller before it runs into the heights. */
const NAME_ROOM = 58
/** Columns from the left of the table, millimetres; figures end at their place. */
const AT = { number: 2.6, role: 9, height: 82, cut: 110, edge: 116 }

export interface TableInput {
  readonly kinds: readonly RegionKind[]
  readonly scale: number
  readonly blank_mm: number
  readonly unit: TemplateUnit
  readonly wide_mm: number
}

export const rowsThatFit = (high_mm: number): number => Math.max(0, Math.floor((high_mm - HEAD - 2) / ROW))

export const tableHeight = (rows: number): number => HEAD + ROW * rows + 1

const nameOf = (note: RegionNote, count: number): string => {
  const role = roleInWords(note)
  if (note.name === undefined) return count > 1 ? `${role}, ${count} alike` : role
  return `${note.name}${count > 1 ? `, ${count}` : ''}: ${role.charAt(0).toLowerCase()}${role.slice(1)}`
}

/** Depth notes by number: from the flat back up, and from the blank's face down. */
export const regionTable = ({ kinds, scale, blank_mm, unit, wide_mm }: TableInput): SheetMark[] => {
  const head = (text: string, x: number, anchor: 'start' | 'end'): SheetMark =>
    words(text, [x, 4.2], 2.8, { anchor })
  return [
    line('outline', [0, 0], [wide_mm, 0]),
    head('Region', AT.role, 'start'),
    head('Height from the back', AT.height, 'end'),
    head(`Cut from ${figure(blank_mm, unit)} by`, AT.cut, 'end'),
    head('Edge', AT.edge, 'start'),
    line('region', [0, HEAD], [wide_mm, HEAD]),
    ...kinds.flatMap(({ number, note, ids }, index) => {
      const foot = HEAD + ROW * (index + 1)
      const base = foot - 1.8
      const height = note.height_mm * scale
      const cut = blank_mm - height
      const through = note.role === 'through'
      return [
        { shape: 'round', line: 'thin', at: [AT.number, base - 1.1], radius_mm: 2.1 } as const,
        words(`${number}`, [AT.number, base - 0.1], 2.9, { anchor: 'middle', face: 'semibold' }),
        fitted(nameOf(note, ids.length), [AT.role, base], SIZE, NAME_ROOM),
        words(through ? '0' : figure(height, unit), [AT.height, base], SIZE, {
          anchor: 'end',
          face: 'semibold',
        }),
        words(
          through
            ? figure(blank_mm, unit)
            : cut > 0.05
              ? figure(cut, unit)
              : cut < -0.05
                ? 'too thin'
                : 'none',
          [AT.cut, base],
          SIZE,
          { anchor: 'end' },
        ),
        fitted(edgeInWords(note, scale, unit), [AT.edge, base], SIZE, wide_mm - AT.edge),
        line('tick', [0, foot], [wide_mm, foot]),
      ]
    }),
  ]
}
