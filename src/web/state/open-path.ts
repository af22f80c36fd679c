import { useEffect } from 'react'

const listeners = new Set<(path: string) => void>()

/** For a page that shows one of several things at a time: told which path is wanted, before it is looked for. */
export const useWantedPath = (choose: (path: string) => void): void => {
  useEffect(() => {
    listeners.add(choose)
    return () => {
      listeners.delete(choose)
    }
  }, [choose])
}

const entryFor = (path: string): HTMLElement | undefined => {
  const entries = [...document.querySelectorAll<HTMLElement>('[data-path]')]
  return (
    entries.find((entry) => entry.dataset.path === path) ??
    entries.find((entry) => entry.dataset.path?.startsWith(`${path}/`)) ??
    entries.find((entry) => path.startsWith(`${entry.dataset.path}/`))
  )
}

const openNow = (path: string): boolean => {
  const found = entryFor(path)
  if (found === undefined) return false
  let fold = found.closest('details')
  while (fold !== null) {
    fold.open = true
    fold = fold.parentElement?.closest('details') ?? null
  }
  found.scrollIntoView({ block: 'center' })
  if (found.matches('button.asked, button.usual, button.weighed')) found.click()
  else {
    const inside = found.matches('input, select, button')
      ? found
      : found.querySelector<HTMLElement>('input, button')
    ;(inside ?? found).focus()
  }
  return true
}

const TRY_EVERY_MS = 60
const MOST_TRIES = 30

/**
 * Brings the entry for a document path into view and opens it; where no entry has that very path, the
 * nearest one below or above it. The page may still be loading, so it is looked for a little while.
 */
export const openEntry = (path: string, tries = 0): void => {
  if (tries === 0) for (const tell of listeners) tell(path)
  setTimeout(
    () => {
      if (!openNow(path) && tries < MOST_TRIES) openEntry(path, tries + 1)
    },
    tries === 0 ? 0 : TRY_EVERY_MS,
  )
}

/** A remedy's link ends in `#/shop/rules/...`; `place` is what changes when another page is shown. */
export const useOpenPath = (place?: string): void => {
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at again on each page
  useEffect(() => {
    const open = (): void => {
      const path = decodeURIComponent(location.hash.slice(1))
      if (!path.startsWith('/')) return
      history.replaceState(history.state, '', location.pathname + location.search)
      setTimeout(() => openEntry(path), TRY_EVERY_MS)
    }
    open()
    addEventListener('hashchange', open)
    return () => removeEventListener('hashchange', open)
  }, [place])
}
