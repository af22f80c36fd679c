/**
 * The one form in which the outside world holds us to account: a published number, where it was published,
 * and the function of ours that should give it. Cases live in `cases/`, one file per subject, and are run and
 * counted by `all.test.ts`. `want` is never a digit that our own program printed.
 */
export interface Check {
  /** Row it comes from and, after a dot, which of that row's numbers: `F6`, `AC5.liquidus-7.5`. */
  id: string
  /** A sentence that a caster can read. */
  says: string
  /** Section of the published list: 1 units, 2 fineness, 3 silver-copper, ... 14 law. */
  section: string
  /** Where the expected number or its formula was published, and how sure that is. */
  source: string
  got: () => number
  want: number
  within: { relative: number } | { absolute: number }
}

export interface Verdict {
  got: number
  /** Distance allowed, in the units of `want`. */
  allowed: number
  holds: boolean
}

/** Runs one case. NaN and infinity never hold; a relative tolerance about zero is refused as meaningless. */
export function weigh(check: Check): Verdict {
  if ('relative' in check.within && check.want === 0) {
    throw new Error(`${check.id}: a relative tolerance about zero allows nothing; give an absolute one`)
  }
  const got = check.got()
  const allowed =
    'relative' in check.within ? check.within.relative * Math.abs(check.want) : check.within.absolute
  return { got, allowed, holds: Number.isFinite(got) && Math.abs(got - check.want) <= allowed }
}

/** The published row that a case belongs to: `AC5.liquidus-7.5` belongs to `AC5`. */
export const rowOf = (check: Check): string => check.id.split('.')[0] ?? check.id

/** One number of a row of several: gives the cases `id.label`, all under the same sentence and source. */
export function checkEach(
  shared: Omit<Check, 'got' | 'want'>,
  numbers: Record<string, readonly [got: () => number, want: number]>,
): Check[] {
  return Object.entries(numbers).map(([label, [got, want]]) => ({
    ...shared,
    id: `${shared.id}.${label}`,
    says: `${shared.says} (${label})`,
    got,
    want,
  }))
}

const tolerance = (check: Check): string =>
  'relative' in check.within ? `${check.within.relative} of it` : `±${check.within.absolute}`

/** All cases as a Markdown table, for reading beside the source. */
export function tableOf(checks: readonly Check[]): string {
  const rows = checks.map((check) => {
    const { got, holds } = weigh(check)
    const cells = [
      check.id,
      check.says,
      got,
      check.want,
      tolerance(check),
      holds ? 'yes' : 'NO',
      check.source,
    ]
    return `| ${cells.map((cell) => String(cell).replaceAll('|', '\\|')).join(' | ')} |`
  })
  return [
    '| id | says | got | want | within | holds | source |',
    '|---|---|---|---|---|---|---|',
    ...rows,
    '',
  ].join('\n')
}
