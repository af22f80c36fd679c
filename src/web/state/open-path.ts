import { useEffect } from 'react'

/**
 * A remedy's link ends in `#/shop/rules/...`: the entry for that path is brought into view and opened, or,
 * where no entry has that very path, the nearest one above or below it.
 */
export const openEntry = (path: string): boolean => {
  const entries = [...document.querySelectorAll<HTMLElement>('[data-path]')]
  const found =
    entries.find((entry) => entry.dataset.path === path) ??
    entries.find((entry) => entry.dataset.path?.startsWith(`${path}/`)) ??
    entries.find((entry) => path.startsWith(`${entry.dataset.path}/`))
  if (found === undefined) return false
  for (
    let fold = found.closest('details');
    fold !== null;
    fold = fold.parentElement?.closest('details') ?? null
  )
    fold.open = true
  found.scrollIntoView({ block: 'center' })
  found.focus()
  if (found.matches('button.asked, button.usual, button.weighed')) found.click()
  return true
}

export const useOpenPath = (): void => {
  useEffect(() => {
    const open = (): void => {
      const path = decodeURIComponent(location.hash.slice(1))
      if (!path.startsWith('/')) return
      if (openEntry(path)) history.replaceState(history.state, '', location.pathname + location.search)
    }
    const soon = setTimeout(open, 60)
    addEventListener('hashchange', open)
    return () => {
      clearTimeout(soon)
      removeEventListener('hashchange', open)
    }
  }, [])
}
