import { type FormEvent, useId, useState } from 'react'
import type { Replanned } from '../../../engine/heat/index.ts'
import { toCelsius, toFahrenheit } from '../../../engine/quantity/units.ts'
import { writeDuration } from '../../../engine/quantity/words.ts'
import { Mind } from '../../parts/mind.tsx'
import { writeMoment } from '../../state/cast-time.ts'
import { useDocuments } from '../../state/documents.tsx'
import { workOnce } from '../../state/heat-work.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

const STAGES: Readonly<Record<Replanned['stages'][number]['id'], string>> = {
  wax: 'First hold, wax out',
  drying: 'Drying hold',
  top: 'Top of the burnout',
  casting: 'Casting heat',
}

/** s; nobody waits longer for a flask. */
const LONGEST = 7 * 24 * 3600

/** `4:10`, `4 h`, `90 min` or `2.5` hours, as seconds. */
export const readHours = (text: string): number | undefined => {
  const typed = text.trim().toLowerCase().replace(',', '.')
  const clock = /^(\d{1,3}):([0-5]\d)$/.exec(typed)
  if (clock !== null) return Number(clock[1]) * 3600 + Number(clock[2]) * 60
  const plain = /^(\d+(?:\.\d+)?)\s*(h|min)?$/.exec(typed)
  return plain === null ? undefined : Number(plain[1]) * (plain[2] === 'min' ? 60 : 3600)
}

/** The kiln stopped, or the caster is late: what is still to come, found again from the flask as it then stands. */
export const KilnStopped = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const id = useId()
  const { asked, designed, total, start } = plan.burnout
  const [typed, setTyped] = useState({ at: '', stopped: '', wished: '' })
  const [trouble, setTrouble] = useState<string | undefined>()
  const [busy, setBusy] = useState(false)
  const [again, setAgain] = useState<
    | {
        readonly of: unknown
        readonly asked: unknown
        readonly wished?: number
        readonly replanned: Replanned
      }
    | undefined
  >()
  if (asked === undefined || designed === undefined || total === undefined) return null
  const degrees = (kelvin: number): string =>
    `${(units.temperature === 'F' ? toFahrenheit(kelvin) : toCelsius(kelvin)).toFixed(0)} °${units.temperature}`
  const replan = async (): Promise<void> => {
    const [at, stopped, wished] = [
      readHours(typed.at),
      typed.stopped.trim() === '' ? 0 : readHours(typed.stopped),
      typed.wished.trim() === '' ? undefined : (readHours(typed.wished) ?? Number.NaN),
    ]
    if (at === undefined || stopped === undefined || Number.isNaN(wished))
      return setTrouble('Write hours and minutes as 4:10, or 90 min.')
    if (at > total.value && stopped === 0)
      return setTrouble(
        'The program has ended. A kiln that holds its last heat keeps the flask ready: cast as soon as you can.',
      )
    if (at > total.value)
      return setTrouble(
        `The program ends ${writeDuration(total.value)} after switching on; give a time within it.`,
      )
    if (stopped > LONGEST || (wished ?? 0) > LONGEST)
      return setTrouble('A week is the longest that is followed.')
    setTrouble(undefined)
    setBusy(true)
    try {
      const told = await workOnce({
        once: 'replan',
        question: asked.question,
        designed,
        interrupted: { at, stopped, ...(wished !== undefined && { wished }) },
      })
      if ('replanned' in told) setAgain({ of: designed, asked: typed, wished, replanned: told.replanned })
    } catch (error) {
      setTrouble((error as Error).message)
    } finally {
      setBusy(false)
    }
  }
  const entry = (name: keyof typeof typed, label: string, about: string) => (
    <label className="stop-entry" htmlFor={`${id}-${name}`}>
      <span>
        {label}
        <small>{about}</small>
      </span>
      <input
        id={`${id}-${name}`}
        className="fld"
        inputMode="text"
        autoComplete="off"
        placeholder={name === 'at' ? '4:10' : name === 'stopped' ? '1:00' : 'as planned'}
        value={typed[name]}
        onChange={(event) => setTyped({ ...typed, [name]: event.target.value })}
      />
    </label>
  )
  // an answer stands only beside the program and the times that it was asked for
  const replanned = again?.of === designed && again.asked === typed ? again.replanned : undefined
  return (
    <section aria-label="If the kiln stops, or you are late">
      <h3 className="sh">If the kiln stops, or you are late</h3>
      <form
        className="stop-form"
        noValidate
        onSubmit={(event: FormEvent) => {
          event.preventDefault()
          void replan()
        }}
      >
        {entry('at', 'It stopped, after switching on', 'hours and minutes; where nothing stopped, now')}
        {entry('stopped', 'It was off for', 'empty where it never stopped')}
        {entry('wished', 'Cast, after switching on', 'empty to keep the moment where it can be kept')}
        <p className="row">
          <button type="submit" className="btn" disabled={busy}>
            {busy ? 'Working it out' : 'Plan what is left'}
          </button>
        </p>
      </form>
      {trouble !== undefined && (
        <Mind level="check" live>
          {trouble}
        </Mind>
      )}
      {replanned !== undefined && (
        <>
          <table className="stacks">
            <caption>Still to come; the kiln goes on again at about {degrees(replanned.kiln)}, true</caption>
            <thead>
              <tr>
                <th scope="col">Step</th>
                <th scope="col" className="n">
                  There in
                </th>
                <th scope="col" className="n">
                  Hold
                </th>
              </tr>
            </thead>
            <tbody>
              {replanned.stages.map((stage) => (
                <tr key={stage.id}>
                  <th scope="row">{STAGES[stage.id]}</th>
                  <td className="n" data-label="There in">
                    {writeDuration(stage.climb)}
                  </td>
                  <td className="n" data-label="Hold">
                    {writeDuration(stage.hold)}
                    {stage.cut && ', not long enough'}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <p role="status">
            {Math.abs(replanned.later) < 30 ? (
              <>The casting moment is kept</>
            ) : (
              <>
                The cast comes <b>{writeDuration(Math.abs(replanned.later))}</b>{' '}
                {replanned.later > 0 ? 'later' : 'sooner'}
              </>
            )}
            {replanned.total > replanned.soonest && (
              <>; the flask waits {writeDuration(replanned.total - replanned.soonest)} of the last hold</>
            )}
            {start !== undefined && <>: {writeMoment(start + replanned.total * 1000, shop.timeZone)}</>}.
          </p>
          {replanned.chilled && (
            <Mind level="stop" live>
              <b>Better not cast it.</b> The mould had been hot and has cooled through {degrees(543.15)} to{' '}
              {degrees(493.15)}, where its cristobalite shrinks: it may have cracked, and metal may break out.
              Common practice is to begin again with a new mould.
            </Mind>
          )}
          {again?.wished !== undefined && replanned.soonest > again.wished + 30 && (
            <Mind level="check" live>
              The moment you wished can’t be kept: {writeDuration(replanned.soonest)} after switching on is
              the soonest.
            </Mind>
          )}
          <Mind level="caution">
            Look at the flask before you go on, from the side, with face shield and gloves: cracks, or water
            that has come back, end this burnout. Never open the door while wax smokes.
          </Mind>
        </>
      )}
    </section>
  )
}
