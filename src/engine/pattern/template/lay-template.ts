import type { Heights } from '../../documents/index.ts'
import type { PatternProblem, Region } from '../drawing.ts'
import { kindsOf } from './badges.ts'
import { type Compensation, compensate, type WaxLines } from './compensate.ts'
import { figure, type RegionNote, smallFigure, type TemplateUnit } from './figures.ts'
import { careNote, headOf, sayCompensation, titleBlock } from './furniture.ts'
import { box, boxOf, inLines, moved, type SheetMark, words } from './marks.ts'
import { FOOT, HEAD, MARGIN, type Paper, type PaperName, paperOf } from './paper.ts'
import { type AddedLine, type PlanView, viewPlan } from './plan-view.ts'
import { type Correction, correctPrinter, type PrinterBars, sayMeasured } from './printer.ts'
import { blankProblems, tooManySheets } from './problems.ts'
import { regionTable, rowsThatFit, tableHeight } from './region-table.ts'
import { rowsOfSections, type TemplateSection, viewSection } from './section-view.ts'
import { keepWhole, OVERLAP, type Tile, type Tiling, tileOver } from './tiles.ts'

export interface TemplateInput {
  readonly name: string
  /** the finished drawing */
  readonly regions: readonly Region[]
  /** a region without a note is drawn, and has no number */
  readonly regionHeights: readonly RegionNote[]
  /** lines of the finished drawing that divide nothing, cut as lines */
  readonly veins?: readonly Float64Array[]
  readonly blank: {
    readonly thickness_mm: number
    /** above the flat back, where that is less than the whole */
    readonly face_mm?: number
    readonly length_mm?: number
    readonly width_mm?: number
  }
  readonly sections?: readonly TemplateSection[]
  readonly compensation: Compensation
  readonly printer?: PrinterBars
  readonly paper: PaperName
  readonly unit?: TemplateUnit
  /** scaled with the rest, not moved for filing */
  readonly addedLines?: readonly AddedLine[]
  readonly back?: Heights['back']
  /** sentences to stand below the depth notes, each on a line of its own, such as what is soldered on */
  readonly remarks?: readonly string[]
  /** draws the line that the saw keeps outside of, this far from the outline */
  readonly sawClear_mm?: number
}

/** A part of a drawing shown through a window of the sheet. */
export interface Window {
  readonly marks: readonly SheetMark[]
  /** added to the marks' places to bring them on the sheet */
  readonly moved: readonly [number, number]
  readonly x: number
  readonly y: number
  readonly width_mm: number
  readonly height_mm: number
}

export interface TemplateSheet {
  readonly number: number
  readonly paper: Paper
  readonly marks: readonly SheetMark[]
  readonly window?: Window
}

export interface TemplateLayout {
  readonly name: string
  readonly unit: TemplateUnit
  readonly correction: Correction
  readonly sheets: readonly TemplateSheet[]
  /** the lines alone, at the size of the wax */
  readonly wax: WaxLines
  /** what the drawing itself does not hold: hardware and stones, of the finished piece */
  readonly added: readonly AddedLine[]
  readonly through: ReadonlySet<string>
  readonly problems: readonly PatternProblem[]
}

interface Filled {
  readonly paper: Paper
  readonly marks: SheetMark[]
  /** where the next block begins, and where the first one did */
  free: number
  readonly top: number
  readonly tile?: Tile
  readonly window?: Window
}

/** The sheets being filled, top to bottom. */
class Filling {
  readonly sheets: Filled[] = []
  readonly paper: Paper

  constructor(paper: Paper) {
    this.paper = paper
  }

  begin(shown: Pick<Filled, 'tile' | 'window'> = {}): Filled {
    const top = this.sheets.length === 0 && shown.tile === undefined ? HEAD.first : HEAD.next
    const sheet = { paper: this.paper, marks: [], free: top, top, ...shown }
    this.sheets.push(sheet)
    return sheet
  }

  get #last(): Filled {
    return this.sheets.at(-1) ?? this.begin()
  }

  get roomLeft(): number {
    return this.paper.height_mm - FOOT - this.#last.free
  }

  /** Puts a block on this sheet, or on the next where it does not fit. */
  put(marks: readonly SheetMark[], gap: number, place: 'left' | 'middle'): void {
    const { left, right, top, bottom } = boxOf(marks)
    if (this.roomLeft < bottom - top && this.#last.free > this.#last.top) this.begin()
    const sheet = this.#last
    const x = place === 'left' ? MARGIN - left : (this.paper.width_mm - (right - left)) / 2 - left
    sheet.marks.push(...moved(marks, x, sheet.free - top))
    sheet.free += bottom - top + gap
  }
}

