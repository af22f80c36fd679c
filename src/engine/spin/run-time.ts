import type { Roots } from '../documents/index.ts'
import { type Quantity, reckon } from '../quantity/index.ts'
import { speedAfter } from './formulas.ts'

/** Times at which each part of the metal is solid, counted from release. */
export interface FreezingTimes {
  /** what feeds the pieces: sprues, stem [s] */
  readonly feeds: readonly Quantity[]
  readonly button?: Quantity
}

export interface RunTime {
  readonly parts: readonly Quantity[]
  /** when the last of it is solid */
  readonly lastSolid: Quantity
  /** how long to let it run: as asked, or until the upper end of the last part, in steps of five seconds */
  readonly run: Quantity
  readonly asked: boolean
  readonly coastDown: Quantity
}

/** The run is planned in steps of this [s]; nobody counts closer beside a spinning arm. */
const STEP = 5

/** How long the arm has to run for these freezing times. Undefined when nothing freezes by any known time. */
export const planRun = (roots: Roots, machine: string, freezing: FreezingTimes): RunTime | undefined => {
  const parts = [...freezing.feeds, ...(freezing.button ? [freezing.button] : [])]
  if (parts.length === 0) return undefined
  const inputs: Record<string, Quantity> = {}
  parts.forEach((part, index) => {
    inputs[`part${index + 1}`] = part
  })
  const lastSolid = reckon({
    id: 'spin.lastSolid',
    title: 'Last of the metal solid',
    unit: 's',
    says: 'the longest of the freezing times of feeds and button',
    source: 'the flask lies on its side: what is liquid when the arm stops runs out',
    inputs,
    body: (at) => Math.max(...Object.values(at)),
  })
  const upperEnd = Math.max(...parts.map((part) => part.high))
  const margin = lastSolid.value > 0 ? upperEnd / lastSolid.value : 1
  const asked = roots.has('/pour/spin/run_s')
  const run = asked
    ? roots.at('/pour/spin/run_s', 'Let it run')
    : reckon({
        id: 'spin.run',
        title: 'Let it run',
        unit: 's',
        says: 'the upper end of the longest freezing time, taken up to the next five seconds',
        source: 'the slow one in twenty counted, not the middle',
        inputs: { lastSolid },
        // A hair is taken off first, so that 90 s reckoned as 90.0000000001 s does not become 95 s.
        body: (at) => STEP * Math.ceil((at.lastSolid * margin) / STEP - 1e-9),
      })
  return {
    parts,
    lastSolid,
    run,
    asked,
    coastDown: roots.at(`${machine}/coastDown_s`, 'This arm runs down in'),
  }
}

export interface PressureAtTime {
  readonly time_s: number
  readonly pressure_Pa: number
}

/** The pressure at the farthest metal as the arm runs down, for a chart: plain numbers, every five seconds. */
export const pressureSeries = (
  pressure: Quantity,
  coastDown: Quantity,
  until: number,
): readonly PressureAtTime[] => {
  const series: PressureAtTime[] = []
  for (let time = 0; time <= until; time += STEP) {
    // pressure follows speed squared; the speed's law is asked of its own record
    const left = speedAfter.record.value({ speed: 1, time, coastDown: coastDown.value })
    series.push({ time_s: time, pressure_Pa: pressure.value * left ** 2 })
  }
  return series
}
