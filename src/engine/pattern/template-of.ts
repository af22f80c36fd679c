import type { Heights, RegionHeight } from '../documents/index.ts'
import { sayLengths } from '../quantity/say-lengths.ts'
import { blankChecks, blankOf } from './blank.ts'
import type { Loop, PatternProblem, Region, Regions } from './drawing.ts'
import { groupRegions, type RegionGroup } from './group-regions.ts'
import { footprintOf, sayHardware } from './hardware/index.ts'
import { saidHeightOf } from './height-of.ts'
import { signedArea } from './loops.ts'
import type { PatternReading } from './read-pattern.ts'
import type { Relief } from './relief/index.ts'
import { middleOf, pocketOf } from './relief/seat.ts'
import { sectionOf, throughCast, usualCut } from './section/index.ts'
import {
  type AddedLine,
  figure,
  grown,
  layTemplate,
  type PaperName,
  type RegionNote,
  type ShrinkOver,
  type TemplateLayout,
  type TemplateUnit,
} from './template/index.ts'

export interface TemplateWish {
  readonly name: string
  readonly paper: PaperName
  /** of the alloy it is cast in */
  readonly compensation: ShrinkOver
  readonly unit?: TemplateUnit
  /** what the 100 mm bar of an earlier print measured */
  readonly bar_mm?: number
}

/** Reliefs up to this high have their sections drawn with heights twice as large, so that a step shows. */
const LOW_MM = 12
/** A pocket drawn as its own region needs no second line. */
const SAME_AREA = 0.01
const ON_MIDDLE_MM = 0.05

const notesOf = (groups: readonly RegionGroup[], relief: Relief): RegionNote[] => {
  const built = new Map(relief.regions.map((region) => [region.id, region]))
  return groups.flatMap(({ number, name, named, regions, setting }) =>
    regions.flatMap(({ id }): RegionNote[] => {
      const region = built.get(id)
      if (region === undefined) return []
      return [
        {
          id,
          number,
          ...(named && { name }),
          role: region.role,
          height_mm: region.height_mm,
          ...('edge' in setting && setting.edge ? { edge: setting.edge } : {}),
          ...(setting.role === 'seat' && setting.stone ? { stone: setting.stone } : {}),
        },
      ]
    }),
  )
}

const seatLines = (region: Region, seat: RegionHeight | undefined): AddedLine[] => {
  if (seat?.role !== 'seat' || seat.stone === undefined) return []
  const { stone } = seat
  const pocket = pocketOf(stone, middleOf(region))
  const wells = stone.bearer_mm > 0 && stone.well_mm > 0 ? grown([pocket], -stone.bearer_mm) : []
  const walls = stone.wall === undefined ? [] : grown([pocket], stone.wall.thickness_mm)
  const own = Math.abs(signedArea(pocket) / signedArea(region.outer) - 1) > SAME_AREA ? [pocket] : []
  return [...own, ...wells, ...walls].map((loop: Loop) => ({ id: `${region.id}-stone`, loop, hidden: false }))
}

const hardwareLines = ({ hardware }: Heights): AddedLine[] =>
  hardware.flatMap((one, index) => {
    const { loops, hidden } = footprintOf(one)
    return loops.map((loop) => ({ id: `hardware-${index + 1}`, loop, hidden }))
  })

/** What stands on the back, by its sizes in wax and its place from the middle lines of the sheet. */
const sayAll = (
  { hardware }: Heights,
  bounds: NonNullable<Regions['bounds_mm']>,
  scale: number,
  unit: TemplateUnit,
): string[] => {
  const size = (mm: number): string => figure(mm * scale, unit)
  const [cx, cy] = [(bounds.min[0] + bounds.max[0]) / 2, (bounds.min[1] + bounds.max[1]) / 2]
  return hardware.map((one) => {
    const [dx, dy] = [one.at_mm[0] - cx, one.at_mm[1] - cy]
    const off = (mm: number, less: string, more: string): string[] =>
      Math.abs(mm) < ON_MIDDLE_MM ? [] : [`${size(Math.abs(mm))} ${mm < 0 ? less : more}`]
    const places = [...off(dx, 'left', 'right'), ...off(dy, 'below', 'above')]
    const place = places.length === 0 ? 'on the middle' : `${places.join(' and ')} of the middle`
    return `${sayHardware(one, size, (mm) => figure(mm, unit))}; its place is ${place}.`
  })
}

