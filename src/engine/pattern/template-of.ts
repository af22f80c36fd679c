import type { Heights } from '../documents/index.ts'
import type { PatternReading } from './read-pattern.ts'
import type { Relief } from './relief/index.ts'
import { sectionOf } from './section/index.ts'
import {
  AS_DRAWN,
  type Compensation,
  layTemplate,
  type PaperName,
  type RegionNote,
  type TemplateLayout,
  type TemplateUnit,
} from './template/index.ts'

export interface TemplateWish {
  readonly name: string
  readonly paper: PaperName
  readonly compensation: Compensation
  readonly unit?: TemplateUnit
  /** what the 100 mm bar of an earlier print measured */
  readonly bar_mm?: number
}

const noteOf = (heights: Heights, { id, role, height_mm }: Relief['regions'][number]): RegionNote => {
  const wanted = heights.regions[id]
  return {
    id,
    role,
    height_mm,
    ...(wanted && 'edge' in wanted && wanted.edge ? { edge: wanted.edge } : {}),
    ...(wanted?.role === 'seat' && wanted.stone ? { stone: wanted.stone } : {}),
  }
}

/** A template of the wax: over by the shrink where the heights say so, else as drawn. */
export const templateOf = (
  reading: PatternReading,
  relief: Relief,
  heights: Heights,
  { name, paper, compensation, unit, bar_mm }: TemplateWish,
): TemplateLayout =>
  layTemplate({
    name,
    paper,
    unit,
    regions: reading.regions.regions,
    regionHeights: relief.regions.map((region) => noteOf(heights, region)),
    blank: { thickness_mm: heights.blank_mm },
    sections: heights.sections.map((line) => ({
      ...line,
      cut: sectionOf(relief.mesh, line.from_mm, line.to_mm),
    })),
    compensation: heights.over === 'shrink' ? compensation : AS_DRAWN,
    back: heights.back,
    ...(bar_mm === undefined ? {} : { printer: { bar_mm } }),
  })
