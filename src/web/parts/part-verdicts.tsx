import type { Part } from '../../engine/quantity/answer.ts'
import { usePlan } from '../state/plan.tsx'
import { Mind } from './mind.tsx'
import { VerdictLine } from './remedy.tsx'
import { Say } from './say.tsx'

/** What is open in a part, then the dangers at its steps, then what passed. */
export const PartVerdicts = ({ part, title = 'Checked' }: { part: Part; title?: string }) => {
  const { plan } = usePlan()
  const open = [...plan.go.stops, ...plan.go.checks].filter((one) => one.part === part)
  const passed = [...plan.go.accepted, ...plan.go.passes].filter((one) => one.part === part)
  const cautions = plan.cautions.filter((one) => one.part === part)
  if (open.length + passed.length + cautions.length === 0) return null
  return (
    <section className="verdicts">
      {(open.length > 0 || passed.length > 0) && <h2 className="sh">{title}</h2>}
      {open.map((verdict) => (
        <VerdictLine key={verdict.id} verdict={verdict} />
      ))}
      {cautions.map((caution) => (
        <Mind key={caution.id} level={caution.level}>
          <span className="muted">{caution.step}: </span>
          <Say words={caution.words} />
        </Mind>
      ))}
      {passed.length > 0 && (
        <ul className="passed">
          {passed.map((verdict) => (
            <li key={verdict.id}>
              <VerdictLine verdict={{ ...verdict, remedy: [] }} />
              {verdict.accepted !== undefined && <p className="sm muted">accepted: {verdict.accepted}</p>}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
