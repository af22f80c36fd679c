import { useDocuments } from '../../state/documents.tsx'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'

/** The flasks that stand in the kiln beside this pour's: added from the rack, taken off by pressing. */
export const LoadChoice = () => {
  const { shop, pour, change } = useDocuments()
  const units = useUnits()
  const load = pour?.load ?? []
  const name = (id: string): string => {
    const found = shop.flasks.find((one) => one.id === id)
    return found === undefined ? id : `${writeFlask(found, units.length)} ${units.length}`
  }
  const put = (next: readonly string[]): void => change('/pour/load', next.length === 0 ? undefined : next)
  // two of one size are told apart by their place
  const places = load.map((id, index) => ({ id, index, key: `${index} ${id}` }))
  return (
    <span className="q">
      {places.map(({ id, index, key }) => (
        <span key={key}>
          {name(id)}{' '}
          <button
            type="button"
            className="quiet small"
            aria-label={`Take ${name(id)} off the load`}
            onClick={() => put(load.filter((_, at) => at !== index))}
          >
            take off
          </button>{' '}
        </span>
      ))}
      <select
        className="asked"
        aria-label="Put a flask beside it"
        data-path="/pour/load"
        value=""
        onChange={(event) => event.target.value !== '' && put([...load, event.target.value])}
      >
        <option value="">{load.length === 0 ? 'no other flask' : 'one more'}</option>
        {shop.flasks
          .filter(({ owned }) => owned)
          .map((one) => (
            <option key={one.id} value={one.id}>
              {name(one.id)}
            </option>
          ))}
      </select>
    </span>
  )
}
