/** How a drawing in space is turned, in degrees as the sliders show them. */
export interface Turned {
  readonly turn: number
  readonly tip: number
  readonly zoom: number
}

const wrapped = (degrees: number): number => ((((degrees + 180) % 360) + 360) % 360) - 180
const within = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value))
const TURN_PER_PX = 0.5

/** Turned by a finger or mouse that went so far, px. */
export const turnedBy = (turned: Turned, across: number, down: number): Turned => ({
  ...turned,
  turn: Math.round(wrapped(turned.turn - across * TURN_PER_PX)),
  tip: Math.round(within(turned.tip + down * TURN_PER_PX, -90, 90)),
})

/** Two fingers that were so far apart and now are so far, px. */
export const pinched = (turned: Turned, was: number, is: number): Turned => ({
  ...turned,
  zoom: within(turned.zoom * (is / Math.max(1, was)), 0.6, 6),
})
