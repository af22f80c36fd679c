import type { Spot } from './view.ts'

export interface Label {
  readonly spot: Spot
  readonly text: string
}

export interface PlacedLabel extends Label {
  /** where the ringed number stands */
  readonly at: Spot
}

const TURN = 2 * Math.PI

/**
 * Numbers in a ring about a drawing, each as near as it can be to the way its spot lies, none over another.
 * @param reach  half width and half height of the ring
 * @param apart  least distance along the ring between two numbers, same unit
 */
export const placeLabels = (
  labels: readonly Label[],
  middle: Spot,
  reach: Spot,
  apart: number,
): readonly PlacedLabel[] => {
  if (labels.length === 0) return []
  const least = Math.min(TURN / labels.length, apart / Math.min(...reach))
  const sorted = labels
    .map((label) => ({
      label,
      angle: Math.atan2((label.spot[1] - middle[1]) / reach[1], (label.spot[0] - middle[0]) / reach[0]),
    }))
    .sort((a, b) => a.angle - b.angle)
  const angles = sorted.map(({ angle }) => angle)
  // neighbours push one another apart until all have room; the ring is closed, so it goes round
  for (let round = 0; round < 60; round += 1)
    for (let i = 0; i < angles.length; i += 1) {
      const next = (i + 1) % angles.length
      if (next === i) continue
      const here = angles[i] ?? 0
      const there = (angles[next] ?? 0) + (next === 0 ? TURN : 0)
      const short = least - (there - here)
      if (short <= 1e-6) continue
      angles[i] = here - short / 2
      angles[next] = (angles[next] ?? 0) + short / 2
    }
  return sorted.map(({ label }, index) => {
    const angle = angles[index] ?? 0
    return {
      ...label,
      at: [middle[0] + reach[0] * Math.cos(angle), middle[1] + reach[1] * Math.sin(angle)],
    }
  })
}
