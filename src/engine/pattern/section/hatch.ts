import type { Loop } from '../drawing.ts'

/** Hatching at 45 degrees, rising to the right where y is up: pieces of line inside the loops (even-odd). */
export const hatch = (loops: readonly Loop[], apart_mm: number): Loop[] => {
  const turn = Math.SQRT1_2
  // turned so that the hatching runs level: along = (x + y), height = (y - x), both over the root of two
  const turned = loops.map((points) => {
    const out = new Float64Array(points.length)
    for (let i = 0; i < points.length; i += 2) {
      const [x, y] = [points[i] ?? 0, points[i + 1] ?? 0]
      out[i] = (x + y) * turn
      out[i + 1] = (y - x) * turn
    }
    return out
  })
  const heights = turned.flatMap((points) => [...points].filter((_, i) => i % 2 === 1))
  const low = heights.reduce((a, b) => Math.min(a, b), Infinity)
  const high = heights.reduce((a, b) => Math.max(a, b), -Infinity)
  const lines: Loop[] = []
  if (!(high > low)) return lines
  for (let row = Math.ceil(low / apart_mm); row * apart_mm < high; row += 1) {
    const level = row * apart_mm
    const crossings: number[] = []
    for (const points of turned)
      for (let i = 0, n = points.length; i < n; i += 2) {
        const j = (i + 2) % n
        const [ax = 0, ay = 0, bx = 0, by = 0] = [points[i], points[i + 1], points[j], points[j + 1]]
        if (ay >= level !== by >= level) crossings.push(ax + ((level - ay) / (by - ay)) * (bx - ax))
      }
    crossings.sort((a, b) => a - b)
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const [start = 0, end = 0] = [crossings[i], crossings[i + 1]]
      lines.push(
        Float64Array.of(
          (start - level) * turn,
          (start + level) * turn,
          (end - level) * turn,
          (end + level) * turn,
        ),
      )
    }
  }
  return lines
}