/** How the lines and figures are meant, as far as this template has them. */
const waysOf = (
  { sawClear_mm, blank, back, addedLines, veins }: TemplateInput,
  scale: number,
  unit: TemplateUnit,
): string =>
  [
    'Heights are wax thicknesses from the flat back; sizes are of the wax.',
    'Transfer the heavy line first, and keep the outside of it.',
    sawClear_mm === undefined
      ? 'Chain lines are centres.'
      : `Chain lines across are centres; the one round the outline, ${smallFigure(sawClear_mm, unit)} off, is for the saw.`,
    ...(blank.length_mm === undefined ? [] : ['The line with two dots is the edge of the wax to cut from.']),
    ...(veins === undefined || veins.length === 0
      ? []
      : ['The finest lines within are cut as lines, such as veins; they have no depth here.']),
    ...(addedLines?.some(({ hidden }) => hidden) ? ['Dashed lines are on the back.'] : []),
    ...(back?.shape === 'hollow'
      ? [`Hollow the back last, to an even ${figure(back.wall_mm * scale, unit)}.`]
      : []),
    ...(back?.shape === 'curved'
      ? [
          `Heights are before bending; bend the back to a radius of ${figure(back.radius_mm * scale, unit)}, the wax warmed through: cold it snaps.`,
        ]
      : []),
  ].join(' ')

/** What a sheet shows of a drawing that takes several. */
const windowOf = (paper: Paper): { readonly width_mm: number; readonly height_mm: number } => ({
  width_mm: paper.width_mm - 2 * MARGIN,
  height_mm: paper.height_mm - HEAD.next - FOOT,
})

/** Which way the paper lies: upright if the plan fits, else turned if that fits or takes fewer sheets. */
const choosePaper = (name: PaperName, correction: Correction, plan: ReturnType<typeof boxOf>) => {
  const options = [false, true].map((turned) => {
    const paper = paperOf(name, turned, correction)
    const wide = paper.width_mm - 2 * MARGIN
    const whole = paper.height_mm - HEAD.first - FOOT
    const fits = plan.right - plan.left <= wide && plan.bottom - plan.top <= whole
    const { width_mm, height_mm } = windowOf(paper)
    const tiling: Tiling | undefined = fits ? undefined : tileOver(plan, width_mm, height_mm)
    return { paper, tiling, sheets: tiling?.tiles.length ?? 0 }
  })
  return options.reduce((best, option) => (option.sheets < best.sheets ? option : best))
}

/**
 * A drawing as sheets of lines, notes and sizes in millimetres, at the size of the wax. Nothing throws for a
 * drawing that is bad; what is off is in `problems`.
 */
export const layTemplate = (input: TemplateInput): TemplateLayout => {
  const unit = input.unit ?? 'mm'
  const { correction, problems } = correctPrinter(input.printer)
  const through = new Set(input.regionHeights.filter(({ role }) => role === 'through').map(({ id }) => id))
  const wax = compensate(input.regions, through, input.compensation, input.veins)
  const layout = {
    name: input.name,
    unit,
    correction,
    wax,
    added: input.addedLines ?? [],
    through,
    problems: [...problems, ...wax.problems, ...blankProblems(input.regionHeights, wax, input.blank)],
  }
  if (wax.outline.length === 0) return { ...layout, sheets: [] }
  const { marks: plan } = viewPlan(planViewOf(input, wax, unit))
  const { paper, tiling } = choosePaper(input.paper, correction, boxOf(plan))
  const tooMany = tooManySheets(tiling?.tiles.length ?? 1)
  if (tooMany.length > 0) return { ...layout, problems: [...layout.problems, ...tooMany], sheets: [] }
  const filling = new Filling(paper)
  if (tiling === undefined) filling.put(plan, 7, 'middle')
  else layTiles(filling, tiling, plan)
  putTable(filling, input, wax, unit)
  putSections(filling, input, wax, unit)
  return { ...layout, sheets: finish(filling, input, wax, unit, tiling, correction) }
}

const planViewOf = (input: TemplateInput, wax: WaxLines, unit: TemplateUnit): PlanView => ({
  wax,
  notes: input.regionHeights,
  sections: input.sections ?? [],
  added: input.addedLines ?? [],
  ...(input.blank.length_mm !== undefined && input.blank.width_mm !== undefined
    ? { blank: { length_mm: input.blank.length_mm, width_mm: input.blank.width_mm } }
    : {}),
  ...(input.sawClear_mm === undefined ? {} : { sawClear_mm: input.sawClear_mm }),
  unit,
})

