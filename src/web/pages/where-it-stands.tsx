import { useEffect, useState } from 'react'
import { Link } from 'wouter'
import type { Pour } from '../../engine/documents/pour.ts'
import { planPour } from '../../engine/plan.ts'
import { Say } from '../parts/say.tsx'
import { Sign } from '../parts/sign.tsx'
import { useArrangementFacts } from '../state/arrangement.ts'
import { useDocuments } from '../state/documents.tsx'
import { useSlowResults } from '../state/slow-results.ts'
import { inTurn, type Stand, standOf } from '../state/stand.ts'

/** Go, check or stop of one pour of the list: planned now, one pour after the other, by what is known without opening it. */
export const WhereItStands = ({ id, name, pour }: { id: string; name: string; pour: Pour }) => {
  const { shop } = useDocuments()
  const [now] = useState(Date.now)
  const { results } = useSlowResults()
  const arrangements = useArrangementFacts()
  const [stand, setStand] = useState<Stand | undefined>(undefined)
  useEffect(() => {
    setStand(undefined)
    return inTurn(() => setStand(standOf(planPour(shop, pour, { now, ...results, arrangements }))))
  }, [shop, pour, now, results, arrangements])
  if (stand === undefined) return <span className="stand muted">Being planned.</span>
  return (
    <span className="stand">
      <Sign level={stand.level} size={16} />
      <Link href={`/pours/${id}/go`}>
        {stand.words}
        <span className="vh">: {name}</span>
      </Link>
      {stand.first !== undefined && (
        <span>
          <Say words={stand.first} sentence />
        </span>
      )}
      {stand.unsure !== undefined && <small>{stand.unsure}</small>}
    </span>
  )
}
