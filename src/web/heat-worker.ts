import { type CooledFlask, type CoolingQuestion, solveCooling } from '../engine/heat/cooled/solve-cooling.ts'
import { type DesignedBurnout, type DesignQuestion, designBurnout } from '../engine/heat/solved/design.ts'

/** What is solved aside from the page, and what its answer looks like. */
export interface HeatWork {
  readonly burnout: { readonly question: DesignQuestion; readonly answer: DesignedBurnout }
  readonly cooling: { readonly question: CoolingQuestion; readonly answer: CooledFlask }
}

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

const solve = (ask: HeatAsk): HeatWork[HeatKind]['answer'] =>
  ask.kind === 'burnout' ? designBurnout(ask.question) : solveCooling(ask.question)

addEventListener('message', ({ data }: MessageEvent<HeatAsk>): void => {
  const { key } = data
  try {
    postMessage({ key, answer: solve(data) } satisfies HeatTold)
  } catch (trouble) {
    const failed = trouble instanceof Error ? trouble.message : String(trouble)
    postMessage({ key, failed } satisfies HeatTold)
  }
})