const layTiles = (filling: Filling, tiling: Tiling, plan: readonly SheetMark[]): void => {
  const size = windowOf(filling.paper)
  const marks = [...keepWhole(plan, tiling, size.width_mm, size.height_mm), ...tiling.crosses]
  for (const tile of tiling.tiles) {
    const window = {
      marks,
      moved: [MARGIN - tile.x, HEAD.next - tile.y] as const,
      x: MARGIN,
      y: HEAD.next,
      ...size,
    }
    filling.begin({ tile, window }).marks.push(box('tick', MARGIN, HEAD.next, size.width_mm, size.height_mm))
  }
  filling.begin()
}

const putTable = (filling: Filling, input: TemplateInput, wax: WaxLines, unit: TemplateUnit): void => {
  const rows = kindsOf(input.regionHeights, wax.scale, unit)
  const wide_mm = filling.paper.width_mm - 2 * MARGIN
  const given = { scale: wax.scale, blank_mm: input.blank.face_mm ?? input.blank.thickness_mm, unit, wide_mm }
  let done = 0
  while (done < rows.length) {
    const left = rows.length - done
    if (tableHeight(Math.min(left, 3)) > filling.roomLeft) filling.begin()
    const take = Math.min(left, Math.max(1, rowsThatFit(filling.roomLeft)))
    filling.put(regionTable({ ...given, kinds: rows.slice(done, done + take) }), 7, 'left')
    done += take
  }
  const lines = [waysOf(input, wax.scale, unit), ...(input.remarks ?? [])].flatMap((said) =>
    inLines(said, 3.1, wide_mm),
  )
  filling.put(
    lines.map((text, index) => words(text, [0, 4.4 * index], 3.1)),
    8,
    'left',
  )
}

const putSections = (filling: Filling, input: TemplateInput, wax: WaxLines, unit: TemplateUnit): void => {
  const wide = filling.paper.width_mm - 2 * MARGIN
  const views = (input.sections ?? [])
    .filter(({ cut }) => cut.loops.length > 0)
    .map((section) => viewSection(section, wax.scale, unit, wide))
  for (const row of rowsOfSections(views, wide)) filling.put(row, 8, 'left')
}

/** Which of the sheets this one is, as a small map: its own place drawn heavy. */
const pageMap = (x: number, y: number, tiling: Tiling, here: Tile): SheetMark[] => {
  const size = Math.min(6, 20 / Math.max(tiling.columns, tiling.rows))
  return [
    ...tiling.tiles.map(({ column, row }) => box('thin', x + column * size, y + row * size, size, size)),
    ...tiling.tiles.map(({ column, row }, index) =>
      words(`${index + 1}`, [x + (column + 0.5) * size, y + (row + 0.5) * size + 0.9], 2.5, {
        anchor: 'middle',
        face: here.column === column && here.row === row ? 'semibold' : 'regular',
      }),
    ),
    box('outline', x + here.column * size, y + here.row * size, size, size),
  ]
}

const JOIN = `Sheets share ${OVERLAP} mm. Cut along one frame and lay cross on cross of the same number.`

/** What the foot of a part says beside its title block. */
const joinNote = (paper: Paper, tiling: Tiling, tile: Tile): SheetMark[] => {
  const top = paper.height_mm - 36
  return [
    ...pageMap(MARGIN, top, tiling, tile),
    ...inLines(JOIN, 2.6, 40).map((text, index) => words(text, [MARGIN + 24, top + 2.4 + 3.4 * index], 2.6)),
  ]
}

const finish = (
  filling: Filling,
  input: TemplateInput,
  wax: WaxLines,
  unit: TemplateUnit,
  tiling: Tiling | undefined,
  correction: Correction,
): TemplateSheet[] => {
  const { length_mm, width_mm, thickness_mm } = input.blank
  const sizes = length_mm === undefined || width_mm === undefined ? [] : [length_mm, width_mm]
  const stock = [...sizes, thickness_mm].map((mm) => figure(mm, unit)).join(' × ')
  const block = {
    piece: input.name,
    stock: sizes.length === 0 ? `${stock} thick` : stock,
    shrink: wax.scale === 1 ? 'none' : `wax = cast × ${wax.scale.toFixed(3)}`,
    unit,
  }
  const measured = sayMeasured(input.printer, correction)
  const head = {
    name: input.name,
    under: `Template, full size. ${sayCompensation(input.compensation, unit)}`,
    ...(measured === undefined ? {} : { measured }),
  }
  return filling.sheets.map(({ paper, marks, window, tile }, index) => ({
    number: index + 1,
    paper,
    ...(window === undefined ? {} : { window }),
    marks: [
      ...headOf(paper, head, index === 0 && tile === undefined),
      ...marks,
      ...titleBlock(paper, block, index + 1, filling.sheets.length),
      ...(tile === undefined || tiling === undefined ? careNote(paper) : joinNote(paper, tiling, tile)),
    ],
  }))
}
