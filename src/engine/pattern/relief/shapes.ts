import type { Loop, Region } from '../drawing.ts'
import { areaOfLoop } from './loops.ts'

/** The same loop the other way about: a hole where the outer ran anticlockwise. */
export const turned = (loop: Loop): Loop => {
  const back = new Float64Array(loop.length)
  for (let i = 0; i < loop.length; i += 2) {
    back[i] = loop[loop.length - 2 - i] as number
    back[i + 1] = loop[loop.length - 1 - i] as number
  }
  return back
}

const lengthOfLoop = (loop: Loop): number => {
  let sum = 0
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length
    sum += Math.hypot(
      (loop[j] as number) - (loop[i] as number),
      (loop[j + 1] as number) - (loop[i + 1] as number),
    )
  }
  return sum
}

/** A region of given loops; for drawings made of numbers rather than of marks. */
export const regionOf = (id: string, outer: Loop, holes: readonly Loop[] = []): Region => ({
  id,
  outer,
  holes,
  area_mm2: [outer, ...holes].reduce((sum, loop) => sum + areaOfLoop(loop), 0),
  perimeter_mm: [outer, ...holes].reduce((sum, loop) => sum + lengthOfLoop(loop), 0),
  at_mm: [outer[0] as number, outer[1] as number],
})
