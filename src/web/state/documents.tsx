import {
  createContext,
  type ReactNode,
  use,
  useContext,
  useEffect,
  useMemo,
  useState,
  useSyncExternalStore,
} from 'react'
import { readPath } from '../../engine/documents/path.ts'
import type { Pour } from '../../engine/documents/pour.ts'
import type { Shop } from '../../engine/documents/shop.ts'
import { readPour, readShop, type ShopOf, savePour, saveShop, stepPour } from './api.ts'
import { changed, placeOf } from './change.ts'
import { DocumentStore, type SaveState } from './document-store.ts'
import { takeInHand } from './shop-in-hand.ts'
import { StepOrder } from './step-order.ts'
import { CurrencyContext } from './units.ts'

interface OpenPour {
  readonly store: DocumentStore<Pour>
  readonly shopOf: ShopOf
}

const shopsOpening = new Map<ShopOf, Promise<DocumentStore<Shop>>>()
const poursOpening = new Map<string, Promise<OpenPour>>()

export const openShop = (of: ShopOf): Promise<DocumentStore<Shop>> => {
  let opening = shopsOpening.get(of)
  if (opening === undefined) {
    opening = readShop(of).then((kept) => new DocumentStore(kept, (next, at) => saveShop(of, next, at)))
    shopsOpening.set(of, opening)
  }
  return opening
}

export const openPour = (id: string): Promise<OpenPour> => {
  let opening = poursOpening.get(id)
  if (opening === undefined) {
    opening = readPour(id).then(({ pour, revision, shopOf = 'own' }) => ({
      store: new DocumentStore({ document: pour, revision }, (next, at, went) =>
        savePour(id, next, at, went),
      ),
      shopOf,
    }))
    poursOpening.set(id, opening)
  }
  return opening
}

/** After a file from elsewhere has changed what the server keeps. */
export const forgetAll = (): void => {
  shopsOpening.clear()
  takeInHand('own')
  poursOpening.clear()
}
export const forgetPour = (id: string): void => {
  poursOpening.delete(id)
}

export interface Documents {
  readonly shop: Shop
  readonly shopOf: ShopOf
  readonly pour?: Pour
  readonly pourId?: string
  readonly state: SaveState
  readonly conflict: boolean
  /** what stands there now, also where the page was drawn before it was changed */
  read(path: string): unknown
  /** a value in the document's own unit, by path; changes of one group are undone together */
  change(path: string, value: unknown, group?: string): void
  /** what this group of changes has done is undone, and is no step; true where the latest change was of this group */
  takeBack(path: string, group: string): boolean
  changeShop(next: Shop): void
  changePour(next: Pour): void
  undo(): void
  redo(): void
  keepMine(): void
  takeTheirs(): void
  /** resolves when the server has what stands on this page */
  keepNow(): Promise<void>
}

const DocumentsContext = createContext<Documents | undefined>(undefined)

export const useDocuments = (): Documents => {
  const found = useContext(DocumentsContext)
  if (found === undefined) throw new Error('a part that reads the shop stands outside its provider')
  return found
}

export const usePour = (): Pour => {
  const { pour } = useDocuments()
  if (pour === undefined) throw new Error('a part that reads a pour stands outside its provider')
  return pour
}

const useStore = <T,>(store: DocumentStore<T>) => useSyncExternalStore(store.subscribe, store.view)

const useKeptBeforeLeaving = (stores: readonly DocumentStore<unknown>[]): void => {
  useEffect(() => {
    const keep = (): void => {
      for (const store of stores) void store.keepNow()
    }
    const warn = (event: BeforeUnloadEvent): void => {
      if (stores.some((store) => !['kept', 'conflict'].includes(store.view().state))) {
        keep()
        event.preventDefault()
      }
    }
    addEventListener('beforeunload', warn)
    document.addEventListener('visibilitychange', keep)
    return () => {
      keep()
      removeEventListener('beforeunload', warn)
      document.removeEventListener('visibilitychange', keep)
    }
  }, [stores])
}

