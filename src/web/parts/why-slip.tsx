import { useEffect, useMemo, useRef, useState } from 'react'
import { type ExplainedInput, explain, quantitiesOf } from '../../engine/explain.ts'
import type { Plan } from '../../engine/plan.ts'
import { NINE_IN_TEN, type Quantity } from '../../engine/quantity/quantity.ts'
import { toUser, writingOf } from '../../engine/quantity/units.ts'
import { axisFor, placing, tickText } from '../scene/axis.ts'
import { useDocuments } from '../state/documents.tsx'
import { entryWriting, plainNumber, readTyped, writeStanding, writeStandingOut } from '../state/entry.ts'
import { useNarrow } from '../state/narrow.ts'
import { usePlan } from '../state/plan.tsx'
import { useUnits } from '../state/units.ts'
import { written, writtenOut } from '../state/written.ts'
import { formOf } from './figure.tsx'
import { Mind } from './mind.tsx'

const KIND_WORDS = {
  asked: 'asked',
  weighed: 'weighed here',
  usual: 'usual value',
  reckoned: 'worked out',
} as const

const MOST_SHOWN = 12

const isChance = (quantity: Pick<Quantity, 'id' | 'unit'>): boolean =>
  quantity.unit === '1' && /short|chance|drop/i.test(quantity.id)

/** How far one input alone moves the answer: a bar either side of where it stands. */
const Moves = ({ input, most, quantity }: { input: ExplainedInput; most: number; quantity: Quantity }) => {
  const units = useUnits()
  const scale = writingOf(quantity.unit, units, quantity.plainMass).scale
  const half = most > 0 ? (input.moves / most) * 56 : 0
  return (
    <svg
      width="128"
      height="18"
      viewBox="0 0 128 18"
      role="img"
      aria-label={`moves the answer by ${plainNumber(input.moves * scale, 3)} either way`}
    >
      <path d="M64 1v16" stroke="var(--ink)" />
      {half > 0 && (
        <rect
          x={64 - half}
          y="4.5"
          width={Math.max(1, 2 * half)}
          height="9"
          fill="var(--metal-s)"
          stroke="var(--metal)"
        />
      )}
    </svg>
  )
}

const InputRow = ({ input, most, quantity }: { input: ExplainedInput; most: number; quantity: Quantity }) => {
  const { follow, find } = usePlan()
  const units = useUnits()
  const own = find(input.id)
  const { lead, value, label, low, high, ranged } = written(input, units)
  return (
    <tr>
      <th scope="row">
        {own === undefined ? (
          input.title
        ) : (
          <button type="button" className="link" onClick={() => follow(input.id)}>
            {input.title}
          </button>
        )}
        <small>
          {input.kind === 'reckoned' ? KIND_WORDS.reckoned : `${KIND_WORDS[input.kind]}: ${input.source}`}
        </small>
      </th>
      <td className="n">
        <span
          className={
            input.kind === 'weighed'
              ? 'weighed flat'
              : input.kind === 'reckoned' || input.path === undefined
                ? 'q'
                : 'asked flat'
          }
        >
          {lead}
          {value}
        </span>{' '}
        <span className="u">{label}</span>
        {ranged && (
          <small>
            {low} to {high}
          </small>
        )}
      </td>
      <td>
        <Moves input={input} most={most} quantity={quantity} />
      </td>
    </tr>
  )
}

