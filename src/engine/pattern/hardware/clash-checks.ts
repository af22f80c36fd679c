import { Clipper, FillRule } from 'clipper2-ts'
import type { Hardware } from '../../documents/index.ts'
import type { Loop, PatternProblem } from '../drawing.ts'
import { footprintOf } from './footprint.ts'

/** Two footprints that share less than this only touch, mm2. */
const TOUCHING_MM2 = 0.1
const DECIMALS = 4

const NAMES: Readonly<Record<Hardware['kind'], string>> = {
  loop: 'loop',
  hook: 'hook',
  post: 'post',
  'keeper-slot': 'keeper slot',
  'tip-pocket': 'tip pocket',
}

const pathOf = (loop: Loop): { x: number; y: number }[] =>
  Array.from({ length: loop.length / 2 }, (_, i) => ({ x: loop[2 * i] ?? 0, y: loop[2 * i + 1] ?? 0 }))

/** Hardware that stands in the same place as other hardware. */
export const clashChecks = (hardware: readonly Hardware[]): PatternProblem[] => {
  const feet = hardware.map((one) => footprintOf(one).loops.map(pathOf))
  return hardware.flatMap((one, index) =>
    hardware.slice(index + 1).flatMap((other, after): PatternProblem[] => {
      const at = index + 1 + after
      const common = Clipper.intersectD(feet[index] ?? [], feet[at] ?? [], FillRule.NonZero, DECIMALS)
      const shared = common.reduce((sum, path) => sum + Math.abs(Clipper.areaD(path)), 0)
      if (!(shared > TOUCHING_MM2)) return []
      return [
        {
          kind: 'hardware-clash',
          level: 'check',
          what: `the ${NAMES[one.kind]} and the ${NAMES[other.kind]} stand in one another`,
          where: `hardware/${at}`,
          remedy: 'move one of them on the drawing',
          at_mm: other.at_mm,
        },
      ]
    }),
  )
}
