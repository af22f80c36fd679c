import type { RegionEdge } from '../../documents/index.ts'

/** One line of the edge: so far in from the outline, so far below the region's height; both in mm. */
export interface Step {
  readonly inset: number
  readonly below: number
}

/** Largest distance between a curved edge and the flat facets that stand for it, mm. */
export const CHORD_MM = 0.003
/** Rings are never further apart: where an inset shape parts or runs out, it is followed this closely. */
const WIDEST_STEP_MM = 0.2
const FEWEST_STEPS = 4
const MOST_STEPS = 48
/** Rings nearer than this would be one line. */
const LEAST_STEP_MM = 0.004

/**
 * How far below the region's height its surface lies, `inset` mm in from the outline.
 * `rounded` is a quarter of an ellipse, upright at the outline; `domed` an arc of a circle that is level at
 * `width_mm`, or that same quarter of an ellipse when it is to be taller than wide.
 */
export const depthAt = (edge: RegionEdge, inset: number): number => {
  if (edge.shape === 'square' || inset >= edge.width_mm) return 0
  const { width_mm: width, height_mm: height } = edge
  const left = Math.max(0, 1 - Math.max(0, inset) / width)
  if (edge.shape === 'bevelled') return height * left
  if (edge.shape === 'domed' && height < width) {
    const radius = arcRadius(width, height)
    return radius - Math.sqrt(radius ** 2 - (left * width) ** 2)
  }
  return height * (1 - Math.sqrt(1 - left ** 2))
}

/** Of the arc that is level at its width; never less than that, by rounding, where both are nearly one. */
const arcRadius = (width: number, height: number): number =>
  Math.max(width, (width ** 2 + height ** 2) / (2 * height))

/** Lines of the edge from its outline inward, the first at 0 and the last at its width. */
export const stepsOf = (edge: RegionEdge): Step[] => {
  if (edge.shape === 'square') return [{ inset: 0, below: 0 }]
  const insets = insetsOf(edge)
  return insets.map((inset) => ({ inset, below: depthAt(edge, inset) }))
}

const insetsOf = (edge: Exclude<RegionEdge, { shape: 'square' }>): number[] => {
  const { width_mm: width, height_mm: height } = edge
  const even = (count: number): number[] => Array.from({ length: count + 1 }, (_, i) => (width * i) / count)
  const count = (least: number): number =>
    Math.min(MOST_STEPS, Math.max(least, Math.ceil(width / WIDEST_STEP_MM)))
  if (edge.shape === 'bevelled') return even(count(FEWEST_STEPS))
  if (edge.shape === 'domed' && height < width) {
    const radius = arcRadius(width, height)
    const whole = Math.asin(width / radius)
    const steps = count(Math.max(FEWEST_STEPS, Math.ceil(whole / Math.sqrt((8 * CHORD_MM) / radius))))
    return Array.from({ length: steps + 1 }, (_, i) => width - radius * Math.sin(whole * (1 - i / steps)))
  }
  const quarter = Math.PI / 2 / Math.sqrt((8 * CHORD_MM) / Math.max(width, height))
  const steps = count(Math.max(FEWEST_STEPS, Math.ceil(quarter)))
  const round = Array.from(
    { length: steps + 1 },
    (_, i) => width * (1 - Math.cos((Math.PI / 2) * (i / steps))),
  )
  return round.filter((inset, i) => i === 0 || inset - (round[i - 1] ?? 0) > LEAST_STEP_MM)
}
