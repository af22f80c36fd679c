import type { Loop, Place } from '../drawing.ts'
import { kindsOf, numberRegions } from './badges.ts'
import { grown, type WaxLines } from './compensate.ts'
import { across, arrow, upright } from './dimension.ts'
import { figure, type RegionNote, type TemplateUnit } from './figures.ts'
import { type Box, boxOf, line, loops, type SheetMark, words } from './marks.ts'

/** How far lines of centre and cut run past the outline. */
const PAST = 5
const DIMENSION = 10

export interface PlacedSection {
  readonly name: string
  readonly from_mm: Place
  readonly to_mm: Place
}

/** A line that the drawing itself does not hold, of the finished piece: a seat's well, a slot, a loop on the back. */
export interface AddedLine {
  readonly id: string
  readonly loop: Loop
  /** on the back, and so drawn dashed */
  readonly hidden: boolean
}

export interface PlanView {
  readonly wax: WaxLines
  readonly notes: readonly RegionNote[]
  readonly sections: readonly PlacedSection[]
  readonly added: readonly AddedLine[]
  /** of the finished drawing, not yet scaled; the wax to cut from */
  readonly blank?: { readonly length_mm: number; readonly width_mm: number }
  readonly sawClear_mm?: number
  readonly unit: TemplateUnit
}

const down = (points: Loop): Loop => points.map((value, index) => (index % 2 === 0 ? value : -value))

/** From a place to the box along a way; 0 where it is inside already. */
const toBox = ([x, y]: Place, [dx, dy]: Place, { left, right, top, bottom }: Box): number => {
  const enter = (at: number, way: number, low: number, high: number): readonly [number, number] =>
    way === 0
      ? at >= low && at <= high
        ? [-Infinity, Infinity]
        : [Infinity, -Infinity]
      : [Math.min((low - at) / way, (high - at) / way), Math.max((low - at) / way, (high - at) / way)]
  const [a, b] = [enter(x, dx, left, right), enter(y, dy, top, bottom)]
  const [from, to] = [Math.max(a[0], b[0]), Math.min(a[1], b[1])]
  return from <= to && from > 0 ? from : 0
}

/** Between the outline and the ends of a cut. */
const CUT_CLEAR = 2.5

/**
 * Where a cut runs: wide short ends outside the outline, arrows the way one looks, its letter. Nothing is drawn
 * across the piece itself, whose lines are to be transferred.
 */
const cutLine = ({ name, from_mm, to_mm }: PlacedSection, scale: number, outline: Box): SheetMark[] => {
  const start: Place = [from_mm[0] * scale, -from_mm[1] * scale]
  const stop: Place = [to_mm[0] * scale, -to_mm[1] * scale]
  const whole = Math.hypot(stop[0] - start[0], stop[1] - start[1])
  if (whole === 0) return []
  const [dx, dy] = [(stop[0] - start[0]) / whole, (stop[1] - start[1]) / whole]
  const near = {
    left: outline.left - CUT_CLEAR,
    right: outline.right + CUT_CLEAR,
    top: outline.top - CUT_CLEAR,
    bottom: outline.bottom + CUT_CLEAR,
  }
  const isInside = ([x, y]: Place): boolean =>
    x > outline.left && x < outline.right && y > outline.top && y < outline.bottom
  // a cut placed past the outline by less than the clearance begins at the clearance all the same
  const reach = ([x, y]: Place, way: number): Place => {
    if (isInside([x, y])) return [x, y]
    const far: Place = [x - way * dx * 1e4, y - way * dy * 1e4]
    const by = toBox(far, [way * dx, way * dy], near)
    return by === 0 ? [x, y] : [far[0] + way * dx * by, far[1] + way * dy * by]
  }
  const [ax, ay] = reach(start, 1)
  const [bx, by] = reach(stop, -1)
  // to the left of the way from one end to the other, which on paper is up for a cut drawn to the right
  const [lx, ly] = [dy, -dx]
  const end = (x: number, y: number, way: number): SheetMark[] => {
    const tip: Place = [x + way * dx * 5 + lx * 5.5, y + way * dy * 5 + ly * 5.5]
    const foot: Place = [x + way * dx * 5, y + way * dy * 5]
    return [
      line('plane-end', [x, y], foot),
      line('region', foot, tip),
      arrow(tip, [lx, ly], 3),
      words(name, [tip[0] + way * dx * 3.2 - lx, tip[1] + way * dy * 3.2 + 1.3 - ly], 4, {
        anchor: 'middle',
        face: 'semibold',
      }),
    ]
  }
  return [...end(ax, ay, -1), ...end(bx, by, 1)]
}

