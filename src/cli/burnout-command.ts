import { answerPour } from './answer-pour.ts'
import type { ExitStatus, Shell } from './command.ts'
import { pourOptionsHelp } from './pour-arguments.ts'

export const summary =
  'only the burnout of one pour: the kiln’s program, and the middle of the flask through it'

export const usage = `pourwright burnout POUR.json [--json]

${pourOptionsHelp}

The pour’s "burnout" says which program: "gentle" when absent, "shortest", or "rule" by the size of the flask.
Exit status 1 when a stop stands in the burnout.`

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  const { runBurnout } = await import('./burnout.ts')
  return answerPour(args, shell, ({ path, ...options }) => runBurnout(path, options))
}
