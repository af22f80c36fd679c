import type { Probe } from './rays.ts'

/**
 * How thick the metal is, as a first estimate: the distance straight through it from places spread evenly
 * over the surface. Near corners a ray may run along a wall instead of through it, so thick values are an
 * upper estimate; the 5th and 95th percentiles are given for that reason, not the extremes.
 */
export type Thickness = {
  p05: number
  median: number
  p95: number
  /** Rays that the percentiles rest on. */
  samples: number
}

export function thicknessOf(probes: readonly Probe[]): Thickness | null {
  const depths = probes.flatMap((probe) => (probe.depth === null ? [] : [probe.depth])).sort((a, b) => a - b)
  if (depths.length === 0) return null
  const at = (share: number): number => depths[Math.round(share * (depths.length - 1))]!
  return { p05: at(0.05), median: at(0.5), p95: at(0.95), samples: depths.length }
}
