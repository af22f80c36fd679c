import { useSyncExternalStore } from 'react'
import type { ShopOf } from './api.ts'

const KEPT = 'pourwright.shop'
const listeners = new Set<() => void>()

/** Whose shop the pages Shop and Metal show: that of the pour looked at last, for this visit. */
export const shopInHand = (): ShopOf => (sessionStorage.getItem(KEPT) === 'demo' ? 'demo' : 'own')

export const takeInHand = (of: ShopOf): void => {
  if (of === shopInHand()) return
  sessionStorage.setItem(KEPT, of)
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

export const useShopInHand = (): ShopOf => useSyncExternalStore(subscribe, shopInHand)
