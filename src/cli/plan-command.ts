import { answerPour } from './answer-pour.ts'
import type { ExitStatus, Shell } from './command.ts'
import { pourOptionsHelp } from './pour-arguments.ts'

export const summary = 'the whole plan of one pour, every number with its range'

export const usage = `pourwright plan POUR.json [--pdf FILE] [--paper a4|letter] [--explain] [--by-boxes] [--json]

  --pdf FILE        writes the run sheet as well
  --explain         every number with its formula in words, inputs and source
${pourOptionsHelp}

Exit status 1 when the plan holds a stop.`

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  const { runPlan } = await import('./plan.ts')
  return answerPour(args, shell, ({ path, ...options }) => runPlan(path, options))
}
