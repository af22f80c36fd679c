import { keyUnitOf } from '../../engine/documents/roots.ts'
import type { Quantity } from '../../engine/quantity/quantity.ts'
import { useDocuments } from '../state/documents.tsx'
import type { EntryForm } from '../state/entry.ts'
import { usePlan } from '../state/plan.tsx'
import { useUnits } from '../state/units.ts'
import { type WrittenAs, written } from '../state/written.ts'
import { Asked, type AskedProps } from './asked.tsx'
import { Whisker } from './whisker.tsx'

/** How a root's own document number is typed: by its key where that says all, else by what the root tells. */
export const formOf = (quantity: Quantity): EntryForm => {
  const path = quantity.path ?? ''
  const key = keyUnitOf(path)
  const plain = quantity.plainMass === true ? { plainMass: true } : {}
  if (key.unit === quantity.unit && key.scale === quantity.documentScale && key.unit !== '1') return plain
  // hours and minutes are typed as such, whatever formula reads them
  if (quantity.unit === 's')
    return {
      unitPath: quantity.documentScale === 3600 ? '/x_h' : quantity.documentScale === 60 ? '/x_min' : '/x_s',
    }
  return {
    unit: quantity.unit,
    scale: quantity.documentScale ?? 1,
    offset: quantity.documentOffset ?? 0,
    ...plain,
  }
}

export interface FigureProps {
  /** undefined while it is not known */
  readonly of: Quantity | undefined
  /** its id, so that the last known value stands, greyed, while a slow result is out */
  readonly id?: string
  readonly as?: WrittenAs
  /** the range after the figure */
  readonly range?: boolean
  /** no unit, where the column head carries it */
  readonly bare?: boolean
  /** stands by rule until a slow result comes */
  readonly byRule?: boolean
}

/**
 * A figure of the plan. Reckoned: press for what it rests on. Asked, usual or weighed with a place in the
 * documents: press to change it.
 */
export const Figure = ({ of, id, as, range, bare, byRule }: FigureProps) => {
  const { plan, explain, why, before, working } = usePlan()
  const units = useUnits()
  if (of === undefined) {
    const last = id === undefined || !working ? undefined : before(id)
    // nothing is open about a figure whose shape is still being measured
    const measuring = plan.wanted.some((wanted) => wanted.kind !== 'make-up')
    if (last === undefined) return <span className="muted">{measuring ? 'being worked out' : 'open'}</span>
    const { lead, value, label } = written(last, units, as)
    return (
      <span className="old">
        {lead}
        {value} {bare !== true && label} <small className="working">from before, being worked out</small>
      </span>
    )
  }
  const { lead, value, label, low, high, ranged } = written(of, units, as)
  const changeable = of.path !== undefined && of.kind !== 'reckoned'
  const stale = byRule ?? (working && plan.charge.byRule && of.id === 'charge.fineness')
  return (
    <span className={stale ? 'q old' : 'q'}>
      {changeable && of.path !== undefined ? (
        <Asked
          path={of.path}
          title={of.title}
          kind={of.kind === 'weighed' ? 'weighed' : of.kind === 'usual' ? 'usual' : 'asked'}
          hideLabel
          {...formOf(of)}
          {...((as === 'hundred' || as === 'count') && { as, unit: undefined })}
        />
      ) : (
        <button
          type="button"
          className="figure"
          aria-haspopup="dialog"
          aria-expanded={why.at(-1) === of.id}
          aria-label={`${of.title}: ${lead}${value} ${label}, what it rests on`}
          onClick={() => explain(of.id)}
        >
          {lead}
          {value}
        </button>
      )}
      {bare !== true && label !== '' && <span className="u"> {label}</span>}
      {range === true && ranged && (
        <span className="rg">
          {' '}
          {lead}
          {low} to {lead}
          {high}
        </span>
      )}
      {stale && <small className="working"> by rule, being worked out</small>}
    </span>
  )
}

/** A number the plan works out unless the caster asks for another: press to ask, clear to let it be. */
export const AskedOr = ({
  path,
  of,
  as,
  range,
  ...rest
}: Pick<FigureProps, 'as' | 'range'> &
  Omit<AskedProps, 'path' | 'title' | 'as'> & {
    readonly path: string
    readonly of: Quantity | undefined
    readonly title?: string
  }) => {
  const { read, change } = useDocuments()
  const units = useUnits()
  const { explain } = usePlan()
  const asked = read(path) !== undefined
  const text = of === undefined ? undefined : written(of, units, as)
  const title = rest.title ?? of?.title ?? ''
  return (
    <span className="q">
      <Asked
        {...rest}
        path={path}
        title={title}
        kind="asked"
        optional
        hideLabel
        {...((as === 'hundred' || as === 'count') && { as })}
        {...(text !== undefined && { empty: `${text.lead}${text.value}` })}
        {...(of !== undefined && { standing: of.value })}
      />
      {text !== undefined && text.label !== '' && <span className="u"> {text.label}</span>}
      {range === true && text?.ranged === true && (
        <span className="rg">
          {' '}
          {text.low} to {text.high}
        </span>
      )}
      {asked ? (
        <button type="button" className="quiet small" onClick={() => change(path, undefined)}>
          as worked out<span className="vh">: {title}</span>
        </button>
      ) : (
        of?.kind === 'reckoned' && (
          <button type="button" className="quiet small" onClick={() => explain(of.id)}>
            why<span className="vh">: {title}</span>
          </button>
        )
      )}
    </span>
  )
}

/** The range of a figure as a whisker on a scale that its column shares. */
export const Range = ({
  of,
  from,
  to,
  limit,
  width,
}: {
  of: Quantity
  /** SI */
  from: number
  to: number
  limit?: number
  width?: number
}) => {
  const units = useUnits()
  const { value, low, high, label } = written(of, units)
  return (
    <Whisker
      value={of.value}
      low={of.low}
      high={of.high}
      from={from}
      to={to}
      {...(limit !== undefined && { limit })}
      {...(width !== undefined && { width })}
      label={`most likely ${value} ${label}, nine in ten between ${low} and ${high}`}
    />
  )
}
