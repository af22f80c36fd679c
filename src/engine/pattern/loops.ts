import type { Loop } from './drawing.ts'

/** Area within a closed loop of x, y, x, y ..., positive where it runs anticlockwise. */
export const signedArea = (loop: ArrayLike<number>): number => {
  const last = loop.length - 2
  // Measured from the first point, so that a loop far from the origin keeps its digits.
  const x0 = loop[0] as number
  const y0 = loop[1] as number
  let twice = 0
  for (let i = 0, j = last; i <= last; j = i, i += 2)
    twice +=
      ((loop[j] as number) - x0) * ((loop[i + 1] as number) - y0) -
      ((loop[i] as number) - x0) * ((loop[j + 1] as number) - y0)
  return twice / 2
}

/** Length round a closed loop. */
export const lengthRound = (loop: Loop): number => {
  const last = loop.length - 2
  let sum = 0
  for (let i = 0, j = last; i <= last; j = i, i += 2)
    sum += Math.hypot(
      (loop[i] as number) - (loop[j] as number),
      (loop[i + 1] as number) - (loop[j + 1] as number),
    )
  return sum
}

/** Whether a place lies inside loops taken together, a hole's inside being out. */
export const isInside = (loops: readonly Loop[], x: number, y: number): boolean => {
  let inside = false
  for (const loop of loops) {
    const last = loop.length - 2
    for (let i = 0, j = last; i <= last; j = i, i += 2) {
      const yi = loop[i + 1] as number
      const yj = loop[j + 1] as number
      if (yi > y === yj > y) continue
      const xi = loop[i] as number
      const xj = loop[j] as number
      if (x < xi + ((y - yi) * (xj - xi)) / (yj - yi)) inside = !inside
    }
  }
  return inside
}

/** The same points the other way about: a hole where the outer ran anticlockwise. */
export const turned = (points: Float64Array): Float64Array => {
  const back = new Float64Array(points.length)
  for (let i = 0; i < points.length; i += 2) {
    back[i] = points[points.length - 2 - i] as number
    back[i + 1] = points[points.length - 1 - i] as number
  }
  return back
}
