import { useEffect, useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { Pour } from '../../engine/documents/pour.ts'
import { type Given, isShape, planPour } from '../../engine/plan.ts'
import { Mind } from '../parts/mind.tsx'
import { PieceOutlines } from '../parts/piece-outlines.tsx'
import { Say } from '../parts/say.tsx'
import { placeWaxes, useArrangementFacts, usePlacing } from '../state/arrangement.ts'
import { writeMoment } from '../state/cast-time.ts'
import { useDocuments } from '../state/documents.tsx'
import { sizesOf } from '../state/piece-sizes.ts'
import { useSlowResults } from '../state/slow-results.ts'
import { useUnits } from '../state/units.ts'
import { writtenOut } from '../state/written.ts'

/** The pour that comes next, with its day and what is still open in it. */
export const NextPour = ({ id, pour, at }: { id: string; pour: Pour; at: number | undefined }) => {
  const { shop, shopOf } = useDocuments()
  const units = useUnits()
  const [now] = useState(Date.now)
  const { results, work } = useSlowResults()
  const arrangements = useArrangementFacts()
  const given = useMemo<Given>(() => ({ now, ...results, arrangements }), [now, results, arrangements])
  const plan = useMemo(() => planPour(shop, pour, given), [shop, pour, given])
  const measuring = plan.wanted.some(isShape)
  const placing = usePlacing(plan)
  // figures that still move are no times to go by
  const moving = measuring || placing
  useEffect(() => {
    work(plan, placeWaxes(plan, given, measuring))
  }, [plan, given, measuring, work])
  const zone = shop.timeZone
  const [first] = [...plan.go.stops, ...plan.go.checks]
  const open = plan.go.stops.length + plan.go.checks.length
  const weighed = plan.pieces.pieces.filter((piece) => piece.waxMass?.kind === 'weighed').length
  return (
    <>
      <div className="next-drawing">
        <PieceOutlines pieces={pour.pieces} sizes={sizesOf(plan)} scale={4} most={520} />
      </div>
      <div className="next-figures">
        <div>
          <p className="muted">
            {pour.number === undefined ? 'Next' : `Pour ${pour.number}, next`}
            {shopOf === 'demo' && ', in the demo studio'}
          </p>
          <h2>
            <Link href={`/pours/${id}`}>{pour.name}</Link>
          </h2>
          <p>
            {!moving && plan.burnout.mixBy !== undefined && (
              <>
                Start the mix by <b>{writeMoment(plan.burnout.mixBy, zone)}</b>.{' '}
              </>
            )}
            {!moving && plan.burnout.start !== undefined && (
              <>Kiln on {writeMoment(plan.burnout.start, zone)}, </>
            )}
            {at === undefined ? 'no casting time yet.' : <>cast {writeMoment(at, zone)}.</>}
          </p>
          {moving ? (
            <p className="working">
              {measuring ? 'Its models are being measured.' : 'Its waxes are being placed.'}
            </p>
          ) : first === undefined ? (
            <Mind level="pass">Nothing is open.</Mind>
          ) : (
            <Mind
              level={plan.go.stops.length > 0 ? 'stop' : 'check'}
              action={
                <Link className="do" href={`/pours/${id}/go`}>
                  {open === 1 ? 'Settle this before you mix' : `Settle ${open} before you mix`}
                </Link>
              }
            >
              <Say words={first.title} sentence />
            </Mind>
          )}
        </div>
        <dl>
          <dt className="lb">Metal to melt</dt>
          <dd className="mid">
            {moving ? (
              <span className="muted">being worked out</span>
            ) : plan.needed.toWeigh === undefined ? (
              <span className="muted">open</span>
            ) : (
              writtenOut(plan.needed.toWeigh, units)
            )}
          </dd>
          <dt className="lb">Powder</dt>
          <dd className="mid">
            {moving ? (
              <span className="muted">being worked out</span>
            ) : plan.mix.powder === undefined ? (
              <span className="muted">open</span>
            ) : (
              writtenOut(plan.mix.powder, units)
            )}
          </dd>
          <dt className="lb">Waxes weighed</dt>
          <dd className="mid">
            {weighed} <span className="u">of {plan.pieces.pieces.length}</span>
          </dd>
        </dl>
      </div>
    </>
  )
}
