import { useState } from 'react'
import { Link } from 'wouter'
import { fromEntry, toEntry, writeMoment } from '../state/cast-time.ts'
import { useDocuments, usePour } from '../state/documents.tsx'
import { usePlan } from '../state/plan.tsx'
import { AskedText } from './asked.tsx'
import { KeptLine } from './shop-bar.tsx'

/** When the caster wants to cast: press to change, as a date and a time of the shop's own clocks. */
export const CastTime = () => {
  const { shop, change } = useDocuments()
  const { plan } = usePlan()
  const [open, setOpen] = useState(false)
  const zone = shop.timeZone
  const at = plan.castAt
  if (!open)
    return (
      <button type="button" className="asked" data-path="/pour/castAt" onClick={() => setOpen(true)}>
        {at === undefined ? 'no time yet' : writeMoment(at, zone)}
      </button>
    )
  return (
    <span className="entry">
      <input
        className="fld long"
        type="datetime-local"
        aria-label="When to cast"
        // biome-ignore lint/a11y/noAutofocus: the caster has just pressed this time to change it
        autoFocus
        defaultValue={at === undefined ? '' : toEntry(at, zone)}
        onChange={(event) => {
          const typed = fromEntry(event.target.value, zone)
          if (typed !== undefined) change('/pour/castAt', typed, 'cast time')
        }}
        onBlur={() => setOpen(false)}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === 'Escape') setOpen(false)
        }}
      />
    </span>
  )
}

export const PourTitle = () => {
  const pour = usePour()
  const { pourId, shopOf } = useDocuments()
  return (
    <section className="title beside-slip" aria-label="This pour">
      <h1>
        <AskedText path="/pour/name" title="Name of the pour" />
      </h1>
      {pour.number !== undefined && <span className="no">Pour {pour.number}</span>}
      {shopOf === 'demo' && <span className="no">demo studio</span>}
      <div className="modes">
        <Link href={`/pours/${pourId}`} aria-current="page">
          Plan
        </Link>
        <span className="sm not-built">Bench and After are not built yet</span>
      </div>
      <span className="sp" />
      <KeptLine quiet />
      <span className="when">
        Cast <CastTime />
      </span>
    </section>
  )
}
