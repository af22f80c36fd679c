import { Fragment } from 'react'
import { Link } from 'wouter'
import type { Blank } from '../../../../engine/pattern/blank.ts'
import type { PatternProblem } from '../../../../engine/pattern/drawing.ts'
import { spreadThrough } from '../../../../engine/piece/drawn-piece.ts'
import { shapeKey, type WeighedPiece } from '../../../../engine/piece/index.ts'
import { NINE_IN_TEN } from '../../../../engine/quantity/index.ts'
import type { Quantity } from '../../../../engine/quantity/quantity.ts'
import { writingOf } from '../../../../engine/quantity/units.ts'
import { Figure, Range } from '../../../parts/figure.tsx'
import { Mind } from '../../../parts/mind.tsx'
import { VerdictLine } from '../../../parts/remedy.tsx'
import { useDocuments } from '../../../state/documents.tsx'
import type { PatternSource } from '../../../state/pattern-work.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { written } from '../../../state/written.ts'
import { PatternProblems } from './drawing-column.tsx'
import { LengthEntry } from './length-entry.tsx'
import { useLengths } from './use-heights.ts'

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

/** What is left of a spread once some parts of it are told, nine in ten either way. */
const leftOf = (of: Quantity, parts: readonly number[]): number =>
  Math.sqrt(Math.max(0, (NINE_IN_TEN * of.u) ** 2 - parts.reduce((sum, part) => sum + part ** 2, 0)))

const Share = ({ of, spread }: { of: Quantity; spread: number }) => {
  const units = useUnits()
  const writing = writingOf(of.unit, units, of.plainMass)
  const shown = spread * writing.scale
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
  blank,
  checks,
}: {
  index: number
  source: PatternSource
  blank: Blank | undefined
  /** where the wax at hand is too thin */
  checks: readonly PatternProblem[]
}) => {
  const { plan } = usePlan()
  const { shop, change, pourId } = useDocuments()
  const units = useUnits()
  const { write, label } = useLengths()
  const weighed = plan.pieces.pieces[index]
  const drawn = weighed?.drawn
  const id = `pieces.${weighed?.id}`
  const alloy = shop.alloys.find((one) => one.id === plan.pour.alloy) ?? shop.alloys[0]
  const cast = weighed?.castMass
  const { ask } = plan.price
  const wax = drawn?.wax
  const compared = [...plan.go.stops, ...plan.go.checks, ...plan.go.passes].find(
    (one) => one.id === `${id}.carved`,
  )
  const shape = shapeKey(source)
  const parts =
    drawn === undefined || cast === undefined
      ? []
      : [drawn.ofDrawing, drawn.ofHand].map((roots) => spreadThrough(cast, roots))
  const [ofDrawing = 0, ofHand = 0] = parts
  const rest = cast === undefined ? 0 : leftOf(cast, parts)
  const shares =
    source.carved_g === undefined
      ? [
          { name: 'the drawing', spread: ofDrawing },
          { name: 'carving by hand', spread: ofHand },
          { name: 'densities and shrink', spread: rest },
        ]
      : [{ name: 'scale, densities and shrink', spread: rest }]
  const range = (of: Quantity): string => {
    const { low, high } = written(of, units)
    return `${low} to ${high}`
  }
  return (
    <section aria-label="What it means" className="band">
      <dl>
        <dt className="lb">Blank to cut from</dt>
        <dd>
          {blank === undefined ? (
            <span className="muted">open</span>
          ) : (
            <>
              <b>
                {write(blank.length_mm)} × {write(blank.width_mm)} × {write(blank.thickness_mm)}
              </b>{' '}
              <span className="muted">{label}</span>
              {blank.apart_mm !== undefined && (
                <span className="rg">or {write(blank.apart_mm)} thick, hardware made apart</span>
              )}
            </>
          )}
        </dd>
      </dl>
      <PatternProblems problems={checks} />
      <dl>
        <dt className="lb">
          {source.carved_g === undefined ? 'Wax, carved' : 'Wax, by the drawing'}
          {wax !== undefined && <span className="rg">{range(wax)}</span>}
        </dt>
        <dd className="mid">
          <Figure of={wax} id={`${id}.waxToCome`} />
        </dd>
      </dl>
      <dl>
        <dt className="lb">
          In {alloy?.name.toLowerCase() ?? 'metal'}
          {source.carved_g !== undefined && ', by the weighed wax'}
          {cast !== undefined && <Range of={cast} {...around(cast)} width={150} />}
          {cast !== undefined && <span className="rg">{range(cast)}</span>}
        </dt>
        <dd className="big">
          <Figure of={cast} id={`${id}.castMass`} />
        </dd>
      </dl>
      {drawn !== undefined && cast !== undefined && (
        <dl>
          <dt className="lb">
            of that range
            {shares.map(({ name }) => (
              <Fragment key={name}>
                <br />
                {name}
              </Fragment>
            ))}
          </dt>
          <dd>
            {shares.map(({ name, spread }) => (
              <Fragment key={name}>
                <br />
                <Share of={cast} spread={spread} />
              </Fragment>
            ))}
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
          onChange={(carved_g, group) =>
            change(`/pour/pieces/${index}/source`, { ...source, carved_g, carvedFor: shape }, group)
          }
        />
        . Kept beside this guess, to learn your hand.
        {source.carved_g !== undefined && (
          <button
            type="button"
            className="quiet small"
            onClick={() => {
              const { carved_g: _weight, carvedFor: _shape, ...rest } = source
              change(`/pour/pieces/${index}/source`, rest)
            }}
          >
            Clear the weight
          </button>
        )}
      </p>
      {source.carved_g !== undefined && source.carvedFor !== undefined && source.carvedFor !== shape && (
        <Mind level="check">
          Weighed before this change of the drawing: is it still this wax?{' '}
          <button
            type="button"
            className="btn thin"
            onClick={() => change(`/pour/pieces/${index}/source`, { ...source, carvedFor: shape })}
          >
            It is still this wax
          </button>
        </Mind>
      )}
      {compared !== undefined && <VerdictLine verdict={{ ...compared, remedy: [] }} />}
    </section>
  )
}

/** On a phone the weight, the price and the way to the paper stand right under the drawing. */
export const Glance = ({ index }: { index: number }) => {
  const { plan } = usePlan()
  const weighed = plan.pieces.pieces[index]
  return (
    <p className="glance">
      <span>
        <Figure of={weighed?.castMass} id={`pieces.${weighed?.id}.castMass`} />
      </span>
      <span>
        {plan.price.ask === undefined ? (
          <span className="muted">price open</span>
        ) : (
          <Figure of={plan.price.ask} />
        )}
      </span>
      <a className="btn thin" href="#template">
        To the template
      </a>
    </p>
  )
}
