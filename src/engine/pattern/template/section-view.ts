import type { Loop, Place } from '../drawing.ts'
import { hatch, type SectionCut, stepsOf } from '../section/index.ts'
import { across, FIGURES, upright } from './dimension.ts'
import { figure, type TemplateUnit } from './figures.ts'
import { type Box, boxOf, loops, type SheetMark, widthOf, words } from './marks.ts'

/** A cut of the finished solid, and where it lies on the drawing. */
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
/** A section longer than the sheet is drawn smaller, and says so. */
const REDUCTIONS = [1, 2, 5, 10]

const titleOf = (section: TemplateSection, reduced: number, filed: boolean): string => {
  const name = `Section ${section.name}–${section.name}${filed ? ', nothing for filing' : ''}`
  const times = section.heightsTimes === 2 ? ', heights twice' : ''
  return `${name}${times}${reduced === 1 ? '' : `, drawn 1:${reduced}`}`
}

/**
 * The cut at the size of the wax, hatched, with its sizes; y down, its title above. `filed` says so where the
 * rest of the sheet is drawn over for filing, which a cut of the solid is not.
 */
export const viewSection = (
  section: TemplateSection,
  scale: number,
  unit: TemplateUnit,
  wide_mm: number,
  filed: boolean,
): SheetMark[] => {
  const flat = section.cut.loops.flatMap((points) => [...points].filter((_, i) => i % 2 === 0))
  const long = scale * (flat.reduce((a, b) => Math.max(a, b), 0) - flat.reduce((a, b) => Math.min(a, b), 0))
  const reduced = REDUCTIONS.find((by) => long / by <= wide_mm - AROUND) ?? 20
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
    loops('outline', drawn.map(down)),
  ]
  const solid = boxOf(marks)
  marks.push(...heights(section, scale, unit, place), ...outerSizes(section, solid, scale, unit, place))
  const box = boxOf(marks)
  const title = words(titleOf(section, reduced, filed), [box.left, box.top - 3.4], 3.4, { face: 'semibold' })
  return [title, ...marks]
}

/** Values over their flats; one that would run into its neighbour is left to it. */
const heights = (
  { cut }: TemplateSection,
  scale: number,
  unit: TemplateUnit,
  place: (along: number, height: number) => Place,
): SheetMark[] => {
  let free = -Infinity
  let before: string | undefined
  return stepsOf(cut.loops, 1).flatMap(({ from_mm, to_mm, height_mm }) => {
    const text = figure(height_mm * scale, unit)
    const [x, y] = place((from_mm + to_mm) / 2, height_mm)
    const half = widthOf(text, FIGURES) / 2
    if (x - half < free + 0.6 || (text === before && x - half < free + 6)) return []
    free = x + half
    before = text
    return [words(text, [x, y - 1], FIGURES, { anchor: 'middle' })]
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
      from: place(...low),
      to: place(...high),
      at: solid.left - 7,
      text: figure((high[1] - low[1]) * scale, unit),
    }),
  ]
}
