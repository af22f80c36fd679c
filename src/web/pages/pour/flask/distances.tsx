import { type Dimension, isOnlyTold, isShort } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import { keyed } from '../../../parts/keyed.ts'
import { usePour } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'
import { endsOf } from './broken-words.ts'
import { useWriting } from './writing.ts'

const SHOWN = 10

export const Distances = ({
  dimensions,
  offAxis_mm,
}: {
  dimensions: readonly Dimension[]
  offAxis_mm: number | null
}) => {
  const write = useWriting(true)
  const units = useUnits()
  const { pieces } = usePour()
  return (
    <>
      <table className="rows">
        <caption>Tightest distances, {units.length}</caption>
        <thead>
          <tr>
            <th scope="col">Between</th>
            <th scope="col" className="n">
              Apart
            </th>
            <th scope="col" className="n">
              Needed
            </th>
          </tr>
        </thead>
        <tbody>
          {keyed(dimensions.slice(0, SHOWN), endsOf).map(({ key, row: one }) => (
            <tr key={key} className={isShort(one) ? 'broken' : undefined}>
              <th scope="row">
                {nameInFlask(one.between[0], pieces)} and {nameInFlask(one.between[1], pieces)}
                {isShort(one) && <b> too near</b>}
                {one.byStem === true && ', by the main sprue'}
                {one.oneWax === true && ', of one wax'}
                {!isOnlyTold(one) &&
                  one.between.every((place) => place.startsWith('sprue/')) &&
                  ', away from the main sprue'}
              </th>
              <td className="n">{write(one.distance_mm)}</td>
              <td className="n">{isOnlyTold(one) ? 'none' : write(one.needed_mm)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="sm muted">
        Each is the nearest distance between the real surfaces
        {dimensions.length > SHOWN && `; the other ${dimensions.length - SHOWN} leave more to spare`}.
        {offAxis_mm !== null &&
          ` The middle of all the metal lies ${write(offAxis_mm)} ${units.length} off the flask’s axis.`}
      </p>
    </>
  )
}
