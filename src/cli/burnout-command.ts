import { answerPour } from './answer-pour.ts'
import type { ExitStatus, Shell } from './command.ts'
import { pourOptionsHelp } from './pour-arguments.ts'

export const summary =
  'only the burnout of one pour: the kiln’s program, and the middle of the flask through it'

export const usage = `pourwright burnout POUR.json [--pdf FILE] [--log FILE.csv] [--by-boxes] [--json]

${pourOptionsHelp}
  --pdf FILE        writes the sheet that hangs beside the kiln; --paper a4|letter (a4)
  --log FILE.csv    a thermocouple's log from the middle of a test flask: time, core and, if logged, the kiln
                    as displayed; from the kiln being switched on. The mould's properties are fitted to it
  --log-time s|min|h    --log-heat C|F    what the log does not say in its header
  --stopped-at MIN --stopped-for MIN    the kiln stopped so long after switching on, for so long: what is
                    still to come, found again from the flask as it then stands. Stopped for 0: the caster
                    is late
  --cast-at TIME    with these: the casting moment wished now, such as 2030-11-14T15:30:00-07:00

The pour’s "burnout" says which program: "gentle" when absent, "shortest", or "rule" by the size of the flask.
Exit status 1 when a stop stands in the burnout.`

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  const { runBurnout } = await import('./burnout.ts')
  return answerPour(args, shell, ({ path, ...options }) => runBurnout(path, options))
}
