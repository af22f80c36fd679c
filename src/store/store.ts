import type { Pour, Shop } from '../engine/documents/index.ts'

/** Trouble that belongs to the file or the folder, not to one question asked of it. */
export interface StoreProblem {
  readonly kind: 'newer' | 'unknown-version' | 'not-ours' | 'damaged' | 'no-folder'
  readonly where: string
  readonly what: string
  readonly remedy: string
}

export type Missing = { readonly kind: 'missing' }

/** Somebody saved in between: what stands now, so that the caller can show both. */
export type Conflict<T> = { readonly kind: 'conflict'; readonly now: T }
export type Saved<T> = { readonly kind: 'saved'; readonly value: T } | Conflict<T> | Missing

export interface KeptShop {
  readonly shop: Shop
  /** Rises by one with every change; a save names the revision it started from. 0: never saved. */
  readonly revision: number
  readonly updated: string
}

export interface KeptPour {
  readonly id: string
  readonly pour: Pour
  /** Rises by one with every change, undo included; a save names the revision it started from. */
  readonly revision: number
  readonly created: string
  readonly updated: string
  readonly deleted?: string
  readonly canUndo: boolean
  readonly canRedo: boolean
}

export type PourLine = Pick<KeptPour, 'id' | 'created' | 'updated' | 'deleted'> &
  Pick<Pour, 'name' | 'alloy' | 'castAt'> & { readonly number: number }

export interface SaveOptions {
  readonly basedOn: number
  /** Who is typing, such as one open page: saves by different editors are never merged into one step. */
  readonly editor?: string
  /**
   * The document was come by through undo or redo, or by taking back digits that led to an entry that was refused: where
   * it is that of an earlier or a later step, the pour goes to that step. What is taken back leaves no step, where the
   * step that stands is this editor's own; another's stays as it is.
   */
  readonly went?: 'back' | 'forth' | 'taken back'
}

export interface PourShelf {
  /** Newest change first; deleted ones only when asked for. */
  list(options?: { readonly deleted?: boolean }): Promise<PourLine[]>
  read(id: string): Promise<KeptPour | undefined>
  /**
   * A pour without a number, or with one that is taken, gets the next. Pours named in `apart`, such as a
   * demo's, keep their numbers and are not counted on from.
   */
  create(pour: Pour, apart?: readonly string[]): Promise<KeptPour>
  /**
   * Each save is a step that undo goes back over, except that typing on in one place (the same editor,
   * the same value of the document, within a minute) stays one step. An unchanged document is no step.
   */
  save(id: string, pour: Pour, options: SaveOptions): Promise<Saved<KeptPour>>
  /** One step back or forth; at the end of the steps the pour comes back unchanged. */
  undo(id: string): Promise<KeptPour | undefined>
  redo(id: string): Promise<KeptPour | undefined>
  duplicate(id: string, apart?: readonly string[]): Promise<KeptPour | undefined>
  /** Puts the pour aside; it and its steps stay, and recover brings them back. */
  remove(id: string): Promise<KeptPour | undefined>
  recover(id: string): Promise<KeptPour | undefined>
}

export interface ModelLine {
  readonly sha256: string
  readonly name: string
  readonly size: number
  readonly added: string
}

export type ModelAdded =
  | { readonly kind: 'kept'; readonly model: ModelLine }
  | { readonly kind: 'too-large'; readonly most: number }
  | { readonly kind: 'empty' }

export interface ModelShelf {
  /** Keeps the bytes under their hash, never more than one part of them in memory. */
  add(
    name: string,
    bytes: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
    most: number,
  ): Promise<ModelAdded>
  find(sha256: string): Promise<ModelLine | undefined>
  read(sha256: string): Promise<Uint8Array | undefined>
  /** Part by part, for a download. */
  parts(sha256: string): AsyncIterable<Uint8Array>
}

/** A printed plan as it was: nothing saved later alters it, and there is no way to change it. */
export interface FrozenPrint {
  readonly pourId: string
  readonly pour: Pour
  readonly shop: Shop
  /** What the plan said, as plain JSON. */
  readonly plan: unknown
  readonly engineVersion: string
  readonly units: string
  readonly paper: string
  readonly pdf: Uint8Array
}

export type PrintLine = Pick<FrozenPrint, 'pourId' | 'engineVersion' | 'units' | 'paper'> & {
  readonly id: string
  readonly made: string
  readonly pdfSha256: string
}

export type KeptPrint = PrintLine & Pick<FrozenPrint, 'pour' | 'shop' | 'plan'>

export interface PrintShelf {
  add(print: FrozenPrint): Promise<PrintLine>
  list(pourId: string): Promise<PrintLine[]>
  read(id: string): Promise<KeptPrint | undefined>
  pdf(id: string): Promise<Uint8Array | undefined>
}

export type Restored =
  | { readonly kind: 'restored'; readonly before: string }
  | { readonly kind: 'refused'; readonly problem: StoreProblem }

export interface ShopShelf {
  read(): Promise<KeptShop | undefined>
  /** `basedOn` is 0 for the first. */
  save(shop: Shop, basedOn: number): Promise<Saved<KeptShop>>
}

export interface Store {
  /** the caster's own */
  readonly shop: ShopShelf
  /** the one that the demo's pours stand in */
  readonly demoShop: ShopShelf
  readonly pours: PourShelf
  readonly models: ModelShelf
  readonly prints: PrintShelf
  readonly settings: {
    read(name: string): Promise<unknown>
    save(name: string, value: unknown): Promise<void>
  }
  /** Writes everything, models and prints included, as one consistent file that must not exist yet. */
  backup(file: string): Promise<void>
  /**
   * Checks a backup file, keeps what stands now beside it (`before` is that file), then puts the
   * backup's contents in its place in one transaction.
   */
  restore(file: string): Promise<Restored>
  close(): Promise<void>
}

export type StoreOpened =
  | { readonly ok: true; readonly store: Store }
  | { readonly ok: false; readonly problem: StoreProblem }
