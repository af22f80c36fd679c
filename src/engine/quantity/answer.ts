import type { Words } from './words.ts'

/** The ten parts of a pour, in the order they are lived. The wax is spent between price and mix. */
export const PARTS = [
  'pieces',
  'flask',
  'freeze',
  'charge',
  'price',
  'mix',
  'burnout',
  'spin',
  'quench',
  'finish',
] as const
export type Part = (typeof PARTS)[number]

/** One thing checked before the wax is spent. A stop keeps the plan from being called ready. */
export interface Verdict {
  readonly id: string
  readonly part: Part
  readonly verdict: 'pass' | 'check' | 'stop'
  /** what was checked, in a few words */
  readonly title: Words
  /** what is so, with its figure, and why it matters */
  readonly reason: Words
  /** the cheapest change that would lift it; empty on a pass */
  readonly remedy: Words
  /** the document path whose change is the remedy */
  readonly where?: string
}

/** A danger to a person, at its step. Neither passes nor fails, and can't be switched off. */
export interface Caution {
  readonly id: string
  readonly part: Part
  /** the moment it belongs to, such as "opening the bag" */
  readonly step: string
  readonly level: 'caution' | 'warning' | 'danger'
  readonly words: Words
}

/** Something the plan could not work out, and where. The rest of the plan still comes out. */
export interface Problem {
  readonly kind: string
  readonly where: string
  readonly what: Words
  readonly remedy: Words
}

/** What every room answers besides its own quantities. */
export interface RoomAnswer {
  readonly verdicts: readonly Verdict[]
  readonly cautions: readonly Caution[]
  readonly problems: readonly Problem[]
}
