import type { Loop, Place } from '../drawing.ts'
import { hatch, type SectionCut, stepsOf } from '../section/index.ts'
import { across, FIGURES, upright } from './dimension.ts'
import { figure, type TemplateUnit } from './figures.ts'
import { type Box, boxOf, loops, moved, type SheetMark, widthOf, words } from './marks.ts'

/** A cut of the solid as cast, and where it lies on the drawing. */
export interface TemplateSection {
  readonly name: string
  readonly from_mm: Place
  readonly to_mm: Place
  readonly cut: Pick<SectionCut, 'loops'>
  /** heights drawn this many times as large; 1 when left out */
  readonly heightsTimes?: 1 | 2
}

const HATCH = 1.8
/** Room that a section wants for its dimensions and title. */
const AROUND = 40
/** A section longer or higher than the sheet is drawn smaller, and says so. */
const REDUCTIONS = [1, 2, 5, 10]
const HIGHEST = 110

const titleOf = (section: TemplateSection, reduced: number): string => {
  const name = `Section ${section.name}–${section.name}`
  const times = section.heightsTimes === 2 ? ', heights twice' : ''
  return `${name}${times}${reduced === 1 ? '' : `, drawn 1:${reduced}`}`
}

/** The cut at the size of the wax, hatched, with its sizes; y down. */
export const viewSection = (
  section: TemplateSection,
  scale: number,
  unit: TemplateUnit,
  wide_mm: number,
): { readonly title: string; readonly marks: readonly SheetMark[] } => {
  const spanOf = (odd: number): number => {
    const values = section.cut.loops.flatMap((points) => [...points].filter((_, i) => i % 2 === odd))
    return scale * (values.reduce((a, b) => Math.max(a, b), 0) - values.reduce((a, b) => Math.min(a, b), 0))
  }
  const [long, high] = [spanOf(0), spanOf(1) * (section.heightsTimes ?? 1)]
  const reduced = REDUCTIONS.find((by) => long / by <= wide_mm - AROUND && high / by <= HIGHEST) ?? 20
  const times = (section.heightsTimes ?? 1) / reduced
  const place = (along: number, height: number): Place => [(along * scale) / reduced, -height * scale * times]
  const drawn = section.cut.loops.map(
    (points): Loop =>
      points.map((value, i) => (i % 2 === 0 ? (value * scale) / reduced : value * scale * times)),
  )
  const down = (points: Loop): Loop => points.map((value, i) => (i % 2 === 0 ? value : -value))
  const marks: SheetMark[] = [
    {
      shape: 'stroke',
      line: 'hatch',
      runs: hatch(drawn, HATCH).map((points) => ({ points: down(points), closed: false })),
    },
    loops('section', drawn.map(down)),
  ]
  const solid = boxOf(marks)
  marks.push(...heights(section, scale, unit, place), ...outerSizes(section, solid, scale, unit, place))
  return { title: titleOf(section, reduced), marks }
}

/** Values over their flats; one that would run into its neighbour, or is the size at the side, is left out. */
const heights = (
  { cut }: TemplateSection,
  scale: number,
  unit: TemplateUnit,
  place: (along: number, height: number) => Place,
): SheetMark[] => {
  const levels = cut.loops.flatMap((points) => [...points].filter((_, i) => i % 2 === 1))
  const low = levels.reduce((a, b) => Math.min(a, b), Infinity)
  const high = levels.reduce((a, b) => Math.max(a, b), -Infinity)
  const overall = figure((high - low) * scale, unit)
  let free = -Infinity
  let before: string | undefined
  return stepsOf(cut.loops, 1).flatMap(({ from_mm, to_mm, height_mm }) => {
    const text = figure(height_mm * scale, unit)
    const [x, y] = place((from_mm + to_mm) / 2, height_mm)
    const half = widthOf(text, FIGURES) / 2
    if (Math.abs(low) < 1e-6 && text === overall) return []
    if (x - half < free + 0.6 || (text === before && x - half < free + 6)) return []
    free = x + half
    before = text
    return [words(text, [x, y - 1], FIGURES, { anchor: 'middle', cleared: true })]
  })
}

const outerSizes = (
  { cut }: TemplateSection,
  solid: Box,
  scale: number,
  unit: TemplateUnit,
  place: (along: number, height: number) => Place,
): SheetMark[] => {
  const points = cut.loops.flatMap((loop) =>
    Array.from({ length: loop.length / 2 }, (_, i): Place => [loop[2 * i] ?? 0, loop[2 * i + 1] ?? 0]),
  )
  const best = (value: (point: Place) => number): Place =>
    points.reduce((most, point) => (value(point) > value(most) ? point : most), points[0] ?? [0, 0])
  const [left, right] = [best(([x, y]) => -x - 1e-6 * y), best(([x, y]) => x - 1e-6 * y)]
  const [low, high] = [best(([x, y]) => -y - 1e-6 * x), best(([x, y]) => y - 1e-6 * x)]
  return [
    ...across({
      from: place(...left),
      to: place(...right),
      at: solid.bottom + 7.5,
      text: figure((right[0] - left[0]) * scale, unit),
    }),
    ...upright({
      // from the side of the cut, so that no line strikes the figures over its flats
      from: [solid.left, place(...low)[1]],
      to: [solid.left, place(...high)[1]],
      at: solid.left - 7,
      text: figure((high[1] - low[1]) * scale, unit),
    }),
  ]
}

const TITLE = 3.4

/** Sections side by side on one ground line, their titles on another, as many to a row as its width holds. */
export const rowsOfSections = (
  views: readonly ReturnType<typeof viewSection>[],
  wide_mm: number,
): SheetMark[][] => {
  const rows: { title: string; marks: SheetMark[]; left: number }[][] = []
  let free = Infinity
  for (const { title, marks } of views) {
    const box = boxOf(marks)
    const wide = Math.max(box.right - box.left, widthOf(title, TITLE) * 1.12)
    if (free + wide > wide_mm) {
      rows.push([])
      free = 0
    }
    rows.at(-1)?.push({ title, marks: moved(marks, free - box.left, -box.bottom), left: free })
    free += wide + 10
  }
  return rows.map((row) => {
    const top = boxOf(row.flatMap(({ marks }) => marks)).top
    return row.flatMap(({ title, marks, left }) => [
      words(title, [left, top - TITLE], TITLE, { face: 'semibold' }),
      ...marks,
    ])
  })
}
