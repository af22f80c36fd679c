import type { ReactNode } from 'react'
import { Link } from 'wouter'
import { PARTS, type Part } from '../../../../engine/quantity/answer.ts'
import { Mind } from '../../../parts/mind.tsx'
import { VerdictLine } from '../../../parts/remedy.tsx'
import { Say } from '../../../parts/say.tsx'
import { PART_NAMES } from '../../../state/captions.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { usePlan } from '../../../state/plan.tsx'

export const Row = ({ part, about, children }: { part: Part; about: ReactNode; children: ReactNode }) => {
  const { pourId } = useDocuments()
  const { plan } = usePlan()
  const worst = [...plan.go.stops, ...plan.go.checks].filter((one) => one.part === part)
  const cautions = plan.cautions.filter((one) => one.part === part && one.level !== 'caution')
  return (
    <section className="part" id={`row-${part}`}>
      <h2>
        <Link href={`/pours/${pourId}/${part}`}>
          {PARTS.indexOf(part) + 1} {PART_NAMES[part]}
        </Link>
        <small>{about}</small>
      </h2>
      <div>
        {children}
        {worst.slice(0, 2).map((verdict) => (
          <VerdictLine key={verdict.id} verdict={verdict} />
        ))}
        {worst.length > 2 && (
          <Link className="do" href={`/pours/${pourId}/go`}>
            and {worst.length - 2} more to settle
          </Link>
        )}
        {cautions.slice(0, 1).map((caution) => (
          <Mind key={caution.id} level={caution.level}>
            <Say words={caution.words} />
          </Mind>
        ))}
      </div>
    </section>
  )
}
