import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { Pour } from '../../engine/documents/pour.ts'
import { planPour } from '../../engine/plan.ts'
import { massOf, writeFigure } from '../../engine/quantity/words.ts'
import { Mind } from '../parts/mind.tsx'
import { useArrangementFacts } from '../state/arrangement.ts'
import { writeMoment } from '../state/cast-time.ts'
import { clashesOf, type Planned } from '../state/clashes.ts'
import { useDocuments } from '../state/documents.tsx'
import { useSlowResults } from '../state/slow-results.ts'
import { useUnits } from '../state/units.ts'

const Called = ({ pours }: { pours: readonly Planned[] }) =>
  pours.map(({ id, name }, index) => (
    <span key={id}>
      {index === 0 ? '' : index === pours.length - 1 ? ' and ' : ', '}
      <Link href={`/pours/${id}`}>{name}</Link>
    </span>
  ))

/** What pours of one shop take from one another: the kiln at one time, or metal there is not enough of. */
export const ClashLines = ({
  pours,
}: {
  pours: readonly { readonly id: string; readonly name: string; readonly pour: Pour }[]
}) => {
  const { shop } = useDocuments()
  const units = useUnits()
  const [now] = useState(Date.now)
  const { results } = useSlowResults()
  const arrangements = useArrangementFacts()
  const clashes = useMemo(
    () =>
      clashesOf(
        pours.map(({ id, name, pour }) => ({
          id,
          name,
          plan: planPour(shop, pour, { now, ...results, arrangements }),
        })),
      ),
    [pours, shop, now, results, arrangements],
  )
  if (clashes.length === 0) return null
  return (
    <ul className="clashes" aria-label="Pours that want the same">
      {clashes.map((clash) => (
        <li key={`${clash.kind} ${clash.pours.map(({ id }) => id).join(' ')}`}>
          <Mind level="check">
            <Called pours={clash.pours} />{' '}
            {clash.kind === 'kiln' ? (
              <>
                want the {clash.kiln.toLowerCase()} at the same time, {writeMoment(clash.from, shop.timeZone)}{' '}
                to {writeMoment(clash.to, shop.timeZone)}. Move one, unless both flasks fit and follow one
                program.
              </>
            ) : (
              <>
                want {writeFigure(massOf(clash.wanted), units)} of {clash.lot} together, and there is{' '}
                {writeFigure(massOf(clash.there), units)}. Move one, or weigh in more.
              </>
            )}
          </Mind>
        </li>
      ))}
    </ul>
  )
}
