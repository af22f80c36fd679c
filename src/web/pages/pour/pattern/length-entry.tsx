import { useEffect, useId, useRef, useState } from 'react'
import type { UnitChoice } from '../../../../engine/quantity/units.ts'
import { Mind } from '../../../parts/mind.tsx'
import { useDocuments } from '../../../state/documents.tsx'
import { entryWriting, plainNumber, readTyped, writeStanding } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'

/** A thousandth of an inch is finer than wax is cut. */
const IN_INCHES = 3

let sessions = 0

export interface LengthEntryProps {
  readonly title: string
  /** in the document's unit; absent while nothing stands there */
  readonly value: number | undefined
  readonly least: number
  readonly most: number
  /** changes of one group are undone together */
  readonly onChange: (value: number, group: string) => void
  readonly empty?: string
  /** where nothing may stand: it is emptied again, or what was typed was no such number and nothing stood before */
  readonly onEmpty?: () => void
  /** what kind of number: the last part of its key */
  readonly unit?: '/x_mm' | '/x_deg' | '/x_g'
  readonly hideLabel?: boolean
  /** in millimetres whatever the reader's units: what is measured is marked so */
  readonly metric?: boolean
  /** what a typed number stands for, where it may be read another way; in the document's unit */
  readonly meant?: (typed: number) => number
  readonly kind?: 'asked' | 'weighed'
  /** where the number stands in the document, so that a remedy finds it */
  readonly path?: string
}

const PLAIN = { label: '°', lead: '', decimals: 1, toShown: (n: number) => n, toDocument: (n: number) => n }

/** A number of the drawing's heights: changed in place, and the relief follows each key press that makes sense. */
export const LengthEntry = (props: LengthEntryProps) => {
  const { title, value, least, most, onChange, empty = 'not set', unit = '/x_mm', hideLabel } = props
  const documents = useDocuments()
  const chosen = useUnits()
  const units: UnitChoice = props.metric === true ? { ...chosen, length: 'mm' } : chosen
  const writing =
    unit === '/x_deg' ? PLAIN : entryWriting(unit, units, unit === '/x_g' ? { plainMass: true } : {})
  const digits = unit === '/x_mm' && units.length === 'in' ? IN_INCHES : undefined
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const group = useRef('')
  const before = useRef<number | undefined>(undefined)
  const input = useRef<HTMLInputElement>(null)
  const opener = useRef<HTMLButtonElement>(null)
  const back = useRef(false)
  const id = useId()
  const open = typed !== undefined
  useEffect(() => {
    if (open) input.current?.select()
    else if (back.current) {
      back.current = false
      opener.current?.focus()
    }
  }, [open])

  const written = (number: number): string =>
    digits === undefined ? writeStanding(writing, number) : writing.toShown(number).toFixed(digits)
  const shown = value === undefined ? undefined : written(value)
  if (!open)
    return (
      <button
        type="button"
        ref={opener}
        className={props.kind ?? 'asked'}
        data-path={props.path}
        aria-label={`${title}: ${shown === undefined ? empty : `${shown} ${writing.label}`}, change`}
        onClick={() => {
          sessions += 1
          group.current = `length ${sessions}`
          before.current = value
          setTyped(value === undefined ? '' : plainNumber(writing.toShown(value), digits ?? writing.decimals))
        }}
      >
        {shown ?? empty}
        {shown !== undefined && hideLabel !== true && ` ${writing.label}`}
      </button>
    )

  const said = (number: number): string => `${written(number)} ${writing.label}`
  const read = (text: string): number | string => {
    const number = readTyped(text)
    if (number === undefined) return `“${text}” is not a number here. Digits and one point do.`
    const plain = Number(writing.toDocument(number).toPrecision(10))
    const asked = props.meant === undefined ? plain : Number(props.meant(plain).toFixed(2))
    if (asked < least) return `${said(asked)} is less than the ${said(least)} taken here.`
    if (asked > most) return `${said(asked)} is more than the ${said(most)} taken here.`
    return asked
  }
  const restore = (): void => {
    if (documents.takeBack('/pour', group.current) || value === before.current) return
    if (before.current === undefined) props.onEmpty?.()
    else onChange(before.current, group.current)
  }
  const type = (text: string): void => {
    setTyped(text)
    setTrouble(undefined)
    const asked = read(text)
    if (asked === before.current) restore()
    else if (typeof asked === 'number') onChange(asked, group.current)
    else if (text.trim() === '' && props.onEmpty !== undefined) props.onEmpty()
    else restore()
  }
  const close = (): void => {
    setTyped(undefined)
    setTrouble(undefined)
  }
  const finish = (): void => {
    const asked = typed.trim() === '' ? undefined : read(typed)
    if (typeof asked === 'string') setTrouble(asked)
    else close()
  }
  return (
    <span className="entry">
      <label className="vh" htmlFor={id}>
        {title}
      </label>
      <input
        id={id}
        ref={input}
        className="fld"
        inputMode="decimal"
        autoComplete="off"
        value={typed}
        aria-invalid={trouble !== undefined}
        aria-describedby={trouble === undefined ? undefined : `${id}-note`}
        onChange={(event) => type(event.target.value)}
        onBlur={finish}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault()
            back.current = true
            finish()
          }
          if (event.key === 'Escape') {
            event.stopPropagation()
            back.current = true
            restore()
            close()
          }
        }}
      />
      <span className="u">{writing.label}</span>
      {trouble !== undefined && (
        <span className="entry-note" id={`${id}-note`}>
          <Mind level="check" live>
            {trouble} Left as you typed it; the drawing keeps{' '}
            {before.current === undefined ? 'what it had' : said(before.current)}.
          </Mind>
        </span>
      )}
    </span>
  )
}
