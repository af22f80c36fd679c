import { type ReactNode, useEffect, useId, useRef, useState } from 'react'
import { keyUnitOf } from '../../engine/documents/roots.ts'
import { readStated, type Stated } from '../../engine/documents/stated.ts'
import { changed, placeOf } from '../state/change.ts'
import { useDocuments } from '../state/documents.tsx'
import {
  type EntryForm,
  entryWriting,
  likelyValue,
  plainNumber,
  readTyped,
  writeStanding,
  writeStandingOut,
} from '../state/entry.ts'
import { HalfTyped } from '../state/half-typed.ts'
import { loadSchemas, type Refusal, refusalOf } from '../state/limits.ts'
import { useUnits } from '../state/units.ts'
import { Mind } from './mind.tsx'

/** What an entry would mean, when that deserves a word before it is believed. */
export interface Meaning {
  readonly words: ReactNode
  /** in the document's unit */
  readonly likely?: number
}

export interface AskedProps extends EntryForm {
  readonly path: string
  readonly title: string
  /** shown where nothing stands yet */
  readonly empty?: string
  readonly kind?: 'asked' | 'usual' | 'weighed'
  /** decimals to show when not being changed */
  readonly decimals?: number
  readonly meaning?: (value: number) => Meaning | undefined
  readonly hideLabel?: boolean
  /** an entry that may be left out again */
  readonly optional?: boolean
  /** SI value to begin typing from where nothing is asked yet */
  readonly standing?: number
}

const isStated = (value: unknown): value is Stated =>
  typeof value === 'number' || (typeof value === 'object' && value !== null && 'value' in value)

/** A value worked out in SI, as the document would hold it at this path. */
const documentValue = (path: string, value: number): number => {
  const key = keyUnitOf(path)
  return (value - (key.offset ?? 0)) / key.scale
}

let sessions = 0

type Trouble =
  | { readonly kind: 'unread' }
  | { readonly kind: 'refused'; readonly refusal: Refusal; readonly value: number }
  | { readonly kind: 'meaning'; readonly meaning: Meaning; readonly value: number }

/**
 * A number the caster may change, in place and in their own units. The plan follows each key press that
 * gives a sound value; an entry that would not do stays as typed, with a Check beneath, and changes nothing.
 */
