/** What stands on a run sheet, before anything is drawn: plain words in the units the caster reads. */

/** One step to do and tick. */
export interface Row {
  readonly kind: 'row'
  readonly words: string
  /** what the plan says, heavy, at the right */
  readonly plan?: string
  /** the unit at the end of the ruled line; an empty string rules a line without one, undefined none at all */
  readonly got?: string
  /** a range that matters, small and under the words */
  readonly under?: string
}

export type SignLevel = 'note' | 'check' | 'stop' | 'caution' | 'warning' | 'danger'

/** A sign by its shape, its word, and what it says. */
export interface Sign {
  readonly kind: 'sign'
  readonly level: SignLevel
  readonly words: string
}

/** The signs of one step, worst first: each on a line of its own where there is room, else one after another. */
export interface Signs {
  readonly kind: 'signs'
  readonly signs: readonly Sign[]
}

export type Block = Row | Sign | Signs

export interface Section {
  readonly number: number
  readonly title: string
  /** when, and how long */
  readonly when: string
  readonly blocks: readonly Block[]
  /** the wax can't come back after this section */
  readonly noReturnAfter?: boolean
  /** opens the second side, where one side cannot hold the sheet */
  readonly opensSide?: boolean
}

export interface Sheet {
  readonly over: string
  readonly title: string
  /** the moment stands heavy between two plain pieces */
  readonly cast: { readonly before: string; readonly moment: string; readonly after: string }
  /** the letters of the plate, read out */
  readonly pieces: string
  /** the first of them, at the head */
  readonly stops: readonly { readonly title: string; readonly words: string }[]
  readonly stopCount: number
  readonly sections: readonly Section[]
  readonly notes?: string
  readonly foot: string
  readonly printed: string
}

export const row = (words: string, rest: Omit<Row, 'kind' | 'words'> = {}): Row => ({
  kind: 'row',
  words,
  ...rest,
})

export const sign = (level: SignLevel, words: string): Sign => ({ kind: 'sign', level, words })
