import { parseArgs } from 'node:util'
import { METRIC, type UnitChoice } from '../engine/quantity/index.ts'
import { refuse } from './refusal.ts'

export const pourOptionsHelp = `  --shop FILE       the shop, for a pour that does not hold its own
  --now TIME        plan as if it were this moment, such as 2030-11-14T15:30:00-07:00
  --by-boxes        reckons by the outside boxes of the waxes, without a place for each: sooner, and less sure
  --length mm|in    --temperature C|F    --mass g|dwt|ozt    --pressure inHg|mbar|kPa
  --json            the answer as JSON, each key with its unit`

const options = {
  shop: { type: 'string' },
  now: { type: 'string' },
  length: { type: 'string' },
  temperature: { type: 'string' },
  mass: { type: 'string' },
  pressure: { type: 'string' },
  pdf: { type: 'string' },
  paper: { type: 'string' },
  log: { type: 'string' },
  'log-time': { type: 'string' },
  'log-heat': { type: 'string' },
  'stopped-at': { type: 'string' },
  'stopped-for': { type: 'string' },
  'cast-at': { type: 'string' },
  explain: { type: 'boolean', default: false },
  'by-boxes': { type: 'boolean', default: false },
  json: { type: 'boolean', default: false },
} as const

const pick = <T, U>(
  name: string,
  asked: string | undefined,
  choices: Readonly<Record<string, T>>,
  usual: U,
): T | U => {
  if (asked === undefined) return usual
  const chosen = Object.hasOwn(choices, asked) ? choices[asked] : undefined
  return (
    chosen ??
    refuse(name, `"${asked}" is none of the choices`, `say one of ${Object.keys(choices).join(', ')}`)
  )
}

/** No kiln runs a burnout longer. */
const MOST_MINUTES = 7 * 24 * 60

const minutes = (name: string, asked: string | undefined): number => {
  const read = asked === undefined || asked.trim() === '' ? Number.NaN : Number(asked)
  return read >= 0 && read <= MOST_MINUTES
    ? read
    : refuse(name, `"${asked ?? ''}" is no number of minutes`, 'give minutes, such as 90')
}

export interface PourArguments {
  readonly path: string
  readonly shop?: string
  readonly now?: string
  readonly pdf?: string
  readonly paper: 'a4' | 'letter'
  /** a thermocouple's log, and the units it does not say itself */
  readonly log?: string
  readonly logUnits: { readonly time?: 's' | 'min' | 'h'; readonly heat?: 'C' | 'F' }
  /** min: when the kiln stopped, from switching on, and for how long; and the moment wished now */
  readonly stopped?: { readonly at_min: number; readonly for_min: number; readonly castAt?: string }
  readonly explain: boolean
  readonly byBoxes: boolean
  readonly json: boolean
  readonly units: UnitChoice
}

const parse = (args: readonly string[]) => {
  try {
    return parseArgs({ args: [...args], allowPositionals: true, options })
  } catch (error) {
    return refuse(
      'the command line',
      error instanceof Error ? error.message : String(error),
      'see the command with --help',
    )
  }
}

/** The arguments of a command about one pour. @throws Refusal for an option or a value that is not known */
export const readPourArguments = (args: readonly string[]): PourArguments => {
  const { values, positionals } = parse(args)
  const [path, ...others] = positionals
  if (path === undefined)
    return refuse('the command line', 'no pour was named', 'give the path of a pour’s JSON file')
  if (others.length > 0)
    return refuse('the command line', 'more than one pour was named', 'plan them one by one')
  return {
    path,
    shop: values.shop,
    now: values.now,
    pdf: values.pdf,
    paper: pick('--paper', values.paper?.toLowerCase(), { a4: 'a4', letter: 'letter' }, 'a4'),
    log: values.log,
    logUnits: {
      time: pick('--log-time', values['log-time'], { s: 's', min: 'min', h: 'h' } as const, undefined),
      heat: pick('--log-heat', values['log-heat'], { C: 'C', F: 'F' } as const, undefined),
    },
    stopped:
      values['stopped-at'] === undefined && values['stopped-for'] === undefined
        ? undefined
        : {
            at_min: minutes('--stopped-at', values['stopped-at']),
            for_min: minutes('--stopped-for', values['stopped-for']),
            castAt: values['cast-at'],
          },
    explain: values.explain,
    byBoxes: values['by-boxes'],
    json: values.json,
    units: {
      ...METRIC,
      length: pick('--length', values.length, { mm: 'mm', in: 'in' }, METRIC.length),
      temperature: pick('--temperature', values.temperature, { C: 'C', F: 'F' }, METRIC.temperature),
      mass: pick('--mass', values.mass, { g: 'g', dwt: 'dwt', ozt: 'oz t' }, METRIC.mass),
      pressure: pick(
        '--pressure',
        values.pressure,
        { inHg: 'inHg', mbar: 'mbar', kPa: 'kPa' },
        METRIC.pressure,
      ),
    },
  }
}