export const Asked = (props: AskedProps) => {
  const {
    path,
    title,
    empty = 'not set',
    meaning,
    decimals,
    hideLabel,
    optional,
    standing: worked,
    ...form
  } = props
  const documents = useDocuments()
  const units = useUnits()
  const writing = entryWriting(path, units, form)
  const standing = documents.read(path)
  const stated = isStated(standing) ? readStated(standing) : undefined
  const kind =
    props.kind ??
    (stated === undefined
      ? 'asked'
      : stated.measured
        ? 'weighed'
        : stated.source === undefined
          ? 'asked'
          : 'usual')
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const [trouble, setTrouble] = useState<Trouble | undefined>(undefined)
  const half = useRef<HalfTyped | undefined>(undefined)
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

  const start = (): void => {
    void loadSchemas()
    sessions += 1
    half.current = new HalfTyped(path, `entry ${sessions}`, documents)
    before.current = stated?.value
    const from = stated?.value ?? (worked === undefined ? undefined : documentValue(path, worked))
    setTyped(from === undefined ? '' : plainNumber(writing.toShown(from), writing.decimals))
  }
  const restore = (): void => half.current?.restore(documents)
  const apply = (value: number | undefined): void =>
    value === before.current ? restore() : half.current?.write(documents, value)

  const weigh = async (text: string): Promise<Trouble | undefined> => {
    const shown = readTyped(text)
    if (shown === undefined) return { kind: 'unread' }
    const value = Number(writing.toDocument(shown).toPrecision(12))
    const place = placeOf(path)
    const whole = place.in === 'shop' ? documents.shop : documents.pour
    const refusal = await refusalOf(place.in, changed(whole, place.inside, value))
    if (refusal !== undefined) return { kind: 'refused', refusal, value }
    const meant = meaning?.(value)
    if (meant !== undefined) return { kind: 'meaning', meaning: meant, value }
    apply(value)
    return undefined
  }
  const tries = useRef(0)
  const type = (text: string): void => {
    setTyped(text)
    setTrouble(undefined)
    tries.current += 1
    const attempt = tries.current
    if (readTyped(text) === undefined) return
    void weigh(text).then((found) => {
      // digits on the way to a bad entry were sound on their own; the plan goes back to the last good value
      if (found !== undefined && attempt === tries.current) restore()
    })
  }
  const close = (): void => {
    setTyped(undefined)
    setTrouble(undefined)
  }
  const finish = async (): Promise<void> => {
    if (typed === undefined) return
    if (typed.trim() === '') {
      if (optional === true) apply(undefined)
      close()
      return
    }
    tries.current += 1
    const found = await weigh(typed)
    setTrouble(found)
    if (found === undefined) close()
    else restore()
  }
  const take = (value: number): void => {
    back.current = true
    apply(value)
    close()
  }
  const putBack = (): void => {
    back.current = true
    restore()
    close()
  }

  if (!open)
    return (
      <button
        type="button"
        ref={opener}
        className={kind}
        data-path={path}
        aria-label={`${title}: ${stated === undefined ? empty : `${writing.lead} ${decimals === undefined ? writeStanding(writing, stated.value) : writing.toShown(stated.value).toFixed(decimals)} ${writing.label}`}, change`}
        onClick={start}
      >
        {stated === undefined ? (
          empty
        ) : (
          <>
            {writing.lead !== '' && (writing.lead === '1 in' ? '1 in ' : writing.lead)}
            {decimals === undefined
              ? writeStanding(writing, stated.value)
              : writing.toShown(stated.value).toFixed(decimals)}
            {writing.label !== '' && hideLabel !== true && ` ${writing.label}`}
          </>
        )}
      </button>
    )

  const likely =
    trouble?.kind === 'refused' && (trouble.refusal.least !== undefined || trouble.refusal.most !== undefined)
      ? likelyValue(
          trouble.value,
          trouble.refusal.least ?? Number.MIN_VALUE,
          trouble.refusal.most ?? Number.MAX_VALUE,
        )
      : trouble?.kind === 'meaning'
        ? trouble.meaning.likely
        : undefined
  const shownOf = (value: number): string => writeStandingOut(writing, value)

  return (
    <span className="entry">
      {writing.lead !== '' && <span className="u">{writing.lead}</span>}
      <label className="vh" htmlFor={id}>
        {title}
      </label>
      <input
        id={id}
        ref={input}
        className="fld"
        inputMode="decimal"
        autoComplete="off"
        data-path={path}
        value={typed}
        aria-invalid={trouble !== undefined}
        aria-describedby={trouble === undefined ? undefined : `${id}-note`}
        onChange={(event) => type(event.target.value)}
        onBlur={() => {
          if (trouble === undefined) void finish()
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault()
            back.current = true
            void finish()
          }
          if (event.key === 'Escape') {
            event.stopPropagation()
            putBack()
          }
        }}
      />
      {writing.label !== '' && <span className="u">{writing.label}</span>}
      {trouble !== undefined && (
        <span className="entry-note" id={`${id}-note`}>
          <Mind level="check" live>
            {trouble.kind === 'unread' && <>“{typed}” is not a number here. Digits and one point do.</>}
            {trouble.kind === 'refused' && (
              <>
                {trouble.refusal.most !== undefined
                  ? `${shownOf(trouble.value)} is more than the ${shownOf(trouble.refusal.most)} taken here.`
                  : trouble.refusal.least !== undefined
                    ? `${shownOf(trouble.value)} is less than the ${shownOf(trouble.refusal.least)} taken here.`
                    : `${trouble.refusal.what}.`}
              </>
            )}
            {trouble.kind === 'meaning' && trouble.meaning.words} Left as you typed it; the plan keeps{' '}
            {before.current === undefined ? 'what it had' : shownOf(before.current)}.
          </Mind>
          <span className="row">
            {likely !== undefined && (
              <button type="button" className="btn go" onClick={() => take(likely)}>
                Use {shownOf(likely)}
              </button>
            )}
            {trouble.kind === 'meaning' && (
              <button type="button" className="btn" onClick={() => take(trouble.value)}>
                {shownOf(trouble.value)} is right
              </button>
            )}
            <button type="button" className="btn" onClick={putBack}>
              Put it back
            </button>
          </span>
        </span>
      )}
    </span>
  )
}

/** A choice among named things, such as which wax or which kiln. */
export const AskedChoice = ({
  path,
  title,
  choices,
  empty,
}: {
  path: string
  title: string
  choices: readonly (readonly [value: string, name: string])[]
  /** the name of "nothing chosen", which takes the value out again */
  empty?: string
}) => {
  const documents = useDocuments()
  const standing = documents.read(path)
  return (
    <select
      className="asked"
      aria-label={title}
      data-path={path}
      value={typeof standing === 'string' ? standing : ''}
      onChange={(event) => documents.change(path, event.target.value === '' ? undefined : event.target.value)}
    >
      {empty !== undefined && <option value="">{empty}</option>}
      {choices.map(([value, name]) => (
        <option key={value} value={value}>
          {name}
        </option>
      ))}
    </select>
  )
}

/** A line of text, such as a name: changed in place. */
export const AskedText = ({
  path,
  title,
  empty = 'not set',
  optional,
}: {
  path: string
  title: string
  empty?: string
  optional?: boolean
}) => {
  const documents = useDocuments()
  const standing = documents.read(path)
  const text = typeof standing === 'string' ? standing : ''
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const finish = (): void => {
    const next = typed?.trim() ?? ''
    if (next !== '' && next !== text) documents.change(path, next)
    if (next === '' && optional === true) documents.change(path, undefined)
    setTyped(undefined)
  }
  if (typed === undefined)
    return (
      <button
        type="button"
        className="asked"
        data-path={path}
        aria-label={`${title}: ${text || empty}, change`}
        onClick={() => setTyped(text)}
      >
        {text || empty}
      </button>
    )
  return (
    <input
      className="fld text-entry"
      aria-label={title}
      data-path={path}
      // biome-ignore lint/a11y/noAutofocus: the caster has just pressed this very text to change it
      autoFocus
      value={typed}
      maxLength={200}
      onChange={(event) => setTyped(event.target.value)}
      onBlur={finish}
      onKeyDown={(event) => {
        if (event.key === 'Enter') finish()
        if (event.key === 'Escape') setTyped(undefined)
      }}
    />
  )
}
