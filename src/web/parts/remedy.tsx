import { useLocation } from 'wouter'
import type { Verdict } from '../../engine/quantity/answer.ts'
import { pageOf } from '../state/captions.ts'
import { useDocuments } from '../state/documents.tsx'
import { openEntry } from '../state/open-path.ts'
import { Mind } from './mind.tsx'
import { Say } from './say.tsx'

/** The cheapest change as a link that goes to the entry it means and opens it. */
export const Remedy = ({ verdict }: { verdict: Pick<Verdict, 'remedy' | 'where'> }) => {
  const { pourId = '', pour } = useDocuments()
  const [, go] = useLocation()
  const { where } = verdict
  if (verdict.remedy.length === 0) return null
  if (where === undefined || where === '')
    return (
      <span className="cure">
        <Say words={verdict.remedy} />
      </span>
    )
  const page = pageOf(where, pourId, pour?.pieces)
  const href = `${page}#${where}`
  return (
    <a
      className="do cap"
      href={href}
      onClick={(event) => {
        event.preventDefault()
        if (location.pathname === page) openEntry(where)
        else go(href)
      }}
    >
      <Say words={verdict.remedy} />
    </a>
  )
}

export const VerdictLine = ({ verdict }: { verdict: Verdict }) => (
  <Mind
    level={verdict.verdict === 'pass' ? 'pass' : verdict.verdict}
    {...(verdict.remedy.length > 0 && { action: <Remedy verdict={verdict} /> })}
  >
    <b>
      <Say words={verdict.title} sentence />
    </b>{' '}
    {verdict.reason !== verdict.title && <Say words={verdict.reason} sentence />}
  </Mind>
)
