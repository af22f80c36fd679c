import { type ExitStatus, refuse, type Shell } from './command.ts'
import type { CommandAnswer } from './plan.ts'
import { type PourArguments, readPourArguments } from './pour-arguments.ts'
import { Refusal } from './refusal.ts'

/** Runs a command about one pour: its answer written, or every refusal worded the same way. */
export const answerPour = async (
  args: readonly string[],
  shell: Shell,
  answer: (asked: PourArguments) => Promise<CommandAnswer>,
): Promise<ExitStatus> => {
  try {
    const { out, exitStatus } = await answer(readPourArguments(args))
    shell.write(out.endsWith('\n') ? out : `${out}\n`)
    return exitStatus
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    return refuse(shell, args.includes('--json'), error.problems)
  }
}
