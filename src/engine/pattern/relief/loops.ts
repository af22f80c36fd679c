import type { Loop, Place } from '../drawing.ts'

/** Above 0 where the loop runs anticlockwise. */
export const areaOfLoop = (loop: Loop): number => {
  let twice = 0
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length
    twice += (loop[i] as number) * (loop[j + 1] as number) - (loop[j] as number) * (loop[i + 1] as number)
  }
  return twice / 2
}

export const isWithin = (loop: Loop, x: number, y: number): boolean => {
  let inside = false
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length
    const [px, py] = [loop[i] as number, loop[i + 1] as number]
    const [qx, qy] = [loop[j] as number, loop[j + 1] as number]
    if (py > y !== qy > y && x < ((qx - px) * (y - py)) / (qy - py) + px) inside = !inside
  }
  return inside
}

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
