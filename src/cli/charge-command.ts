import { answerPour } from './answer-pour.ts'
import type { ExitStatus, Shell } from './command.ts'
import { pourOptionsHelp } from './pour-arguments.ts'

export const summary = 'only the charge of one pour: what to weigh of each lot, and its fineness'

export const usage = `pourwright charge POUR.json [--by-boxes] [--json]

${pourOptionsHelp}

Exit status 1 when a stop stands in the charge.`

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  const { runCharge } = await import('./charge.ts')
  return answerPour(args, shell, ({ path, ...options }) => runCharge(path, options))
}
