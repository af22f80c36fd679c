import { useSyncExternalStore } from 'react'

export type Paper = 'Letter' | 'A4'

export const PAPERS: readonly (readonly [Paper, Paper])[] = [
  ['Letter', 'Letter'],
  ['A4', 'A4'],
]

const LETTER_PLACES = /^(en-US|en-CA|es-MX|fr-CA)$/

let chosen: Paper | undefined
const listeners = new Set<() => void>()

const choose = (paper: Paper): void => {
  chosen = paper
  for (const tell of listeners) tell()
}
const listen = (tell: () => void): (() => void) => {
  listeners.add(tell)
  return () => listeners.delete(tell)
}
const current = (): Paper => chosen ?? (LETTER_PLACES.test(navigator.language) ? 'Letter' : 'A4')

/** The paper in the printer: chosen once for every sheet, by the place until then. */
export const usePaper = (): readonly [Paper, (paper: Paper) => void] => [
  useSyncExternalStore(listen, current),
  choose,
]
