import packageFile from '../../package.json' with { type: 'json' }
import { type CommandModule, type ExitStatus, refuse, type Shell } from './command.ts'

// Each command is loaded when it is asked for: `plan` must not wait for what `open` needs.
const commands: Readonly<Record<string, () => Promise<CommandModule>>> = {
  plan: () => import('./plan-command.ts'),
  charge: () => import('./charge-command.ts'),
  burnout: () => import('./burnout-command.ts'),
  measure: () => import('./measure-command.ts'),
  pattern: () => import('./pattern-command.ts'),
  arrange: () => import('./arrange-command.ts'),
  heat: () => import('./heat-command.ts'),
  open: () => import('./open.ts'),
}

const helpText = async (): Promise<string> => {
  const lines = await Promise.all(
    Object.entries(commands).map(async ([name, load]) => `  ${name.padEnd(10)}${(await load()).summary}`),
  )
  return [
    'pourwright COMMAND [OPTIONS]',
    '',
    ...lines,
    '',
    'plan and charge read in your units: --length mm|in --temperature C|F --mass g|dwt|ozt --pressure inHg|mbar|kPa',
    'pourwright COMMAND --help says more of one. --version prints the version.',
    'Exit status: 0 done, 1 the plan holds a stop, 2 bad input.',
    '',
  ].join('\n')
}

/** Runs one command line. Nothing but the answer is written; reasons are told aside. */
export const runCommandLine = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  const [name, ...rest] = args
  if (name === '--version') {
    shell.write(`${packageFile.version}\n`)
    return 0
  }
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    shell.write(await helpText())
    return 0
  }
  const load = Object.hasOwn(commands, name) ? commands[name] : undefined
  if (load === undefined)
    return refuse(shell, args.includes('--json'), [
      {
        where: '',
        what: `there is no command "${name}"`,
        remedy: `use one of: ${Object.keys(commands).join(', ')}`,
      },
    ])
  const command = await load()
  if (rest.includes('--help') || rest.includes('-h')) {
    shell.write(`${command.usage}\n`)
    return 0
  }
  return command.run(rest, shell)
}
