import { useEffect, useState } from 'react'
import { nameInFlask } from '../../../../engine/arrangement-verdict.ts'
import type { Arranged } from '../../../arrange-worker.ts'
import { Mind } from '../../../parts/mind.tsx'
import { useArrangement } from '../../../state/arrangement.ts'
import { entryWriting } from '../../../state/entry.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import '../../../style/flask.css'

type Write = (length_mm: number) => string

/** Lengths for the bench to the nearest tenth of a millimetre; distances finer, so that none looks rounded up. */
const useWriting = (finer: boolean): Write => {
  const units = useUnits()
  const { toShown } = entryWriting('/x_mm', units)
  const decimals = (units.length === 'in' ? 2 : 1) + (finer ? 1 : 0)
  return (length_mm) => toShown(length_mm).toFixed(decimals)
}

/** An address of these bytes for as long as they are shown. */
const useAddress = (content: string | Uint8Array | undefined, type: string): string | undefined => {
  const [address, setAddress] = useState<string | undefined>(undefined)
  useEffect(() => {
    if (content === undefined) {
      setAddress(undefined)
      return
    }
    const part = typeof content === 'string' ? content : Uint8Array.from(content)
    const made = URL.createObjectURL(new Blob([part], { type }))
    setAddress(made)
    return () => URL.revokeObjectURL(made)
  }, [content, type])
  return address
}

const Drawing = ({ arranged, name }: { arranged: Arranged; name: string }) => {
  const drawing = useAddress(arranged.drawing, 'image/svg+xml')
  const body = useAddress(arranged.body, 'model/stl')
  if (drawing === undefined) return null
  return (
    <>
      <div className="bench-drawing">
        <a href={drawing} target="_blank" rel="noreferrer">
          <img
            src={drawing}
            alt={`${name} from above and from the side, in millimetres: each sprue numbered as in the table`}
          />
        </a>
      </div>
      <p className="row files">
        <span className="lb">As a file, in mm</span>
        <a className="btn thin" href={drawing} download={`${name}, where each wax goes.svg`}>
          Drawing, SVG
        </a>
        {body !== undefined && (
          <a className="btn thin" href={body} download={`${name}, metal.stl`}>
            Metal as one solid, STL
          </a>
        )}
      </p>
    </>
  )
}

const Sprues = ({ arranged }: { arranged: Arranged }) => {
  const write = useWriting(false)
  const units = useUnits()
  const { pieces } = usePlan().plan.pour
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
          {arranged.sprues.map((sprue) => (
            <tr key={sprue.number}>
              <th scope="row">
                {sprue.number} {nameInFlask(sprue.piece, pieces)}
              </th>
              <td className="n">{Math.round(sprue.angle)}°</td>
              <td className="n">{write(sprue.height)}</td>
              <td className="n">{Math.round(sprue.tilt)}°</td>
              <td className="n">{write(sprue.length)}</td>
              <td className="n">{write(sprue.diameter)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="sm muted">
        Angle round the base from a mark, against the clock seen from above. Up: along the main sprue from the
        top of the base’s cone to where the middle lines meet. Tilt above level.
      </p>
    </>
  )
}

const SHOWN = 10

const Distances = ({ arranged }: { arranged: Arranged }) => {
  const write = useWriting(true)
  const units = useUnits()
  const { pieces } = usePlan().plan.pour
  const { clearances, offAxis_mm } = arranged
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
          {clearances.slice(0, SHOWN).map(({ between: [one, other], distance_mm, needed_mm }) => (
            <tr key={`${one} ${other}`}>
              <th scope="row">
                {nameInFlask(one, pieces)} and {nameInFlask(other, pieces)}
              </th>
              <td className="n">{write(distance_mm)}</td>
              <td className="n">{write(needed_mm)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="sm muted">
        Each is the nearest distance between the real surfaces
        {clearances.length > SHOWN && `; the other ${clearances.length - SHOWN} leave more to spare`}.
        {offAxis_mm !== null &&
          ` Pieces and sprues balance ${write(offAxis_mm)} ${units.length} off the flask’s axis.`}
      </p>
    </>
  )
}

/** Where each wax sits and how it is sprued, by true shapes: worked out when asked for, away from the page. */
export const WhereEachWaxGoes = () => {
  const { plan, given, measuring } = usePlan()
  const { arranged, working, trouble, start } = useArrangement(plan)
  const { shop, pour } = plan
  if (pour.pieces.length === 0) return null
  return (
    <section aria-label="Where each wax goes" className="part-page where-each" aria-busy={working}>
      <h2 className="sh">Where each wax goes</h2>
      {arranged === undefined && (
        <>
          <p className="sm muted">
            The views above are laid out by outside boxes. By the true shapes of waxes and sprues, each wax is
            given a place in the smallest flask of the rack that does, and every distance is measured.
          </p>
          <button
            type="button"
            className="btn"
            disabled={working || measuring}
            onClick={() => start({ shop, pour, now: given.now, meshes: given.meshes ?? {} })}
          >
            {working ? 'Being worked out' : 'Work it out'}
          </button>
          <p className="sm muted" role="status">
            {working && 'Where each wax goes is being worked out; some seconds.'}
          </p>
        </>
      )}
      {trouble !== undefined && arranged === undefined && !working && (
        <Mind level="check" live>
          Not worked out: {trouble}.
        </Mind>
      )}
      {arranged !== undefined && (
        <div className="where-each-cols">
          <div>
            <Drawing arranged={arranged} name={pour.name} />
          </div>
          <div>
            {arranged.sprues.length > 0 && (
              <>
                <Sprues arranged={arranged} />
                <Distances arranged={arranged} />
              </>
            )}
            {arranged.problems.map(({ kind, level, what, where, remedy }) => (
              <Mind key={`${kind} ${where} ${what}`} level={level}>
                {what}. What to do: {remedy}.
              </Mind>
            ))}
            <Mind level="caution">
              A hot wax tool burns, and wax that smokes is too hot to breathe over: let it cool a little, and
              air the room.
            </Mind>
          </div>
        </div>
      )}
    </section>
  )
}
