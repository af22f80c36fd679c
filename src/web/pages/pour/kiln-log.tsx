import { useRef, useState } from 'react'
import { withFit } from '../../../engine/heat/solved/keep-fit.ts'
import { type LearnedLog, loggedBurnout } from '../../../engine/heat/solved/learn.ts'
import type { LogUnits } from '../../../engine/heat/solved/read-log.ts'
import { writeMoment as writeIso } from '../../../engine/physics/schedule.ts'
import { toUser } from '../../../engine/quantity/units.ts'
import { Mind } from '../../parts/mind.tsx'
import { Say } from '../../parts/say.tsx'
import { axisFor, placing, tickText } from '../../scene/axis.ts'
import { useDocuments } from '../../state/documents.tsx'
import { workOnce } from '../../state/heat-work.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

const MOST_BYTES = 20_000_000

/** The log as dots, the core as it was reckoned thin, and as fitted heavy. */
const LogChart = ({ curve }: { curve: NonNullable<LearnedLog['fit']>['curve'] }) => {
  const units = useUnits()
  const shown = (kelvin: number): number => toUser(kelvin, 'K', units)
  const hours = Math.max(...curve.map(({ s }) => s)) / 3600
  const heat = axisFor(0, Math.max(...curve.map(({ measured }) => shown(measured))) * 1.04, 5)
  const at = placing({ from: 0, to: hours }, 46, 352)
  const up = placing(heat, 206, 14)
  const line = (of: 'before' | 'after'): string =>
    curve.map((one) => `${at(one.s / 3600).toFixed(1)} ${up(shown(one[of])).toFixed(1)}`).join('L')
  return (
    <svg
      viewBox="0 0 360 230"
      width="100%"
      role="img"
      aria-label={`The log over ${hours.toFixed(1)} hours, with the core as reckoned before and as fitted`}
    >
      {heat.long.map((tick) => (
        <g key={tick}>
          <path d={`M46 ${up(tick)}H352`} stroke="var(--hair)" />
          <text x="40" y={up(tick) + 5} fontSize="13" textAnchor="end">
            {tickText(tick, heat.step)}
          </text>
        </g>
      ))}
      <path
        d={`M${line('before')}`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth="1.2"
        strokeDasharray="5 4"
      />
      <path d={`M${line('after')}`} fill="none" stroke="var(--heat)" strokeWidth="3" />
      {curve.map((one) => (
        <circle
          key={one.s}
          cx={at(one.s / 3600)}
          cy={up(shown(one.measured))}
          r="1.8"
          fill="var(--sheet)"
          stroke="var(--ink)"
        />
      ))}
      {Array.from({ length: Math.floor(hours) + 1 }, (_, hour) => hour)
        .filter((hour) => hour % (hours > 10 ? 4 : hours > 5 ? 2 : 1) === 0)
        .map((hour) => (
          <text key={hour} x={at(hour)} y="224" fontSize="13" textAnchor="middle">
            {hour} h
          </text>
        ))}
    </svg>
  )
}

type Answer =
  | { readonly of: string; readonly learned: LearnedLog; readonly kept: boolean }
  | { readonly of: string; readonly trouble: string }

/** A thermocouple's log from the middle of a flask: what it says of mould and kiln, to be kept in the shop. */
export const KilnLog = () => {
  const { plan } = usePlan()
  const { shop, changeShop } = useDocuments()
  const [file, setFile] = useState<{ readonly name: string; readonly text: string } | undefined>()
  const [told, setTold] = useState<LogUnits>({})
  const [busy, setBusy] = useState(false)
  const [answer, setAnswer] = useState<Answer | undefined>()
  const { pour } = plan
  const investment = shop.investments.find(({ id }) => id === pour.investment.id)
  const kiln = shop.kilns.find(({ id }) => id === pour.kiln)
  // of several asked one after another only the last is shown
  const asked = useRef(0)
  const learn = async (name: string, text: string, units: LogUnits): Promise<void> => {
    asked.current += 1
    const mine = asked.current
    const show = (next: Answer): void => {
      if (asked.current === mine) setAnswer(next)
    }
    setBusy(true)
    setAnswer(undefined)
    try {
      const done = await workOnce({
        once: 'learn',
        text,
        units,
        burnout: loggedBurnout(plan.burnout),
        rows: {
          investment: pour.investment.id,
          kiln: pour.kiln,
          day: writeIso(Date.now(), shop.timeZone).slice(0, 10),
        },
      })
      if ('learned' in done) show({ of: name, learned: done.learned, kept: false })
    } catch (error) {
      show({ of: name, trouble: (error as Error).message })
    } finally {
      if (asked.current === mine) setBusy(false)
    }
  }
  const bring = async (chosen: File | undefined): Promise<void> => {
    if (chosen === undefined) return
    if (chosen.size > MOST_BYTES) {
      setAnswer({ of: chosen.name, trouble: 'it is far longer than any burnout; log a reading a minute' })
      return
    }
    const text = await chosen.text()
    setFile({ name: chosen.name, text })
    await learn(chosen.name, text, told)
  }
  const tell = (next: LogUnits): void => {
    setTold(next)
    if (file !== undefined) void learn(file.name, file.text, next)
  }
  const learned = answer !== undefined && 'learned' in answer ? answer.learned : undefined
  const { fit, keep } = learned ?? {}
  const value = (of: { readonly value: number; readonly low: number; readonly high: number }): string =>
    `${of.value.toPrecision(3)}, ${of.low.toPrecision(3)} to ${of.high.toPrecision(3)}`
  return (
    <section aria-label="A thermocouple’s log">
      <h3 className="sh">A thermocouple’s log</h3>
      <p className="sm muted">
        A wire in the middle of a test flask, from the kiln being switched on: rows of time, core and, if it
        was logged, the kiln as it displays. What mould and kiln pass on is fitted to it.
      </p>
      <label className="file-entry">
        <span className="vh">Log, as CSV</span>
        <input
          type="file"
          accept=".csv,.txt,.tsv,text/csv,text/plain"
          className="fld long"
          onChange={(event) => void bring(event.target.files?.[0])}
        />
      </label>
      <p className="row">
        <label>
          Times are in{' '}
          <select
            className="asked"
            value={told.time ?? ''}
            onChange={(event) =>
              tell({ ...told, time: (event.target.value || undefined) as LogUnits['time'] })
            }
          >
            <option value="">what its header says</option>
            <option value="s">seconds</option>
            <option value="min">minutes</option>
            <option value="h">hours</option>
          </select>
        </label>
        <label>
          heats in{' '}
          <select
            className="asked"
            value={told.heat ?? ''}
            onChange={(event) =>
              tell({ ...told, heat: (event.target.value || undefined) as LogUnits['heat'] })
            }
          >
            <option value="">what its header says</option>
            <option value="C">°C</option>
            <option value="F">°F</option>
          </select>
        </label>
      </p>
      {busy && <p role="status">Fitting it.</p>}
      {answer !== undefined && 'trouble' in answer && (
        <Mind level="check" live>
          {answer.of} was not fitted: {answer.trouble}.
        </Mind>
      )}
      {learned?.problems.map((problem) => (
        <Mind key={`${problem.kind} ${problem.where}`} level="check" live>
          <b>{problem.where}.</b> <Say words={problem.what} /> <Say words={problem.remedy} />
        </Mind>
      ))}
      {learned?.notes.map((note) => (
        <Mind key={`${note.kind} ${note.where}`} level="note">
          <Say words={note.what} /> <Say words={note.remedy} />
        </Mind>
      ))}
      {fit !== undefined && keep !== undefined && (
        <>
          <LogChart curve={fit.curve} />
          <p className="sm muted">
            Dots: the log. Broken: the core as it was reckoned, {fit.before.toFixed(0)} K apart from it on the
            average. Heavy: as fitted, {fit.left.toFixed(0)} K apart. {fit.used} readings used.
          </p>
          <dl>
            <dt className="lb">Heat passed by the dry mould, W/mK</dt>
            <dd>{value(keep.investment.dryConductivity_W_mK)}</dd>
            <dt className="lb">Heat passed by the kiln’s air, W/m²K</dt>
            <dd>{value(keep.kiln.film_W_m2K)}</dd>
          </dl>
          {answer !== undefined && 'learned' in answer && answer.kept ? (
            <p role="status">
              Kept in the shop for {investment?.name} and {kiln?.name}. Undo takes it back.
            </p>
          ) : (
            <button
              type="button"
              className="btn"
              onClick={() => {
                changeShop(withFit(shop, keep))
                if (answer !== undefined && 'learned' in answer) setAnswer({ ...answer, kept: true })
              }}
            >
              Keep it in the shop
            </button>
          )}
        </>
      )}
      <Mind level="caution">
        A thermocouple’s wire goes in through the mouth or a port with the kiln cold and off, and its
        insulation must stand the top heat. The kiln’s maker and an electrician come before any hole in it.
      </Mind>
    </section>
  )
}
