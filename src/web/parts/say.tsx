import { createElement, Fragment } from 'react'
import { type Words, writeFigure } from '../../engine/quantity/words.ts'
import { useUnits } from '../state/units.ts'

/**
 * An engine sentence in the reader's units; figures never break between number and unit. `sentence` makes a
 * whole one of it, a capital first and one full stop last; `capital` alone makes a heading.
 */
export const Say = ({
  words,
  sentence,
  capital = sentence,
}: {
  words: Words
  sentence?: boolean
  capital?: boolean
}) => {
  const units = useUnits()
  const last = words.at(-1)
  const ended = typeof last === 'string' && /[.!?]$/.test(last)
  return createElement(
    Fragment,
    null,
    ...words.map((part, index) => {
      if (typeof part !== 'string') return <span className="q">{writeFigure(part, units)}</span>
      return index === 0 && capital === true ? part.charAt(0).toUpperCase() + part.slice(1) : part
    }),
    sentence === true && !ended ? '.' : null,
  )
}
