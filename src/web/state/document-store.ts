/** What the server keeps: the document and a count that tells two writers apart. */
export interface Kept<T> {
  readonly document: T
  readonly revision: number
}

export type Saved<T> =
  | { readonly ok: true; readonly revision: number }
  | { readonly ok: false; readonly theirs?: Kept<T> }

export type SaveState = 'kept' | 'waiting' | 'saving' | 'conflict' | 'failed'

export interface StoreView<T> {
  readonly document: T
  readonly state: SaveState
  readonly canUndo: boolean
  readonly canRedo: boolean
  /** what another screen wrote meanwhile */
  readonly theirs?: T
}

/**
 * How the document that is sent was come by, where it is no new change: by undo, by redo, or by taking back digits that
 * led to an entry that was refused.
 */
export type Went = 'back' | 'forth' | 'taken back'

const PAUSE_MS = 400

/**
 * One document on the page: every change is kept after a pause of 400 ms, can be undone, and never
 * overwrites what another screen wrote: then both are shown and the caster picks.
 */
export class DocumentStore<T> {
  #document: T
  #revision: number
  #kept: T
  #past: T[] = []
  #future: T[] = []
  #group: string | undefined
  /** what could have been done again when the group began */
  #futureBefore: T[] = []
  #went: Went | undefined
  #state: SaveState = 'kept'
  #theirs: Kept<T> | undefined
  #timer: ReturnType<typeof setTimeout> | undefined
  #saving: Promise<void> = Promise.resolve()
  #view: StoreView<T>
  readonly #listeners = new Set<() => void>()
  readonly #save: (document: T, revision: number, went?: Went) => Promise<Saved<T>>

  constructor(kept: Kept<T>, save: (document: T, revision: number, went?: Went) => Promise<Saved<T>>) {
    this.#document = kept.document
    this.#kept = kept.document
    this.#revision = kept.revision
    this.#save = save
    this.#view = this.#look()
  }

  #look(): StoreView<T> {
    return {
      document: this.#document,
      state: this.#state,
      canUndo: this.#past.length > 0,
      canRedo: this.#future.length > 0,
      ...(this.#theirs !== undefined && { theirs: this.#theirs.document }),
    }
  }

  #tell(): void {
    this.#view = this.#look()
    for (const listener of this.#listeners) listener()
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
  readonly view = (): StoreView<T> => this.#view
  /** of what the server holds */
  readonly revision = (): number => this.#revision

  /**
   * Changes of one group in a row, such as the key presses of one entry, are undone together. True when the
   * change begins a step of its own.
   */
  change(next: T, group?: string): boolean {
    if (next === this.#document) return false
    const begins = group === undefined || group !== this.#group
    if (begins) {
      this.#past.push(this.#document)
      this.#futureBefore = this.#future
    }
    this.#group = group
    this.#future = []
    this.#document = next
    this.#went = undefined
    this.#later()
    return begins
  }

  /**
   * The document as it was before this group began, where the group is the latest change: an entry that is refused
   * leaves no step. True when there was one to take back.
   */
  takeBack(group: string): boolean {
    if (group !== this.#group) return false
    const before = this.#past.pop()
    if (before === undefined) return false
    this.#group = undefined
    this.#future = this.#futureBefore
    this.#document = before
    this.#went = 'taken back'
    this.#later()
    return true
  }

  undo(): boolean {
    const before = this.#past.pop()
    if (before === undefined) return false
    this.#group = undefined
    this.#future.push(this.#document)
    this.#document = before
    this.#went = 'back'
    this.#later()
    return true
  }

  redo(): boolean {
    const next = this.#future.pop()
    if (next === undefined) return false
    this.#group = undefined
    this.#past.push(this.#document)
    this.#document = next
    this.#went = 'forth'
    this.#later()
    return true
  }

  /** What the server now holds, after it undid or redid a step itself. */
  take(kept: Kept<T>): void {
    // what was being typed goes on from this document, as a step of its own
    this.#group = undefined
    this.#document = kept.document
    this.#kept = kept.document
    this.#revision = kept.revision
    this.#state = 'kept'
    this.#theirs = undefined
    this.#tell()
  }

  keepMine(): void {
    if (this.#theirs === undefined) return
    this.#revision = this.#theirs.revision
    this.#theirs = undefined
    this.#later()
  }

  takeTheirs(): void {
    const theirs = this.#theirs
    if (theirs === undefined) return
    this.#past.push(this.#document)
    this.take(theirs)
  }

  #later(): void {
    if (this.#theirs === undefined) this.#state = 'waiting'
    this.#tell()
    if (this.#theirs !== undefined) return
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => void this.keepNow(), PAUSE_MS)
  }

  /** Sends what is not yet kept, at once; resolves when it is. */
  keepNow(): Promise<void> {
    clearTimeout(this.#timer)
    this.#saving = this.#saving.then(() => this.#send())
    return this.#saving
  }

  async #send(): Promise<void> {
    if (this.#document === this.#kept || this.#theirs !== undefined) {
      if (this.#state === 'waiting') {
        this.#state = 'kept'
        this.#tell()
      }
      return
    }
    const sent = this.#document
    this.#state = 'saving'
    this.#tell()
    try {
      const answer = await this.#save(sent, this.#revision, this.#went)
      if (answer.ok) {
        this.#kept = sent
        this.#revision = answer.revision
        this.#state = this.#document === sent ? 'kept' : 'waiting'
      } else {
        this.#theirs = answer.theirs
        this.#state = answer.theirs === undefined ? 'failed' : 'conflict'
      }
    } catch {
      this.#state = 'failed'
    }
    this.#tell()
    if (this.#state === 'failed') {
      clearTimeout(this.#timer)
      this.#timer = setTimeout(() => void this.keepNow(), PAUSE_MS * 10)
    }
  }
}
