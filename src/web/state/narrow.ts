import { useSyncExternalStore } from 'react'

const query = matchMedia('(max-width: 640px)')

/** On a narrow page another drawing is shown, rather than a shrunken one. */
export const useNarrow = (): boolean =>
  useSyncExternalStore(
    (listener) => {
      query.addEventListener('change', listener)
      return () => query.removeEventListener('change', listener)
    },
    () => query.matches,
  )
