import { type CooledFlask, type CoolingQuestion, solveCooling } from '../engine/heat/cooled/solve-cooling.ts'
import { type DesignedBurnout, type DesignQuestion, designBurnout } from '../engine/heat/solved/design.ts'
import { holdAndReplan, type Interrupted, type Replanned } from '../engine/heat/solved/hold-and-replan.ts'
import {
  type LearnedLog,
  type LoggedBurnout,
  type LogRows,
  learnFromLog,
} from '../engine/heat/solved/learn.ts'
import type { LogUnits } from '../engine/heat/solved/read-log.ts'

/** What is solved aside from the page, and what its answer looks like. */
export interface HeatWork {
  readonly burnout: { readonly question: DesignQuestion; readonly answer: DesignedBurnout }
  readonly cooling: { readonly question: CoolingQuestion; readonly answer: CooledFlask }
}

/** What is worked out once, when it is asked for. */
export type AskedOnce =
  | {
      readonly once: 'replan'
      readonly question: DesignQuestion
      readonly designed: Pick<DesignedBurnout, 'variant' | 'holds' | 'core' | 'others'>
      readonly interrupted: Interrupted
    }
  | {
      readonly once: 'learn'
      readonly text: string
      readonly units: LogUnits
      readonly burnout: LoggedBurnout | undefined
      readonly rows: LogRows
    }

export type ToldOnce = { readonly replanned: Replanned } | { readonly learned: LearnedLog }

export type HeatKind = keyof HeatWork

/** A question, under the key its answer is kept by. */
export type HeatAsk = {
  readonly [K in HeatKind]: {
    readonly kind: K
    readonly key: string
    readonly question: HeatWork[K]['question']
  }
}[HeatKind]

export type HeatTold =
  | { readonly key: string; readonly answer: HeatWork[HeatKind]['answer'] }
  | { readonly key: string; readonly failed: string }

const tellOnce = (asked: AskedOnce): ToldOnce =>
  asked.once === 'replan'
    ? { replanned: holdAndReplan(asked.question, asked.designed, asked.interrupted) }
    : { learned: learnFromLog(asked.text, asked.units, asked.burnout, asked.rows) }

const solve = (ask: HeatAsk): HeatWork[HeatKind]['answer'] =>
  ask.kind === 'burnout' ? designBurnout(ask.question) : solveCooling(ask.question)

addEventListener('message', ({ data }: MessageEvent<HeatAsk | AskedOnce>): void => {
  if ('once' in data) {
    postMessage(tellOnce(data))
    return
  }
  const { key } = data
  try {
    postMessage({ key, answer: solve(data) } satisfies HeatTold)
  } catch (trouble) {
    const failed = trouble instanceof Error ? trouble.message : String(trouble)
    postMessage({ key, failed } satisfies HeatTold)
  }
})
