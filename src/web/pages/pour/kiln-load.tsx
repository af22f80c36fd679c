import { writeDuration } from '../../../engine/quantity/words.ts'
import { keyed } from '../../parts/keyed.ts'
import { FigureRow } from '../../parts/stat.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { usePlan } from '../../state/plan.tsx'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'

/** Other flasks in the kiln: each with its own middle, and the holds wait for the slowest. */
export const KilnLoad = () => {
  const { plan } = usePlan()
  const { shop, change } = useDocuments()
  const { length } = useUnits()
  const load = plan.pour.load ?? []
  const followed = new Map((plan.burnout.load ?? []).map((one) => [one.id, one.core.events]))
  const nameOf = (id: string): string => {
    const flask = shop.flasks.find((one) => one.id === id)
    return flask === undefined ? `${id}, no longer in the rack` : `${writeFlask(flask, length)} ${length}`
  }
  const put = (next: readonly string[]): void =>
    change('/pour/load', next.length === 0 ? undefined : [...next])
  return (
    <FigureRow name="Beside it in the kiln" about="of the same mix; the holds wait for the slowest">
      {keyed(load, (id) => id).map(({ key, row: id, index }) => {
        const events = followed.get(id)
        return (
          <div key={key}>
            {nameOf(id)}{' '}
            {events !== undefined && (
              <small>
                dry after {writeDuration(events.dry)}, carbon burns after {writeDuration(events.hot)}{' '}
              </small>
            )}
            <button
              type="button"
              className="quiet small"
              onClick={() => put(load.filter((_, at) => at !== index))}
            >
              take out<span className="vh">: {nameOf(id)}</span>
            </button>
          </div>
        )
      })}
      {load.length < 12 && (
        <select
          className="asked"
          aria-label="Put a flask beside it"
          data-path="/pour/load"
          value=""
          onChange={(event) => put([...load, event.target.value])}
        >
          <option value="">{load.length === 0 ? 'nothing' : 'another'}</option>
          {shop.flasks
            .filter(({ owned }) => owned)
            .map((flask) => (
              <option key={flask.id} value={flask.id}>
                {writeFlask(flask, length)} {length}
              </option>
            ))}
        </select>
      )}
    </FigureRow>
  )
}
