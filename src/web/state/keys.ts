import { useEffect } from 'react'
import { PARTS, type Part } from '../../engine/quantity/answer.ts'
import { choose, readChoice } from './choice.ts'

export interface KeyActions {
  readonly part: Part | undefined
  goTo(part: Part): void
  nextCheck(): void
  print(): void
  help(): void
}

/** What a key press means on a plan; undefined when it means nothing here. */
export const keyAction = (
  event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'>,
  part: Part | undefined,
): Part | 'check' | 'units' | 'print' | 'help' | 'undo' | 'redo' | undefined => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z')
    return event.shiftKey ? 'redo' : 'undo'
  if (event.ctrlKey || event.metaKey || event.altKey) return undefined
  if (/^[0-9]$/.test(event.key)) return PARTS[event.key === '0' ? 9 : Number(event.key) - 1]
  const at = part === undefined ? -1 : PARTS.indexOf(part)
  if (event.key === ']') return PARTS[Math.min(9, at + 1)]
  if (event.key === '[') return PARTS[Math.max(0, at - 1)]
  switch (event.key.toLowerCase()) {
    case 'e':
      return 'check'
    case 'u':
      return 'units'
    case 'p':
      return 'print'
    case '?':
      return 'help'
    default:
      return undefined
  }
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest('input, textarea, select, [contenteditable]') !== null

export const switchUnits = (): void => {
  const { units } = readChoice()
  choose({
    units: units.length === 'mm' ? { length: 'in', temperature: 'F' } : { length: 'mm', temperature: 'C' },
  })
}

export const usePlanKeys = (actions: KeyActions): void => {
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (isTyping(event.target) || event.defaultPrevented) return
      const action = keyAction(event, actions.part)
      if (action === undefined || action === 'undo' || action === 'redo' || !readChoice().keys) return
      if (action === 'check') actions.nextCheck()
      else if (action === 'units') switchUnits()
      else if (action === 'print') actions.print()
      else if (action === 'help') actions.help()
      else actions.goTo(action)
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  }, [actions])
}

/** Ctrl Z and Ctrl Shift Z, wherever a document can be changed. While typing they are the entry's own. */
export const useUndoKeys = (undo: () => void, redo: () => void): void => {
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (isTyping(event.target) || event.defaultPrevented) return
      const action = keyAction(event, undefined)
      if (action !== 'undo' && action !== 'redo') return
      event.preventDefault()
      if (action === 'undo') undo()
      else redo()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  }, [undo, redo])
}
