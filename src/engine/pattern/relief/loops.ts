import type { Loop, Place } from '../drawing.ts'

/** A circle or ellipse of facets whose area is that of the true one, anticlockwise. */
export const ellipse = (centre: Place, across: number, along: number, sides: number): Loop => {
  const over = Math.sqrt((2 * Math.PI) / sides / Math.sin((2 * Math.PI) / sides))
  return Float64Array.from(
    Array.from({ length: sides }, (_, i) => (2 * Math.PI * i) / sides).flatMap((turn) => [
      centre[0] + (across / 2) * over * Math.cos(turn),
      centre[1] + (along / 2) * over * Math.sin(turn),
    ]),
  )
}

/** A rectangle from its lower left corner, anticlockwise. */
export const rectangle = (x: number, y: number, width: number, height: number): Loop =>
  Float64Array.from([x, y, x + width, y, x + width, y + height, x, y + height])

/** Turned anticlockwise about the origin, then moved. */
export const placed = (loop: Loop, at: Place, turned_deg: number): Loop => {
  const [cos, sin] = [Math.cos((turned_deg * Math.PI) / 180), Math.sin((turned_deg * Math.PI) / 180)]
  const moved = new Float64Array(loop.length)
  for (let i = 0; i < loop.length; i += 2) {
    const [x, y] = [loop[i] as number, loop[i + 1] as number]
    moved[i] = at[0] + x * cos - y * sin
    moved[i + 1] = at[1] + x * sin + y * cos
  }
  return moved
}
