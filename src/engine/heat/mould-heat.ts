import { celsius } from '../quantity/index.ts'

/** Specific heat over its mean: 800 at 100 °C, 1100 at 650 °C, handbook heats of silica and anhydrite. */
export const HEAT_SHAPE = [
  [celsius(20), 0.8],
  [celsius(100), 0.85],
  [celsius(650), 1.165],
  [celsius(750), 1.2],
] as const

/** Gypsum boards conduct clearly better above 600 °C (Park and others 2010); by how much is a guess. */
export const HOT_CONDUCTIVITY = { from: celsius(600), to: celsius(750), factor: 1.15 } as const
