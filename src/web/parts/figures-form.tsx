import { type FormEvent, type ReactNode, useState } from 'react'
import { entryWriting, readTyped, writeStandingOut } from '../state/entry.ts'
import type { Refusal } from '../state/limits.ts'
import { useUnits } from '../state/units.ts'
import { Mind } from './mind.tsx'

/** Empty entries that become a thing of the document only when every figure is filled in. */
export const FiguresForm = <Key extends string>({
  label,
  fields,
  submit,
  add,
  leave,
  children,
}: {
  label: string
  /** the document's key, which ends in its unit, and what the figure is */
  fields: readonly (readonly [Key, string])[]
  submit: string
  /** figures in the document's own units; answers with the bound they cross, if they cross one */
  add: (figures: Record<Key, number>) => Promise<Refusal | undefined>
  leave: () => void
  children?: ReactNode
}) => {
  const units = useUnits()
  const [typed, setTyped] = useState<Partial<Record<Key, string>>>({})
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const inWords = ({ where, least, most, what }: Refusal): string => {
    const [key, title] = fields.find(([one]) => where.endsWith(`/${one}`)) ?? []
    const bound = most ?? least
    if (key === undefined || bound === undefined) return `${what}.`
    const said = writeStandingOut(entryWriting(`/${key}`, units, { plainMass: true }), bound)
    return most === undefined ? `${title} must be at least ${said}.` : `${title} must be at most ${said}.`
  }
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const figures: Partial<Record<Key, number>> = {}
    const wanted: string[] = []
    for (const [key, title] of fields) {
      const shown = readTyped(typed[key] ?? '')
      if (shown === undefined || !(shown > 0)) wanted.push(title)
      else
        figures[key] = Number(
          entryWriting(`/${key}`, units, { plainMass: true }).toDocument(shown).toPrecision(10),
        )
    }
    if (wanted.length > 0) {
      setTrouble(`Still wanted, as a number: ${wanted.join('; ')}.`)
      return
    }
    const refusal = await add(figures as Record<Key, number>)
    if (refusal === undefined) {
      setTyped({})
      setTrouble(undefined)
    } else setTrouble(inWords(refusal))
  }
  return (
    <form
      className="adding figures-form"
      onSubmit={(event) => void send(event)}
      noValidate
      aria-label={label}
    >
      <h3 className="sub">{label}</h3>
      {children}
      {fields.map(([key, title], index) => (
        <label key={key}>
          {title}, {entryWriting(`/${key}`, units, { plainMass: true }).label}
          <input
            className="fld"
            inputMode="decimal"
            autoComplete="off"
            // biome-ignore lint/a11y/noAutofocus: the caster has just asked for this very entry
            autoFocus={index === 0}
            value={typed[key] ?? ''}
            onChange={(event) => setTyped({ ...typed, [key]: event.target.value })}
          />
        </label>
      ))}
      {trouble !== undefined && (
        <Mind level="check" live>
          {trouble}
        </Mind>
      )}
      <p className="row after">
        <button type="submit" className="btn go">
          {submit}
        </button>
        <button type="button" className="btn" onClick={leave}>
          Leave it
        </button>
      </p>
    </form>
  )
}
