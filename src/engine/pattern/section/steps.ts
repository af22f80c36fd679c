import type { Loop } from '../drawing.ts'

/** A flat of the cut's upper side, or the top of a swelling. */
export interface Step {
  readonly from_mm: number
  readonly to_mm: number
  readonly height_mm: number
}

/** A slope of less than this counts as flat. */
const FLAT = 0.02

/**
 * The heights worth writing over a cut, from left to right: every flat at least `least_mm` long that faces up
 * and has nothing above it, and the summit of every swelling that has no such flat. Loops have y up.
 */
export const stepsOf = (loops: readonly Loop[], least_mm: number): Step[] => {
  const edges: { ax: number; ay: number; bx: number; by: number }[] = []
  for (const points of loops)
    for (let i = 0, n = points.length; i < n; i += 2) {
      const j = (i + 2) % n
      const [ax = 0, ay = 0, bx = 0, by = 0] = [points[i], points[i + 1], points[j], points[j + 1]]
      // with the solid to the left, an upper side runs from right to left
      if (ax > bx) edges.push({ ax: bx, ay: by, bx: ax, by: ay })
    }
  const topAt = (x: number): number =>
    edges.reduce(
      (top, { ax, ay, bx, by }) =>
        x < ax || x > bx ? top : Math.max(top, ay + ((x - ax) / (bx - ax)) * (by - ay)),
      -Infinity,
    )
  edges.sort((a, b) => a.ax - b.ax)
  const visible = edges.filter(({ ax, ay, bx, by }) => topAt((ax + bx) / 2) <= (ay + by) / 2 + 1e-6)
  const flats: Step[] = []
  for (const { ax, ay, bx, by } of visible) {
    if (Math.abs(by - ay) > FLAT * (bx - ax)) continue
    const last = flats.at(-1)
    const height = (ay + by) / 2
    if (last && Math.abs(last.to_mm - ax) < 1e-4 && Math.abs(last.height_mm - height) < FLAT)
      flats[flats.length - 1] = { ...last, to_mm: bx }
    else flats.push({ from_mm: ax, to_mm: bx, height_mm: height })
  }
  const long = flats.filter(({ from_mm, to_mm }) => to_mm - from_mm >= least_mm)
  const summits = visible.flatMap(({ ay, bx, by }, index): Step[] => {
    const after = visible[index + 1]
    if (by <= ay || after === undefined || Math.abs(after.ax - bx) > 1e-4) return []
    // up to here and down from here, perhaps over a short flat
    const onward = visible.slice(index + 1).find(({ ay: y0, by: y1 }) => Math.abs(y1 - y0) > 1e-9)
    if (onward === undefined || onward.by >= onward.ay || Math.abs(onward.ay - by) > FLAT) return []
    const half = least_mm / 2
    return [{ from_mm: bx - half, to_mm: bx + half, height_mm: by }].filter(
      ({ from_mm, to_mm, height_mm }) =>
        !long.some(
          (flat) =>
            flat.from_mm < to_mm && flat.to_mm > from_mm && Math.abs(flat.height_mm - height_mm) < 0.05,
        ),
    )
  })
  return [...long, ...summits].sort((a, b) => a.from_mm - b.from_mm)
}
