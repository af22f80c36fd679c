import { type FormEvent, useState } from 'react'
import { Link } from 'wouter'
import type { JudgedVerdict } from '../../../engine/go.ts'
import { PARTS } from '../../../engine/quantity/answer.ts'
import { Mind } from '../../parts/mind.tsx'
import { Remedy } from '../../parts/remedy.tsx'
import { Say } from '../../parts/say.tsx'
import { Sign } from '../../parts/sign.tsx'
import { PART_NAMES } from '../../state/captions.ts'
import { useDocuments, usePour } from '../../state/documents.tsx'
import { usePlan } from '../../state/plan.tsx'

const numberOf = (verdict: JudgedVerdict): number => PARTS.indexOf(verdict.part) + 1

/** A check may be gone on with, if the caster says why; the reason stays with the pour. */
const Accept = ({ verdict }: { verdict: JudgedVerdict }) => {
  const pour = usePour()
  const { changePour } = useDocuments()
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [empty, setEmpty] = useState(false)
  if (!open)
    return (
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        Go on as it is, and say why
      </button>
    )
  const accept = (event: FormEvent): void => {
    event.preventDefault()
    const said = reason.trim()
    setEmpty(said === '')
    if (said === '') return
    changePour({ ...pour, accepted: { ...pour.accepted, [verdict.id]: said } })
  }
  return (
    <form className="accept" onSubmit={accept}>
      <label>
        <span className="lb">Reason</span>
        <input
          className="fld"
          // biome-ignore lint/a11y/noAutofocus: the caster has just asked to write the reason
          autoFocus
          value={reason}
          maxLength={500}
          onChange={(event) => setReason(event.target.value)}
        />
      </label>
      {empty && (
        <p className="sm" role="status">
          A few words of why; they stay with the pour.
        </p>
      )}
      <span className="row">
        <button type="submit" className="btn">
          Accept the check
        </button>
        <button type="button" className="btn thin" onClick={() => setOpen(false)}>
          Leave it open
        </button>
      </span>
    </form>
  )
}

const Open = ({ verdict }: { verdict: JudgedVerdict }) => (
  <li>
    <span className="n0">{numberOf(verdict)}</span>
    <div>
      <p>
        {verdict.verdict === 'stop' && <Sign level="stop" size={18} label="Stop" className="inline-sign" />}
        <b>
          <Say words={verdict.title} sentence />
        </b>{' '}
        {verdict.reason !== verdict.title && <Say words={verdict.reason} sentence />}
      </p>
      <Remedy verdict={verdict} />
      {verdict.verdict === 'check' && (
        <div>
          <Accept verdict={verdict} />
        </div>
      )}
    </div>
  </li>
)

const Accepted = ({ verdict }: { verdict: JudgedVerdict }) => {
  const pour = usePour()
  const { changePour } = useDocuments()
  const reopen = (): void => {
    const { [verdict.id]: _reopened, ...kept } = pour.accepted ?? {}
    changePour({ ...pour, accepted: kept })
  }
  return (
    <li>
      <span className="n0">{numberOf(verdict)}</span>
      <Sign level="check" size={18} label="Check, accepted" />
      <span>
        <Say words={verdict.title} capital />
      </span>
      <span className="why">
        accepted: {verdict.accepted}{' '}
        <button type="button" className="quiet small" onClick={reopen}>
          open it again
        </button>
      </span>
    </li>
  )
}

/** One list of everything checked: stops, checks with their cheapest cure, then passes; people's dangers apart. */
export const GoPage = () => {
  const { plan } = usePlan()
  const { pourId } = useDocuments()
  const { stops, checks, accepted, passes } = plan.go
  const open = [...stops, ...checks]
  return (
    <div className="part-page cols3 go-cols">
      <section aria-label="To settle">
        <div className="counts">
          <div>
            <Sign level="stop" />
            <b>{stops.length}</b> {stops.length === 1 ? 'stop' : 'stops'}
          </div>
          <div>
            <Sign level="check" />
            <b>{checks.length}</b> {checks.length === 1 ? 'check' : 'checks'}
          </div>
          <div>
            <Sign level="pass" />
            <b>{passes.length}</b> passed
          </div>
        </div>
        <h2 className="sh go-head">
          <Sign level={stops.length > 0 ? 'stop' : checks.length > 0 ? 'check' : 'pass'} />
          {open.length > 0 ? 'To settle before the wax is spent' : 'A go: nothing is open'}
        </h2>
        <ul className="open-list">
          {open.map((verdict) => (
            <Open key={verdict.id} verdict={verdict} />
          ))}
        </ul>
        <p className="sm muted after">
          A stop stands first, and no count of passes hides it. A check may be accepted with a reason, which
          stays in the record.
        </p>
      </section>
      <section aria-label="Passed">
        <h2 className="sh go-head">
          <Sign level="pass" size={18} />
          {accepted.length === 0
            ? 'Passed'
            : `Passed, and ${accepted.length === 1 ? 'one check' : `${accepted.length} checks`} accepted`}
        </h2>
        <ul className="passed-list">
          {accepted.map((verdict) => (
            <Accepted key={verdict.id} verdict={verdict} />
          ))}
          {passes.map((verdict) => (
            <li key={verdict.id}>
              <span className="n0">{numberOf(verdict)}</span>
              <Sign level="pass" size={18} label="Passed" />
              <span>
                <Say words={verdict.title} capital />
              </span>
              <span className="why">
                <Say words={verdict.reason} sentence />
              </span>
            </li>
          ))}
        </ul>
      </section>
      <section aria-label="For you, at their steps">
        <h2 className="sh">For you, at their steps</h2>
        <p className="sm muted">Neither pass nor fail. They are on the run sheet too.</p>
        {plan.cautions.map((caution) => (
          <Mind key={caution.id} level={caution.level}>
            <Link href={`/pours/${pourId}/${caution.part}`}>
              {PARTS.indexOf(caution.part) + 1} {PART_NAMES[caution.part]}
            </Link>
            , {caution.step}: <Say words={caution.words} />
          </Mind>
        ))}
      </section>
    </div>
  )
}
