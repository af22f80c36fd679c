import { Link } from 'wouter'
import { useDocuments } from '../state/documents.tsx'
import { usePlan } from '../state/plan.tsx'
import { Say } from './say.tsx'

/** Why there is no flask to draw: nothing of the rack holds the tree, or a piece still has no size. */
export const NoFlask = () => {
  const { plan } = usePlan()
  const { pourId } = useDocuments()
  const rack = plan.verdicts.find((verdict) => verdict.id === 'flask.rack')
  if (rack !== undefined)
    return (
      <p className="text">
        <b>No flask yet.</b> <Say words={rack.reason} />
      </p>
    )
  return (
    <p className="text">
      <b>No flask yet.</b> It waits until every piece has a size.{' '}
      <Link href={`/pours/${pourId}/pieces`}>Measure the pieces</Link>
    </p>
  )
}