const BeforeAfter = ({ now, then, what }: { now: Quantity; then: Quantity; what: string }) => {
  const units = useUnits()
  const narrow = useNarrow()
  const right = narrow ? 340 : 500
  const shown = (value: number): number => toUser(value, now.unit, units, now.plainMass)
  const ends = [now.low, now.high, then.low, then.high].map(shown)
  const axis = axisFor(Math.min(...ends), Math.max(...ends), narrow ? 3 : 5)
  const at = placing(axis, 116, right)
  const line = (quantity: Quantity, y: number, heavy: boolean) => {
    const [low, high, middle] = [shown(quantity.low), shown(quantity.high), shown(quantity.value)].map(at)
    const width = heavy ? 3 : 1.3
    return (
      <g>
        <path
          d={`M${low} ${y}H${high}M${low} ${y - 6}v12M${high} ${y - 6}v12`}
          stroke="var(--ink)"
          strokeWidth={width}
          fill="none"
        />
        <circle
          cx={middle}
          cy={y}
          r="4.5"
          fill={heavy ? 'var(--ink)' : 'var(--sheet)'}
          stroke="var(--ink)"
          strokeWidth="1.4"
        />
      </g>
    )
  }
  return (
    <svg
      viewBox={`0 0 ${right + 18} 96`}
      width="100%"
      role="img"
      aria-label={`now ${writtenOut(now, units)}, with ${what} ${writtenOut(then, units)}`}
    >
      <text x="106" y="23" fontSize="14" textAnchor="end">
        now
      </text>
      <text x="106" y="47" fontSize="14" textAnchor="end">
        with {what}
      </text>
      {line(now, 18, false)}
      {line(then, 42, true)}
      <path d={`M116 66H${right}`} stroke="var(--ink)" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} 66v7`} stroke="var(--ink)" />
          <text x={at(tick)} y="89" fontSize="14" textAnchor="middle">
            {tickText(tick, axis.step)}
          </text>
        </g>
      ))}
      {axis.short.map((tick) => (
        <path key={tick} d={`M${at(tick)} 66v4`} stroke="var(--line)" />
      ))}
    </svg>
  )
}

/** A place to change one root and see the answer before and after; nothing is kept until it is said. */
const ChangeIt = ({ quantity, roots }: { quantity: Quantity; roots: readonly Quantity[] }) => {
  const { tried } = usePlan()
  const { change, read } = useDocuments()
  const units = useUnits()
  const [chosen, setChosen] = useState(roots[0]?.id)
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const root = roots.find((one) => one.id === chosen) ?? roots[0]
  const path = root?.path
  const form = root === undefined ? {} : formOf(root)
  const writing = entryWriting(path ?? '', units, form)
  const standing =
    root === undefined ? 0 : (root.value - (root.documentOffset ?? 0)) / (root.documentScale ?? 1)
  const text = typed ?? plainNumber(writing.toShown(standing), writing.decimals)
  const shown = readTyped(text)
  const value = shown === undefined ? undefined : Number(writing.toDocument(shown).toPrecision(12))
  const moved =
    typed !== undefined && value !== undefined && Math.abs(value - standing) > Math.abs(standing) * 1e-9

  const then = useMemo((): { quantity?: Quantity; plan?: Plan } => {
    if (!moved || path === undefined || value === undefined) return {}
    try {
      const plan = tried(new Map([[path, value]]))
      return { plan, quantity: quantitiesOf(plan).get(quantity.id) }
    } catch {
      return {}
    }
  }, [moved, path, value, tried, quantity.id])

  if (root === undefined || path === undefined) return null
  const said = writeStandingOut(writing, value ?? 0)
  const keep = (): void => {
    if (value === undefined) return
    change(path, value)
    setTyped(undefined)
  }
  return (
    <section aria-label="Change it here and see">
      <h3>Change it here and see</h3>
      <div className="row change-row">
        {roots.length > 1 ? (
          <select
            className="asked"
            aria-label="Which input"
            value={root.id}
            onChange={(event) => {
              setChosen(event.target.value)
              setTyped(undefined)
            }}
          >
            {roots.map((one) => (
              <option key={one.id} value={one.id}>
                {one.title}
              </option>
            ))}
          </select>
        ) : (
          <span>{root.title}</span>
        )}
        <span className="entry">
          {writing.lead !== '' && <span className="u">{writing.lead}</span>}
          <input
            className="fld"
            inputMode="decimal"
            autoComplete="off"
            aria-label={`${root.title}, tried`}
            value={text}
            onChange={(event) => setTyped(event.target.value)}
          />
          <span className="u">{writing.label}</span>
        </span>
        {moved && <span className="sm muted">was {writeStanding(writing, standing)}</span>}
      </div>
      {moved && then.quantity !== undefined && (
        <>
          {isChance(quantity) ? (
            <p>
              Now {writtenOut(quantity, units, 'chance')}; with {said}{' '}
              <b>{writtenOut(then.quantity, units, 'chance')}</b>.
            </p>
          ) : (
            <BeforeAfter
              now={quantity}
              then={then.quantity}
              what={plainNumber(shown ?? 0, writing.decimals)}
            />
          )}
          <AlsoMoves after={then.plan} />
        </>
      )}
      {moved && then.quantity === undefined && (
        <Mind level="check">With {said} this figure could not be worked out.</Mind>
      )}
      {moved && value !== undefined && (
        <p className="row after">
          <button
            type="button"
            className="btn go"
            onClick={keep}
            disabled={read(path) === undefined && value === standing}
          >
            Keep {said}
          </button>
          <button type="button" className="btn" onClick={() => setTyped(undefined)}>
            Put it back
          </button>
        </p>
      )}
    </section>
  )
}

/** Checks and stops that the change would bring or lift. */
const AlsoMoves = ({ after }: { after: Plan | undefined }) => {
  const { plan } = usePlan()
  if (after === undefined) return null
  const open = (of: Plan): Set<string> => new Set([...of.go.stops, ...of.go.checks].map((one) => one.id))
  const [was, would] = [open(plan), open(after)]
  const brings = [...would].filter((id) => !was.has(id)).length
  const lifts = [...was].filter((id) => !would.has(id)).length
  if (brings === 0 && lifts === 0) return null
  return (
    <p className="sm muted">
      {brings > 0 && `It would open ${brings === 1 ? 'one check' : `${brings} checks`}. `}
      {lifts > 0 && `It would lift ${lifts === 1 ? 'one' : lifts}.`}
    </p>
  )
}

/** The range left if one root were known exactly, from the slopes that carry its spread. */
const narrowed = (quantity: Quantity, root: ExplainedInput): { low: number; high: number } | undefined => {
  const own = root.moves / NINE_IN_TEN
  const left = Math.sqrt(Math.max(0, quantity.u ** 2 - own ** 2))
  if (quantity.u === 0 || left / quantity.u > 0.93) return undefined
  return { low: quantity.value - NINE_IN_TEN * left, high: quantity.value + NINE_IN_TEN * left }
}

export const WhySlip = () => {
  const { why, find, close, back, before } = usePlan()
  const units = useUnits()
  const id = why.at(-1)
  const quantity = id === undefined ? undefined : (find(id) ?? before(id))
  const top = useRef<HTMLDivElement>(null)
  const opener = useRef<Element | null>(null)

  useEffect(() => {
    if (id === undefined) {
      if (opener.current instanceof HTMLElement) opener.current.focus()
      opener.current = null
      return
    }
    opener.current ??= document.activeElement
    top.current?.focus()
    top.current?.scrollTo(0, 0)
  }, [id])
  useEffect(() => {
    if (id === undefined) return
    const leave = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') close()
    }
    addEventListener('keydown', leave)
    return () => removeEventListener('keydown', leave)
  }, [id, close])

  if (quantity === undefined) return null
  const told = explain(quantity)
  const chance = isChance(quantity) ? 'chance' : undefined
  const { lead, value, label, low, high, ranged } = written(quantity, units, chance)
  const inputs = told.inputs.slice(0, MOST_SHOWN)
  const rests = told.rests.filter((root) => !told.inputs.some((input) => input.id === root.id)).slice(0, 6)
  const most = Math.max(0, ...inputs.map((input) => input.moves), ...rests.map((input) => input.moves))
  const [widest] = told.rests
  const left = widest === undefined ? undefined : narrowed(quantity, widest)
  const reachable: Quantity[] = []
  const seen = new Set<string>()
  const gather = (one: Quantity): void => {
    if (seen.has(one.id)) return
    seen.add(one.id)
    if (one.path !== undefined && one.documentScale !== undefined) reachable.push(one)
    for (const input of Object.values(one.inputs)) gather(input)
  }
  gather(quantity)
  const order = new Map(told.rests.map((root, index) => [root.id, index]))
  reachable.sort((a, b) => (order.get(a.id) ?? 999) - (order.get(b.id) ?? 999))
  const ends = written({ ...quantity, low: left?.low ?? 0, high: left?.high ?? 0 }, units)

  return (
    // biome-ignore lint/a11y/useSemanticElements: the slip lies beside the plan, which stays in use
    <div className="slip" role="dialog" aria-labelledby="why-title" ref={top} tabIndex={-1}>
      <div className="top">
        <h2 id="why-title">What it rests on</h2>
        <span className="row">
          {why.length > 1 && (
            <button type="button" className="btn" onClick={back}>
              Back
            </button>
          )}
          <button type="button" className="btn" onClick={close}>
            Close
          </button>
        </span>
      </div>
      <p className="lb">{quantity.title}</p>
      <p className="slip-figure">
        <span className="big">
          {lead}
          {value}
          <span className="u"> {label}</span>
        </span>{' '}
        {ranged && chance === undefined && (
          <span className="rg">
            {low} to {high}, nine in ten
          </span>
        )}
      </p>
      <p className="text">
        {told.says === null
          ? `${KIND_WORDS[quantity.kind]}: ${quantity.source}.`
          : `${told.says.charAt(0).toUpperCase()}${told.says.slice(1)}.`}
      </p>
      {told.marks.map((mark) => (
        <Mind key={mark} level="check">
          {mark}.
        </Mind>
      ))}
      {inputs.length > 0 && (
        <table className="rests">
          <caption className="vh">Inputs</caption>
          <thead>
            <tr>
              <th scope="col">Rests on</th>
              <th scope="col" className="n">
                Now
              </th>
              <th scope="col">
                {most > 0 && chance === undefined
                  ? `Moves it, up to ${plainNumber(most * writingOf(quantity.unit, units, quantity.plainMass).scale, 3)}${label === '' ? '' : ` ${label}`}`
                  : 'Moves it'}
              </th>
            </tr>
          </thead>
          <tbody>
            {inputs.map((input) => (
              <InputRow key={input.name} input={input} most={most} quantity={quantity} />
            ))}
          </tbody>
        </table>
      )}
      {told.inputs.length > MOST_SHOWN && (
        <p className="sm muted">and {told.inputs.length - MOST_SHOWN} more that move it less.</p>
      )}
      {widest !== undefined && left !== undefined && (
        <Mind level="note">
          <b>{widest.title}</b> widens it most. Known exactly, the range would be {ends.low} to {ends.high}{' '}
          {label}.
        </Mind>
      )}
      <ChangeIt key={quantity.id} quantity={quantity} roots={reachable} />
      {rests.length > 0 && rests.some((root) => root.moves > 0) && (
        <table className="rests">
          <caption>In the end</caption>
          <thead className="vh">
            <tr>
              <th scope="col">Root</th>
              <th scope="col">Now</th>
              <th scope="col">Moves it</th>
            </tr>
          </thead>
          <tbody>
            {rests.map((root) => (
              <InputRow key={root.id} input={root} most={most} quantity={quantity} />
            ))}
          </tbody>
        </table>
      )}
      <p className="sm muted after">
        {told.says !== null && `Source: ${quantity.source}. `}
        {told.holdsWhen !== null && `Holds when ${told.holdsWhen}.`}
      </p>
    </div>
  )
}