/** A shop alone: the caster's own, or the demo's where its pages are looked over. */
export const ShopDocuments = ({ of, children }: { of: ShopOf; children: ReactNode }) => {
  const store = use(openShop(of))
  const view = useStore(store)
  useKeptBeforeLeaving(useMemo(() => [store as DocumentStore<unknown>], [store]))
  const documents = useMemo<Documents>(
    () => ({
      shop: view.document,
      shopOf: of,
      state: view.state,
      conflict: view.theirs !== undefined,
      read: (path) => readPath({ shop: store.view().document }, path),
      change: (path, value, group) =>
        void store.change(changed(store.view().document, placeOf(path).inside, value), group),
      takeBack: (_path, group) => store.takeBack(group),
      changeShop: (next) => void store.change(next),
      changePour: () => undefined,
      undo: () => void store.undo(),
      redo: () => void store.redo(),
      keepMine: () => store.keepMine(),
      takeTheirs: () => store.takeTheirs(),
      keepNow: () => store.keepNow(),
    }),
    [of, store, view],
  )
  return <DocumentsContext value={documents}>{children}</DocumentsContext>
}

const worse = (one: SaveState, other: SaveState): SaveState => {
  const order: readonly SaveState[] = ['conflict', 'failed', 'saving', 'waiting', 'kept']
  return order.find((state) => state === one || state === other) ?? 'kept'
}

/** A pour and its shop together, so that one change by path reaches whichever holds it. */
export const PourDocuments = ({ id, children }: { id: string; children: ReactNode }) => {
  const { store: pourStore, shopOf } = use(openPour(id))
  const shopStore = use(openShop(shopOf))
  useEffect(() => takeInHand(shopOf), [shopOf])
  const [order] = useState(() => new StepOrder())
  const shopView = useStore(shopStore)
  const pourView = useStore(pourStore)
  useKeptBeforeLeaving(
    useMemo(
      () => [shopStore as DocumentStore<unknown>, pourStore as DocumentStore<unknown>],
      [shopStore, pourStore],
    ),
  )
  const documents = useMemo<Documents>(() => {
    const shop = shopView.document
    const pour = pourView.document
    const keptStep = async (step: 'undo' | 'redo'): Promise<boolean> => {
      try {
        await pourStore.keepNow()
        const kept = await stepPour(id, step)
        if (kept.revision === pourStore.revision()) return false
        pourStore.take({ document: kept.pour, revision: kept.revision })
        return true
      } catch {
        // the server has no older step either
        return false
      }
    }
    const back = async (): Promise<void> => {
      if (await keptStep('undo')) order.wentPast('back')
    }
    const forth = async (): Promise<void> => {
      if (await keptStep('redo')) order.wentPast('forth')
    }
    return {
      shop,
      shopOf,
      pour,
      pourId: id,
      state: worse(shopView.state, pourView.state),
      conflict: shopView.theirs !== undefined || pourView.theirs !== undefined,
      read: (path) => readPath({ shop: shopStore.view().document, pour: pourStore.view().document }, path),
      change: (path, value, group) => {
        const place = placeOf(path)
        const store = place.in === 'shop' ? shopStore : pourStore
        const next = changed<unknown>(store.view().document, place.inside, value)
        const begins =
          place.in === 'shop' ? shopStore.change(next as Shop, group) : pourStore.change(next as Pour, group)
        if (begins) order.note(place.in)
      },
      takeBack: (path, group) => {
        const { in: held } = placeOf(path)
        const taken = (held === 'shop' ? shopStore : pourStore).takeBack(group)
        if (taken) order.forget(held)
        return taken
      },
      changeShop: (next) => {
        if (shopStore.change(next)) order.note('shop')
      },
      changePour: (next) => {
        if (pourStore.change(next)) order.note('pour')
      },
      undo: () => {
        const held = order.back()
        if (held === undefined) void back()
        else if (held === 'kept') void keptStep('undo')
        else (held === 'shop' ? shopStore : pourStore).undo()
      },
      redo: () => {
        const held = order.forth()
        if (held === undefined) void forth()
        else if (held === 'kept') void keptStep('redo')
        else (held === 'shop' ? shopStore : pourStore).redo()
      },
      keepMine: () => {
        shopStore.keepMine()
        pourStore.keepMine()
      },
      takeTheirs: () => {
        shopStore.takeTheirs()
        pourStore.takeTheirs()
      },
      keepNow: async () => {
        await Promise.all([shopStore.keepNow(), pourStore.keepNow()])
      },
    }
  }, [id, order, shopOf, shopStore, pourStore, shopView, pourView])
  return <DocumentsContext value={documents}>{children}</DocumentsContext>
}

/** Amounts of money are in the currency of the shop that stands here. */
export const Currency = ({ children }: { children: ReactNode }) => (
  <CurrencyContext value={useDocuments().shop.currency}>{children}</CurrencyContext>
)
