import type { Heights } from '../documents/index.ts'
import type { PatternProblem, Regions } from './drawing.ts'
import { saidHeightOf } from './height-of.ts'
import type { Relief } from './relief/index.ts'

/** The wax to cut a piece from, at the size of the wax, mm. */
export interface Blank {
  readonly length_mm: number
  readonly width_mm: number
  /** of one piece with what stands on its back and with the rise of a curved one; never less than what is at hand */
  readonly thickness_mm: number
  /** above the flat back: what heights are cut down from */
  readonly face_mm: number
  /** enough without what stands on the back, which is then made by itself; absent where nothing does */
  readonly apart_mm?: number
}

/** Saw and file want this much more wax than the outline, all round. */
const SAW_MM = 1.5
/** Less than this is nothing to a caliper. */
const SHORT_MM = 0.005
/** Short by less than this is less than a hand cuts to */
const NOTHING_MM = 0.1
const NAMED = 4

const upTo = (mm: number, step: number): number => Math.ceil(mm / step - 1e-6) * step
/** Thickness in whole tenths, a size in whole millimetres, upward. */
const thick = (mm: number): number => Number(upTo(mm, 0.1).toFixed(1))
const wide = (mm: number): number => upTo(mm + 2 * SAW_MM, 1)

interface Tall {
  /** above the flat back, before any bending */
  readonly face_mm: number
  /** with the rise of a curved back */
  readonly body_mm: number
  /** with what stands on the back */
  readonly whole_mm: number
}

/** How far a curved back lies off a straight edge laid across it. */
const riseOf = ({ back }: Heights, wide_mm: number): number =>
  back.shape === 'curved'
    ? back.radius_mm * (1 - Math.cos(Math.min(Math.PI / 2, wide_mm / 2 / back.radius_mm)))
    : 0

const wallOver = (heights: Heights, id: string): number => {
  const wanted = saidHeightOf(heights, id)
  return wanted?.role === 'seat' ? (wanted.stone?.wall?.height_mm ?? 0) : 0
}

const tallOf = (relief: Relief, flat: NonNullable<Regions['bounds_mm']>, heights: Heights): Tall => {
  const face_mm = Math.max(0, ...relief.regions.map(({ id, height_mm }) => height_mm + wallOver(heights, id)))
  const body_mm = face_mm + riseOf(heights, flat.max[0] - flat.min[0])
  const { min, max } = relief.bounds_mm ?? { min: [], max: [] }
  const stands = heights.hardware.some(({ kind }) => kind !== 'keeper-slot')
  const span = (max[2] ?? 0) - (min[2] ?? 0)
  return { face_mm, body_mm, whole_mm: stands ? Math.max(body_mm, span) : body_mm }
}

/**
 * The wax that this piece is cut from: as thick as what is at hand, or as it has to be.
 * @param over  how much larger the wax is than the drawing: 1 / (1 - shrink)
 * @returns undefined while there is no solid
 */
export const blankOf = (
  relief: Relief,
  regions: Regions,
  heights: Heights,
  over: number,
): Blank | undefined => {
  const { bounds_mm } = relief
  const flat = regions.bounds_mm
  if (bounds_mm === null || flat === null) return undefined
  const { filing_mm = 0 } = heights
  const span = (axis: 0 | 1): number =>
    Math.max(flat.max[axis] + filing_mm, bounds_mm.max[axis] ?? 0) -
    Math.min(flat.min[axis] - filing_mm, bounds_mm.min[axis] ?? 0)
  const { face_mm, body_mm, whole_mm } = tallOf(relief, flat, heights)
  return {
    length_mm: wide(span(0) * over),
    width_mm: wide(span(1) * over),
    thickness_mm: Math.max(heights.blank_mm, thick(whole_mm * over)),
    face_mm: Math.max(heights.blank_mm, thick(face_mm * over)),
    ...(whole_mm > body_mm + SHORT_MM && { apart_mm: Math.max(heights.blank_mm, thick(body_mm * over)) }),
  }
}

/** What the wax at hand is too thin for. */
export const blankChecks = (
  relief: Relief,
  regions: Regions,
  heights: Heights,
  over: number,
): PatternProblem[] => {
  const flat = regions.bounds_mm
  if (relief.bounds_mm === null || flat === null) return []
  const { blank_mm } = heights
  const { face_mm, body_mm, whole_mm } = tallOf(relief, flat, heights)
  const problems: PatternProblem[] = []
  const high = relief.regions.filter(
    ({ id, height_mm }) => height_mm + wallOver(heights, id) > blank_mm + SHORT_MM,
  )
  const short = body_mm * over - blank_mm
  const enough = thick(body_mm * over)
  const where = 'blank_mm'
  const bent =
    body_mm > face_mm + SHORT_MM ? `, or ${thick(face_mm * over)} mm if it is bent after carving` : ''
  if (high.length > 0) {
    const names = high.slice(0, NAMED).map(({ id }) => `"${id}"`)
    const more = high.length > NAMED ? ` and ${high.length - NAMED} more` : ''
    problems.push({
      kind: 'height-over-blank',
      level: 'check',
      what: `${names.join(', ')}${more} ${high.length === 1 ? 'stands' : 'stand'} higher than the ${blank_mm} mm of wax to cut from`,
      where,
      remedy: `take wax at least ${enough} mm thick${bent}, or build that up`,
    })
  } else if (short > SHORT_MM)
    problems.push({
      kind: 'blank-too-thin',
      // by the shrink of a thin blank alone it is short by less than a hand cuts
      level:
        short < NOTHING_MM ||
        (face_mm > blank_mm - SHORT_MM && !isAsked(relief, heights, face_mm) && bent === '')
          ? 'note'
          : 'check',
      what: `the wax to cut from is ${short.toFixed(2)} mm short: take at least ${enough} mm${bent}`,
      where,
      remedy: 'take thicker wax, or make the highest place lower',
    })
  if (whole_mm > body_mm + SHORT_MM && whole_mm * over > blank_mm + SHORT_MM)
    problems.push({
      kind: 'hardware-behind-blank',
      level: 'check',
      what: `carved of one piece with what stands on its back, it takes wax ${thick(whole_mm * over)} mm thick`,
      where,
      remedy: `take wax of that thickness, or make what stands on the back apart and join it to wax of ${Math.max(blank_mm, enough)} mm`,
    })
  return problems
}

const isAsked = (relief: Relief, heights: Heights, face_mm: number): boolean =>
  relief.regions.some(
    ({ id, height_mm }) =>
      saidHeightOf(heights, id) !== undefined && height_mm + wallOver(heights, id) > face_mm - SHORT_MM,
  )
