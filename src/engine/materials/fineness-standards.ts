/**
 * What law and standards let a piece be called, as rows. Fineness in parts per thousand by mass. A row's
 * `least` is what the mark says; `withoutSolder` and `withSolder` how far below it the law lets an article
 * fall. Law changes and has conditions that are not here (registered marks, weights, plating): a plan may
 * say what a fineness meets, never that a mark may lawfully be struck.
 */
export type CountedMetal = 'silver' | 'gold' | 'platinum' | 'palladium'

export interface FinenessStandard {
  readonly id: string
  readonly jurisdiction: string
  /** the words or number struck */
  readonly mark: string
  readonly metal: CountedMetal
  readonly least: number
  readonly withoutSolder: number
  readonly withSolder: number
  readonly source: string
  readonly sure: 'found' | 'memory'
}

const ISO = 'ISO 9202: values are minima, no minus tolerance'
const UK = 'Hallmarking Act 1973 as amended: no minus tolerance'
const STAMPING = '15 USC 296 (silver); word rules 16 CFR part 23'
const GOLD_STAMPING = '15 USC 295 as amended 1976'

const noTolerance = (
  jurisdiction: string,
  source: string,
  metal: CountedMetal,
  values: readonly number[],
): readonly FinenessStandard[] =>
  values.map((least) => ({
    id: `${jurisdiction} ${metal} ${least}`,
    jurisdiction,
    mark: String(least),
    metal,
    least,
    withoutSolder: 0,
    withSolder: 0,
    source,
    sure: 'memory',
  }))

const usSilver = (mark: string, least: number): FinenessStandard => ({
  id: `United States silver ${mark}`,
  jurisdiction: 'United States',
  mark,
  metal: 'silver',
  least,
  withoutSolder: 4,
  withSolder: 10,
  source: STAMPING,
  sure: 'found',
})

const usGold = (karat: number): FinenessStandard => ({
  id: `United States gold ${karat}K`,
  jurisdiction: 'United States',
  mark: `${karat}K`,
  metal: 'gold',
  least: (karat / 24) * 1000,
  withoutSolder: 3,
  withSolder: 7,
  source: GOLD_STAMPING,
  sure: 'memory',
})

export const FINENESS_STANDARDS: readonly FinenessStandard[] = [
  usSilver('sterling', 925),
  usSilver('coin', 900),
  ...[10, 14, 18, 22].map(usGold),
  ...noTolerance('ISO 9202', ISO, 'silver', [800, 925, 958, 999]),
  ...noTolerance('ISO 9202', ISO, 'gold', [375, 585, 750, 916, 999]),
  ...noTolerance('ISO 9202', ISO, 'platinum', [850, 900, 950, 999]),
  ...noTolerance('ISO 9202', ISO, 'palladium', [500, 950, 999]),
  ...noTolerance('United Kingdom', UK, 'silver', [800, 925, 958, 999]),
]

/** Lightest article [kg] that needs a United Kingdom hallmark. */
export const UK_HALLMARK_EXEMPT_BELOW: Readonly<Record<CountedMetal, number>> = {
  silver: 7.78e-3,
  gold: 1e-3,
  palladium: 1e-3,
  platinum: 0.5e-3,
}

/** Least fineness at which an article still meets a row; `soldered`: the whole article with its solder. */
export const lawfulLeast = (row: FinenessStandard, { soldered }: { soldered: boolean }): number =>
  row.least - (soldered ? row.withSolder : row.withoutSolder)

/**
 * The rows that a fineness meets, richest mark first.
 * @param finenessLow_ppt the least that the metal could be, not its middle: a mark rests on the low end.
 *   NaN meets nothing.
 */
export const standardsMet = (
  metal: CountedMetal,
  finenessLow_ppt: number,
  { soldered }: { soldered: boolean },
): readonly FinenessStandard[] =>
  FINENESS_STANDARDS.filter(
    (row) => row.metal === metal && finenessLow_ppt >= lawfulLeast(row, { soldered }),
  ).sort((a, b) => b.least - a.least)
