import { Link } from 'wouter'
import { spreadThrough } from '../../../../engine/piece/drawn-piece.ts'
import type { WeighedPiece } from '../../../../engine/piece/index.ts'
import type { Quantity } from '../../../../engine/quantity/quantity.ts'
import { writingOf } from '../../../../engine/quantity/units.ts'
import { Figure, Range } from '../../../parts/figure.tsx'
import { VerdictLine } from '../../../parts/remedy.tsx'
import { useDocuments } from '../../../state/documents.tsx'
import type { PatternSource } from '../../../state/pattern-work.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { written } from '../../../state/written.ts'
import { LengthEntry } from './length-entry.tsx'
import { useLengths } from './use-heights.ts'

/** Saw and file want this much more wax than the outline, all round. */
const SAW_MM = 1.5

/** How much larger each length of the wax is than of the drawing. */
export const overOf = (drawn: WeighedPiece['drawn']): number =>
  drawn === undefined ? 1 : Math.cbrt(drawn.volume.value / drawn.asDrawn.value)

/** An axis that the range fills to about two thirds. */
const around = (of: Quantity): { from: number; to: number } => {
  const half = Math.max(of.high - of.value, of.value - of.low, Math.abs(of.value) * 0.002) * 1.7
  return { from: of.value - half, to: of.value + half }
}

/** A spread below this would be written as nought. */
const LEAST_SHOWN = 0.005

const Share = ({ of, roots }: { of: Quantity; roots: readonly Quantity[] }) => {
  const units = useUnits()
  const writing = writingOf(of.unit, units, of.plainMass)
  const shown = spreadThrough(of, roots) * writing.scale
  if (shown < LEAST_SHOWN) return <span className="muted">nothing</span>
  return (
    <>
      ±{shown.toFixed(shown < 0.095 ? 2 : 1)} <span className="muted">{writing.label}</span>
    </>
  )
}

/** What the drawing means in wax, metal and money, and what it weighed once it was carved. */
export const Means = ({
  index,
  source,
  bounds,
}: {
  index: number
  source: PatternSource
  bounds: { readonly min: readonly number[]; readonly max: readonly number[] } | undefined
}) => {
  const { plan } = usePlan()
  const { shop, change, pourId } = useDocuments()
  const units = useUnits()
  const { write, label } = useLengths()
  const weighed = plan.pieces.pieces[index]
  const drawn = weighed?.drawn
  const id = `pieces.${weighed?.id}`
  const alloy = shop.alloys.find((one) => one.id === plan.pour.alloy) ?? shop.alloys[0]
  const over = overOf(drawn)
  const side = (axis: number): number =>
    Math.ceil(((bounds?.max[axis] ?? 0) - (bounds?.min[axis] ?? 0)) * over + 2 * SAW_MM)
  const cast = weighed?.castMass
  const { ask } = plan.price
  const wax = drawn?.wax
  const compared = [...plan.go.stops, ...plan.go.checks, ...plan.go.passes].find(
    (one) => one.id === `${id}.carved`,
  )
  const range = (of: Quantity): string => {
    const { low, high } = written(of, units)
    return `${low} to ${high}`
  }
  return (
    <section aria-label="What it means" className="band">
      <dl>
        <dt className="lb">Blank to cut from</dt>
        <dd>
          {bounds === undefined ? (
            <span className="muted">open</span>
          ) : (
            <>
              <b>
                {write(side(0))} × {write(side(1))} × {write(source.heights.blank_mm)}
              </b>{' '}
              <span className="muted">{label}</span>
            </>
          )}
        </dd>
      </dl>
      <dl>
        <dt className="lb">
          Wax, carved
          {wax !== undefined && <span className="rg">{range(wax)}</span>}
        </dt>
        <dd className="mid">
          <Figure of={wax} id={`${id}.waxToCome`} />
        </dd>
      </dl>
      <dl>
        <dt className="lb">
          In {alloy?.name.toLowerCase() ?? 'metal'}
          {cast !== undefined && <Range of={cast} {...around(cast)} width={150} />}
        </dt>
        <dd className="big">
          <Figure of={cast} id={`${id}.castMass`} />
        </dd>
      </dl>
      {drawn !== undefined && cast !== undefined && source.carved_g === undefined && (
        <dl>
          <dt className="lb">
            of that range, the drawing
            <br />
            and carving by hand
          </dt>
          <dd>
            <Share of={cast} roots={drawn.ofDrawing} />
            <br />
            <Share of={cast} roots={drawn.ofHand} />
          </dd>
        </dl>
      )}
      <dl>
        <dt className="lb">
          Price of the pour
          {ask !== undefined && <Range of={ask} {...around(ask)} width={150} />}
        </dt>
        <dd className="mid">
          {ask === undefined ? (
            <Link className="do" href={`/pours/${pourId}/price`}>
              open
            </Link>
          ) : (
            <>
              <Figure of={ask} />
              <span className="rg">{range(ask)}</span>
            </>
          )}
        </dd>
      </dl>
      <p className="sm weighed-later">
        Weighed later at{' '}
        <LengthEntry
          title="Carved wax on the scale"
          value={source.carved_g}
          least={0.01}
          most={20_000}
          unit="/x_g"
          kind="weighed"
          empty="not yet"
          path={`/pour/pieces/${index}/source/carved_g`}
          onChange={(carved_g, group) => change(`/pour/pieces/${index}/source/carved_g`, carved_g, group)}
        />
        . Kept beside this guess, to learn your hand.
        {source.carved_g !== undefined && (
          <button
            type="button"
            className="quiet small"
            onClick={() => change(`/pour/pieces/${index}/source/carved_g`, undefined)}
          >
            not weighed yet
          </button>
        )}
      </p>
      {compared !== undefined && <VerdictLine verdict={{ ...compared, remedy: [] }} />}
    </section>
  )
}