/** The piece from above at the size of the wax, y down, about the drawing's own origin. */
export const viewPlan = (view: PlanView): { marks: SheetMark[]; outline: Box } => {
  const { wax, unit, sections } = view
  const rim = wax.outline.map(down)
  const regions = wax.regions.map(({ id, outer, holes, at_mm: [x, y] }) => ({
    id,
    outer: down(outer),
    holes: holes.map(down),
    at_mm: [x, -y] as const,
  }))
  const outline = boxOf([loops('outline', rim)])
  const { left, right, top, bottom } = outline
  const [cx, cy] = [(left + right) / 2, (top + bottom) / 2]
  const marks: SheetMark[] = [
    ...wax.inner.map(
      ({ points, closed, id }): SheetMark => ({
        shape: 'stroke',
        line: 'region',
        runs: [{ points: down(points), closed }],
        id,
      }),
    ),
    ...wax.veins.map(
      (points): SheetMark => ({
        shape: 'stroke',
        line: 'vein',
        runs: [{ points: down(points), closed: false }],
      }),
    ),
    ...view.added.map(({ id, loop, hidden }) =>
      loops(hidden ? 'hidden' : 'region', [down(loop.map((value) => value * wax.scale))], id),
    ),
    loops('outline', rim),
    line('centre', [left - PAST, cy], [right + PAST, cy]),
    line('centre', [cx, top - PAST], [cx, bottom + PAST]),
  ]
  if (view.sawClear_mm !== undefined) marks.push(loops('saw', grown(wax.outline, view.sawClear_mm).map(down)))
  if (view.blank !== undefined) {
    const [wide, high] = [view.blank.length_mm, view.blank.width_mm]
    marks.push(
      loops('blank', [
        Float64Array.of(
          cx - wide / 2,
          cy - high / 2,
          cx + wide / 2,
          cy - high / 2,
          cx + wide / 2,
          cy + high / 2,
          cx - wide / 2,
          cy + high / 2,
        ),
      ]),
    )
  }
  const ends = sections.flatMap((section) => cutLine(section, wax.scale, outline))
  marks.push(...ends)
  const endsHeld = ends.flatMap((mark) => (mark.shape === 'words' ? [{ at: mark.at, radius: 5 }] : []))
  const outer = boxOf(marks)
  marks.push(
    ...numberRegions(
      regions,
      kindsOf(view.notes, wax.scale, unit),
      { left: outer.left - 5, right: outer.right + 5 },
      outline,
      [cy, ...sections.flatMap(({ from_mm, to_mm }) => [-from_mm[1] * wax.scale, -to_mm[1] * wax.scale])],
      endsHeld,
    ),
  )
  const all = boxOf(marks)
  const over = (size: number): string =>
    wax.scale === 1
      ? figure(size, unit)
      : `${figure(size, unit)} wax (${figure(size / wax.scale, unit)} cast)`
  const farthest = (pick: (x: number, y: number) => number): Place => {
    let best: Place = [0, 0]
    let most = -Infinity
    for (const loop of rim)
      for (let i = 0; i < loop.length; i += 2) {
        const place: Place = [loop[i] ?? 0, loop[i + 1] ?? 0]
        const value = pick(...place)
        if (value > most) [most, best] = [value, place]
      }
    return best
  }
  marks.push(
    ...across({
      from: farthest((x, y) => -x - 1e-6 * y),
      to: farthest((x, y) => x - 1e-6 * y),
      at: Math.min(all.top - 3, top - DIMENSION),
      text: over(right - left),
    }),
    ...upright({
      from: farthest((x, y) => -y - 1e-6 * x),
      to: farthest((x, y) => y - 1e-6 * x),
      at: Math.min(all.left - 4, left - DIMENSION),
      text: over(bottom - top),
    }),
  )
  return { marks, outline }
}
