import type { Documents } from './documents.tsx'

type Held = Pick<Documents, 'read' | 'change' | 'takeBack'>

/**
 * What one entry writes while it is typed, so that just that is put right when it is refused or given up. It goes by
 * the documents as they stand at each call: digits are judged a moment after they are typed, and by then the page may
 * have been drawn anew.
 */
export class HalfTyped {
  readonly #path: string
  readonly #group: string
  /** all that stood there, a usual value's source and range with it */
  readonly #stood: unknown
  #wrote: { readonly value: unknown } | undefined

  constructor(path: string, group: string, { read }: Pick<Held, 'read'>) {
    this.#path = path
    this.#group = group
    this.#stood = read(path)
  }

  write({ read, change }: Held, value: number | undefined): void {
    change(this.#path, value, this.#group)
    this.#wrote = { value: read(this.#path) }
  }

  restore({ read, change, takeBack }: Held): void {
    const wrote = this.#wrote
    this.#wrote = undefined
    if (wrote === undefined || takeBack(this.#path, this.#group)) return
    // where something else was changed since, it is a step of its own; what another wrote there meanwhile stays
    if (read(this.#path) === wrote.value) change(this.#path, this.#stood)
  }
}
