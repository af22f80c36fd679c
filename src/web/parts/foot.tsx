import { useEffect, useState } from 'react'
import { Link } from 'wouter'
import { printPour } from '../state/api.ts'
import { useOnlyHere } from '../state/arrangement.ts'
import { useDocuments } from '../state/documents.tsx'
import { PAPERS, type Paper, usePaper } from '../state/paper.ts'
import { usePlan } from '../state/plan.tsx'
import { useScrolledDown } from '../state/scrolled-down.ts'
import { useUnits } from '../state/units.ts'
import { Mind } from './mind.tsx'
import { Say } from './say.tsx'
import { Swap } from './swap.tsx'

const Standing = () => {
  const { plan, working } = usePlan()
  const { stops, checks } = plan.go
  const [first] = [...stops, ...checks]
  if (stops.length > 0)
    return (
      <Mind level="stop">
        <b>{stops.length === 1 ? 'One stop.' : `${stops.length} stops.`}</b>{' '}
        {first && <Say words={first.title} sentence />}
      </Mind>
    )
  if (checks.length > 0)
    return (
      <Mind level="check">
        <b>{checks.length === 1 ? 'One thing to settle' : `${checks.length} things to settle`}</b> before you
        mix. {first && <Say words={first.title} sentence />}
        {checks.length > 1 && ' The others are in the list.'}
      </Mind>
    )
  return (
    <Mind level="pass">
      <b>Nothing is open{working && ' so far'}.</b>{' '}
      {working ? 'Some figures are still being worked out.' : 'Everything checked holds.'}
    </Mind>
  )
}

/** Why no sheet is printed of places that only this page knows. */
export const NOT_KEPT =
  'your hand has changed where waxes stand, and the pour does not hold all of it yet; on the flask’s page keep this arrangement, or place the others anew, so that the sheet has the places you see'

/** One sentence of what is open, the list behind it, and the sheet. */
export const Foot = ({ onGo }: { onGo?: boolean }) => {
  const { pourId = '', keepNow } = useDocuments()
  const { plan, working, measuring, placing } = usePlan()
  const units = useUnits()
  const [paper, setPaper] = usePaper()
  const [state, setState] = useState<'ready' | 'printing' | { sheet: string } | { trouble: string }>('ready')
  // biome-ignore lint/correctness/useExhaustiveDependencies: a sheet made before this change no longer matches
  useEffect(
    () => setState((now) => (now === 'printing' ? now : 'ready')),
    [plan.pour, plan.shop, units, paper],
  )
  const down = useScrolledDown()
  const onlyHere = useOnlyHere(plan)
  const print = async (): Promise<void> => {
    if (onlyHere) {
      setState({ trouble: NOT_KEPT })
      return
    }
    setState('printing')
    try {
      await keepNow()
      const { id } = await printPour(pourId, paper, units)
      const sheet = `/api/prints/${id}.pdf`
      setState({ sheet })
      window.open(sheet, '_blank')
    } catch (error) {
      setState({ trouble: (error as Error).message })
    }
  }
  return (
    <section
      className={`foot beside-slip ${down ? 'gives-way' : ''}`}
      id="foot"
      aria-label="Where the plan stands"
    >
      <Standing />
      {(measuring || placing) && (
        <span className="sm muted">
          {measuring ? 'Shapes are being measured' : 'The waxes are being placed'}; figures still move.
        </span>
      )}
      <span className="sp" />
      {typeof state === 'object' && 'trouble' in state && (
        <span className="sm" role="status">
          Not printed: {state.trouble}.
        </span>
      )}
      {onGo !== true && (
        <Link className="btn" href={`/pours/${pourId}/go`}>
          Go or no-go
        </Link>
      )}
      <span className="paper">
        <Swap<Paper> label="Paper" choices={PAPERS} current={paper} onChoose={setPaper} />
      </span>
      {typeof state === 'object' && 'sheet' in state ? (
        <a className="btn go" href={state.sheet} target="_blank" rel="noreferrer">
          Open the printed sheet
        </a>
      ) : (
        <button
          type="button"
          className="btn go"
          id="print"
          disabled={state === 'printing'}
          onClick={() => void print()}
        >
          {state === 'printing' ? (working ? 'Working it out' : 'Printing') : 'Print run sheet'}
        </button>
      )}
    </section>
  )
}