const ended = ({ what, remedy }: PatternProblem, unit: TemplateUnit): string =>
  sayLengths(`${what.charAt(0).toUpperCase()}${what.slice(1)}; ${remedy}.`, unit)

/** What is cut down is not always the whole of the wax: it may be bent afterwards, or have something on its back. */
const sayCutFrom = (
  blank: ReturnType<typeof blankOf>,
  { back, hardware }: Heights,
  unit: TemplateUnit,
): string[] => {
  if (blank === undefined || blank.thickness_mm - blank.face_mm < ON_MIDDLE_MM) return []
  const [face, whole] = [figure(blank.face_mm, unit), figure(blank.thickness_mm, unit)]
  const ways = [
    ...(back.shape === 'curved' ? ['bent after carving'] : []),
    ...(hardware.length > 0 ? ['with what stands on its back made apart'] : []),
  ]
  return [
    `What is cut down is from flat wax ${face} thick, ${ways.join(' and ')}. Carved of one piece from ${whole}, go by the heights alone.`,
  ]
}

/** A stone does not shrink and its seat does: what the stone is tried in before casting. */
const saySeats = (groups: readonly RegionGroup[], scale: number, unit: TemplateUnit): string[] =>
  groups.flatMap(({ number, setting }) => {
    if (setting.role !== 'seat' || setting.stone === undefined) return []
    const { length_mm, width_mm, gap_mm } = setting.stone
    const [long, wide] = [length_mm, width_mm].map((mm) => figure((mm + 2 * gap_mm) * scale, unit))
    return [`Seat ${number} is ${long} × ${wide} in wax: the stone, its room all round, and the shrink.`]
  })

/** A template of the wax: over by the shrink and by what is left for the file, each where the heights say so. */
export const templateOf = (
  reading: PatternReading,
  relief: Relief,
  heights: Heights,
  { name, paper, compensation, unit = 'mm', bar_mm }: TemplateWish,
): TemplateLayout => {
  const { regions, bounds_mm } = reading.regions
  const groups = groupRegions(regions, heights)
  const shrinks = heights.over === 'shrink' ? compensation : { shrink: 0 }
  const applied = { ...shrinks, finish_mm: heights.filing_mm ?? 0 }
  const scale = 1 / (1 - applied.shrink)
  const blank = blankOf(relief, reading.regions, heights, scale)
  const checks = blankChecks(relief, reading.regions, heights, scale)
  const { filing_mm = 0 } = heights
  const cuts =
    heights.sections.length > 0 || bounds_mm === null ? heights.sections : [usualCut(bounds_mm, groups)]
  const low = heights.back.shape !== 'curved' && (blank?.face_mm ?? LOW_MM) < LOW_MM
  const layout = layTemplate({
    name,
    paper,
    unit,
    regions,
    regionHeights: notesOf(groups, relief),
    veins: reading.regions.veins,
    blank: blank ?? { thickness_mm: heights.blank_mm },
    sections: cuts.map(({ name: letter, from_mm, to_mm }) => ({
      name: letter,
      from_mm,
      to_mm,
      // the line was drawn before bending, and heights are of the unbent wax
      cut: sectionOf(relief.unbent ?? relief.mesh, ...throughCast({ from_mm, to_mm }, filing_mm)),
      heightsTimes: low ? 2 : 1,
    })),
    compensation: applied,
    addedLines: [
      ...hardwareLines(heights),
      ...regions.flatMap((region) => seatLines(region, saidHeightOf(heights, region.id))),
    ],
    remarks: [
      ...(bounds_mm === null ? [] : sayAll(heights, bounds_mm, scale, unit)),
      ...sayCutFrom(blank, heights, unit),
      ...saySeats(groups, scale, unit),
      ...checks.map((check) => ended(check, unit)),
    ],
    back: heights.back,
    ...(bar_mm === undefined ? {} : { printer: { bar_mm } }),
  })
  return { ...layout, problems: [...layout.problems, ...checks] }
}
