import type { Piece, Pour, Shop } from '../engine/documents/index.ts'

/** One fault, where it is and what to do: the one shape in which every refusal is worded. */
export interface Fault {
  readonly where: string
  readonly what: string
  readonly remedy: string
}

export interface MeasureAsked {
  readonly units?: 'mm' | 'in'
  readonly acceptRepair: boolean
}

export type Paper = 'a4' | 'letter'

export interface PrintAsked {
  readonly pour: Pour
  readonly shop: Shop
  readonly paper: Paper
  /** as the page sends them: the faces' choice of units, checked by the service */
  readonly units: unknown
  /** the run sheet when left out */
  readonly sheet?: 'run' | 'kiln'
  readonly now: Date
  /** bytes of a kept model, for pieces that are measured from one */
  readonly readModel: (sha256: string) => Promise<Uint8Array | undefined>
}

export interface TemplateAsked extends Omit<PrintAsked, 'units' | 'sheet'> {
  readonly piece: Piece
  readonly unit: 'mm' | 'in'
  /** what the 100 mm bar of an earlier print measured */
  readonly bar_mm: number | undefined
}

export type Printed<Plan = unknown> =
  | { readonly ok: true; readonly pdf: Uint8Array; readonly plan: Plan }
  | { readonly ok: false; readonly problems: readonly Fault[] }

export interface Demo {
  readonly shop: Shop
  readonly pours: readonly Pour[]
  readonly models: readonly { readonly name: string; readonly bytes: Uint8Array }[]
}

/** What computes behind the routes. A service that is absent makes its route answer 501 in words. */
export interface Services {
  /** Answers plain JSON: what was measured, or what is wrong with the file. */
  readonly measure?: (bytes: Uint8Array, name: string, asked: MeasureAsked) => Promise<unknown>
  /** Answers a make-up request, both plain JSON; faults when the request is not one. */
  readonly makeUp?: (
    request: unknown,
  ) => Promise<
    | { readonly ok: true; readonly answer: unknown }
    | { readonly ok: false; readonly problems: readonly Fault[] }
  >
  readonly print?: (asked: PrintAsked) => Promise<Printed>
  readonly template?: (asked: TemplateAsked) => Promise<Printed<undefined>>
  readonly demo?: () => Promise<Demo>
}
