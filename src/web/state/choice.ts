import { useSyncExternalStore } from 'react'
import { METRIC, type UnitChoice } from '../../engine/quantity/units.ts'

export type Theme = 'system' | 'light' | 'dark' | 'bench'

/** What the reader chose for this screen: kept in the browser, never in a document. */
export interface Choice {
  readonly units: UnitChoice
  readonly theme: Theme
  /** single-key shortcuts; some reading aids need them off */
  readonly keys: boolean
}

const KEPT = 'pourwright.choice'
const INCH_PLACES = ['en-US', 'en-LR', 'my-MM']

const usual = (): Choice => ({
  units: INCH_PLACES.includes(navigator.language) ? { ...METRIC, length: 'in', temperature: 'F' } : METRIC,
  theme: 'system',
  keys: true,
})

const remembered = (): Choice => {
  const first = usual()
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? '{}') as Partial<Choice>
    return { ...first, ...kept, units: { ...first.units, ...kept.units } }
  } catch {
    return first
  }
}

let current: Choice | undefined
const listeners = new Set<() => void>()

export const readChoice = (): Choice => {
  current ??= remembered()
  return current
}

const systemDark = matchMedia('(prefers-color-scheme: dark)')

export const showTheme = (): void => {
  const { theme } = readChoice()
  document.documentElement.dataset.theme =
    theme === 'system' ? (systemDark.matches ? 'dark' : 'light') : theme
}
systemDark.addEventListener('change', showTheme)

export const choose = (change: Partial<Omit<Choice, 'units'>> & { units?: Partial<UnitChoice> }): void => {
  const before = readChoice()
  current = { ...before, ...change, units: { ...before.units, ...change.units } }
  try {
    localStorage.setItem(KEPT, JSON.stringify(current))
  } catch {
    // a browser that keeps nothing still switches for this visit
  }
  showTheme()
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

export const useChoice = (): Choice => useSyncExternalStore(subscribe, readChoice)
