import { createElement, Fragment } from 'react'
import { type Words, writeFigure } from '../../engine/quantity/words.ts'
import { useUnits } from '../state/units.ts'

/** An engine sentence in the reader's units; figures never break between number and unit. */
export const Say = ({ words }: { words: Words }) => {
  const units = useUnits()
  return createElement(
    Fragment,
    null,
    ...words.map((part) =>
      typeof part === 'string' ? part : <span className="q">{writeFigure(part, units)}</span>,
    ),
  )
}
