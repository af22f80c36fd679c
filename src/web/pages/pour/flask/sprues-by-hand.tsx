import { type Arrangement, placeInModel, tiltWords } from '../../../../engine/arrange/index.ts'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import { sayLengths } from '../../../../engine/quantity/say-lengths.ts'
import type { Arranged } from '../../../arrange-worker.ts'
import { usePour } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'
import { LengthEntry } from '../pattern/length-entry.tsx'
import { type ByHand, isWax } from './use-by-hand.ts'
import { useWriting } from './writing.ts'

const Chosen = ({
  index,
  arranged,
  arrangement,
  hand,
  choose,
  clearRadius,
}: {
  index: number
  arranged: Arranged
  arrangement: Arrangement
  hand: ByHand
  choose: (id: string | undefined) => void
  clearRadius: number
}) => {
  const pour = usePour()
  const units = useUnits()
  const sprue = arrangement.sprues[index]
  if (sprue === undefined) return null
  const cone = arranged.base?.depth_mm ?? 0
  const name = `sprue ${index + 1}`
  const byHand = (pour.tree.sprues ?? []).some(isWax(sprue))
  const placed = arrangement.placements.find(isWax(sprue))
  const onItsWax = arrangement.sprues.filter(isWax(sprue)).length
  const clear = pour.pieces.find(({ id }) => id === sprue.piece)?.keepClear ?? []
  return (
    <>
      <dl className="place-numbers">
        <div>
          <dt>Thick</dt>
          <dd>
            <LengthEntry
              title={`Thickness of ${name}`}
              value={sprue.diameter_mm}
              least={0.5}
              most={60}
              onChange={(diameter_mm, group) => hand.changeSprue(index, { diameter_mm }, group)}
            />
          </dd>
        </div>
        <div>
          <dt>At the main sprue</dt>
          <dd>
            <LengthEntry
              title={`Thickness of ${name} at the main sprue`}
              value={sprue.stemEnd_mm}
              least={0.5}
              most={80}
              onChange={(stemEnd_mm, group) => hand.changeSprue(index, { stemEnd_mm }, group)}
            />
          </dd>
        </div>
        <div>
          <dt>Up</dt>
          <dd>
            <LengthEntry
              title={`Height of ${name} on the main sprue`}
              value={sprue.axis_mm[2] - cone}
              least={-cone}
              most={400}
              onChange={(up, group) => hand.changeSprue(index, { axis_mm: Math.max(0, up + cone) }, group)}
            />
          </dd>
        </div>
      </dl>
      <p className="sm muted">{sayLengths(sprue.reason, units.length)}.</p>
      <p className="row">
        <button type="button" className="btn thin" onClick={() => hand.addSprue(index)}>
          Another sprue on this wax
        </button>
        {onItsWax > 1 && (
          <button
            type="button"
            className="btn thin"
            onClick={() => {
              choose(undefined)
              hand.takeSprueOff(index)
            }}
          >
            Take this sprue off
          </button>
        )}
        {byHand && (
          <button type="button" className="btn thin" onClick={() => hand.findSprues(sprue)}>
            Find its sprues anew
          </button>
        )}
        {placed !== undefined && (
          <button
            type="button"
            className="btn thin"
            onClick={() => {
              const over = arranged.pieces[sprue.piece]?.over ?? 1
              const at_mm = placeInModel(placed.motion, over, sprue.from_mm)
              hand.keepClear(sprue.piece, [...clear, { at_mm, radius_mm: clearRadius / over }])
            }}
          >
            Keep its place on the wax clear
          </button>
        )}
      </p>
    </>
  )
}

/** Where each sprue goes at the bench; press one to move its joint, its thickness and its height. */
export const SpruesByHand = ({
  arranged,
  arrangement,
  hand,
  chosen,
  choose,
  clearRadius,
}: {
  arranged: Arranged
  arrangement: Arrangement
  hand: ByHand
  chosen: string | undefined
  choose: (id: string | undefined) => void
  clearRadius: number
}) => {
  const write = useWriting(false)
  const units = useUnits()
  const { pieces } = usePour()
  const index = chosen?.startsWith('sprue/') === true ? Number(chosen.slice(6)) - 1 : undefined
  return (
    <>
      <table className="rows bench-sprues">
        <caption>Sprues, {units.length}</caption>
        <thead>
          <tr>
            <th scope="col">Sprue</th>
            {['Angle', 'Up', 'Tilt', 'Long', 'Thick'].map((title) => (
              <th key={title} scope="col" className="n">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {arranged.sprues.map((sprue) => {
            const id = `sprue/${sprue.number}`
            return (
              <tr key={sprue.number} className={chosen === id ? 'chosen-row' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    className="wax-name"
                    aria-expanded={chosen === id}
                    onClick={() => choose(chosen === id ? undefined : id)}
                  >
                    {sprue.number} {nameInFlask(sprue.piece, pieces)}
                  </button>
                </th>
                <td className="n">{Math.round(sprue.angle)}°</td>
                <td className="n">{write(sprue.height)}</td>
                <td className="n">{tiltWords(sprue.tilt).replace(' above level', '')}</td>
                <td className="n">{write(sprue.length)}</td>
                <td className="n">{write(sprue.diameter)}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {index !== undefined && (
        <Chosen
          index={index}
          arranged={arranged}
          arrangement={arrangement}
          hand={hand}
          choose={choose}
          clearRadius={clearRadius}
        />
      )}
      <p className="sm muted">
        Angle round the base from a mark, against the clock seen from above. Up: along the main sprue from the
        top of the base’s cone to where the middle lines meet. Tilt above level.
      </p>
    </>
  )
}
