import { type DesignedBurnout, type DesignQuestion, designBurnout } from '../engine/heat/solved/design.ts'

/** A burnout to solve, under the key its answer is kept by. */
export interface HeatAsk {
  readonly key: string
  readonly question: DesignQuestion
}

export type HeatTold =
  | { readonly key: string; readonly answer: DesignedBurnout }
  | { readonly key: string; readonly failed: string }

addEventListener('message', ({ data: { key, question } }: MessageEvent<HeatAsk>): void => {
  try {
    postMessage({ key, answer: designBurnout(question) } satisfies HeatTold)
  } catch (trouble) {
    const failed = trouble instanceof Error ? trouble.message : String(trouble)
    postMessage({ key, failed } satisfies HeatTold)
  }
})
