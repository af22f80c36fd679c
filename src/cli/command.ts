/** What a command may do besides computing: the whole of its dealings with the outside. */
export interface Shell {
  /** the answer, and nothing but the answer */
  readonly write: (text: string) => void
  /** for the person at the keyboard: reasons and progress */
  readonly tell: (line: string) => void
  readonly now: () => Date
  /** the program's own folder, where the examples lie */
  readonly root: string
  /** the built page; the server answers without a page where there is none */
  readonly webFolder?: string
}

/** 0 done; 1 the plan holds a stop; 2 bad input. */
export type ExitStatus = 0 | 1 | 2

export interface CommandFault {
  readonly where: string
  readonly what: string
  readonly remedy: string
}

export interface CommandModule {
  /** one line for the list of commands */
  readonly summary: string
  /** how it is called, for `--help` */
  readonly usage: string
  run(args: readonly string[], shell: Shell): Promise<ExitStatus>
}

/** Bad input: one line of reason and remedy for the person, everything as JSON where a program asked. */
export const refuse = (shell: Shell, json: boolean, faults: readonly CommandFault[]): 2 => {
  const [first] = faults
  const more = faults.length > 1 ? ` (and ${faults.length - 1} more)` : ''
  const place = first?.where ? `${first.where}: ` : ''
  const remedy = first?.remedy ? `; ${first.remedy}` : ''
  shell.tell(`pourwright: ${place}${first?.what ?? 'bad input'}${remedy}${more}`.replaceAll(/\s+/g, ' '))
  if (json) shell.write(`${JSON.stringify({ problems: faults }, undefined, 2)}\n`)
  return 2
}

/** What went wrong with reading the arguments themselves. */
export const badArguments = (shell: Shell, args: readonly string[], error: unknown, usage: string): 2 =>
  refuse(shell, args.includes('--json'), [
    {
      where: '',
      what: error instanceof Error ? error.message : String(error),
      remedy: `call it as: ${usage.split('\n')[0]}`,
    },
  ])
