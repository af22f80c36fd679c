import { type FormEvent, useState } from 'react'
import type { Place } from '../../../../engine/pattern/drawing.ts'
import { Mind } from '../../../parts/mind.tsx'
import { entryWriting, readTyped } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'
import { TOOLS, type Tool } from './tools.ts'

const FIELDS = ['x', 'y', 'to x', 'to y'] as const

/** A tool's places typed instead of pressed. */
export const ToolForm = ({
  tool,
  from,
  use,
  leave,
}: {
  tool: Exclude<Tool, 'look'>
  from: Place | undefined
  use: (from: Place, to: Place) => void
  leave: () => void
}) => {
  const units = useUnits()
  const writing = entryWriting('/x_mm', units)
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({})
  const [part, setPart] = useState(false)
  const facts = TOOLS[tool]
  const fields = FIELDS.slice(0, facts.places * 2)
  const submit = (event: FormEvent): void => {
    event.preventDefault()
    const read = fields.map((field) => readTyped(typed[field] ?? ''))
    const numbers = read.flatMap((number) => (number === undefined ? [] : [writing.toDocument(number)]))
    if (numbers.length !== fields.length) {
      setPart(true)
      return
    }
    const [x = 0, y = 0, u = x, v = y] = numbers
    setPart(false)
    setTyped({})
    use([x, y], [u, v])
  }
  return (
    <form
      className="tool-form"
      onSubmit={submit}
      noValidate
      onKeyDown={(event) => {
        if (event.key === 'Escape') leave()
      }}
    >
      <p role="status">
        <b>{facts.name}.</b> {from === undefined ? facts.first : facts.second}
      </p>
      <fieldset>
        <legend className="sm muted">
          Or type its place from the drawing’s zero, right and up, {writing.label}
        </legend>
        <span className="row">
          {fields.map((field) => (
            <label key={field} className="place-entry">
              <small>{field}</small>
              <input
                className="fld"
                inputMode="decimal"
                autoComplete="off"
                value={typed[field] ?? ''}
                onChange={(event) => setTyped({ ...typed, [field]: event.target.value })}
              />
            </label>
          ))}
        </span>
      </fieldset>
      {part && (
        <Mind level="check" live>
          Each place wants its numbers.
        </Mind>
      )}
      <p className="row">
        <button type="submit" className="btn">
          Do it there
        </button>
        <button type="button" className="btn" onClick={leave}>
          Done with it
        </button>
      </p>
    </form>
  )
}
