import { type CaliperDraft, type CaliperTrouble, SIZES } from '../state/caliper-reading.ts'
import { useUnits } from '../state/units.ts'
import { Mind } from './mind.tsx'
import { ThickPlaceChoice } from './thick-place.tsx'

/** The five sizes and what the thickest place is, as typed; what is wrong with them stands beneath. */
export const CaliperEntries = ({
  draft,
  onChange,
  troubles = [],
}: {
  draft: CaliperDraft
  onChange: (draft: CaliperDraft) => void
  troubles?: readonly CaliperTrouble[]
}) => {
  const { length } = useUnits()
  const entry = (key: (typeof SIZES)[number][0] | 'sectionWidth_mm', name: string) => (
    <label key={key}>
      <small>{name}</small>
      <span className="entry">
        <input
          className="fld"
          inputMode="decimal"
          autoComplete="off"
          aria-label={`${name}, ${length}`}
          aria-invalid={troubles.some((trouble) => trouble.key === key)}
          value={draft[key] ?? ''}
          onChange={(event) => onChange({ ...draft, [key]: event.target.value })}
        />
        <span className="u">{length}</span>
      </span>
    </label>
  )
  return (
    <>
      <span className="calipers">{SIZES.map(([key, name]) => entry(key, name))}</span>
      <ThickPlaceChoice
        place={draft.place}
        choose={(place) => onChange({ ...draft, place })}
        width={entry('sectionWidth_mm', 'Width of the bar')}
      />
      {troubles.length > 0 && (
        <Mind level="check" live>
          {troubles.map(({ words }) => words).join(' ')}
        </Mind>
      )}
    </>
  )
}
