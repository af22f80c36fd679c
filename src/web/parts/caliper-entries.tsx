import type { Calipers } from '../../engine/documents/pour.ts'
import type { UnitChoice } from '../../engine/quantity/units.ts'
import { entryWriting, readTyped } from '../state/entry.ts'
import { useUnits } from '../state/units.ts'

export type CaliperDraft = Partial<Record<keyof Calipers, string>>

const FIELDS = [
  ['length_mm', 'Length'],
  ['width_mm', 'Width'],
  ['height_mm', 'Height'],
  ['thickest_mm', 'Thickest section'],
  ['thinnest_mm', 'Thinnest section'],
] as const

/** All five, in millimetres; undefined when none was typed; 'part' when some are missing or no numbers. */
export const readCalipers = (draft: CaliperDraft, units: UnitChoice): Calipers | 'part' | undefined => {
  const typed = FIELDS.map(([key]) => draft[key]?.trim() ?? '')
  if (typed.every((text) => text === '')) return undefined
  const read = FIELDS.map(([key], index) => {
    const shown = readTyped(typed[index] ?? '')
    return shown === undefined || shown <= 0 ? undefined : entryWriting(`/${key}`, units).toDocument(shown)
  })
  const [length_mm, width_mm, height_mm, thickest_mm, thinnest_mm] = read.map((value) =>
    value === undefined ? undefined : Number(value.toPrecision(10)),
  )
  if (
    length_mm === undefined ||
    width_mm === undefined ||
    height_mm === undefined ||
    thickest_mm === undefined ||
    thinnest_mm === undefined
  )
    return 'part'
  return { length_mm, width_mm, height_mm, thickest_mm, thinnest_mm }
}

export const CaliperEntries = ({
  draft,
  onChange,
}: {
  draft: CaliperDraft
  onChange: (draft: CaliperDraft) => void
}) => {
  const { length } = useUnits()
  return (
    <span className="calipers">
      {FIELDS.map(([key, name]) => (
        <label key={key}>
          <small>{name}</small>
          <span className="entry">
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              aria-label={`${name}, ${length}`}
              value={draft[key] ?? ''}
              onChange={(event) => onChange({ ...draft, [key]: event.target.value })}
            />
            <span className="u">{length}</span>
          </span>
        </label>
      ))}
    </span>
  )
}
