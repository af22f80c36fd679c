import type { ReactNode } from 'react'
import { Link } from 'wouter'
import { PARTS, type Part } from '../../../engine/quantity/answer.ts'
import { writeDuration } from '../../../engine/quantity/words.ts'
import { AskedOr, Figure, Range } from '../../parts/figure.tsx'
import { Mind } from '../../parts/mind.tsx'
import { VerdictLine } from '../../parts/remedy.tsx'
import { Say } from '../../parts/say.tsx'
import { Stat } from '../../parts/stat.tsx'
import { Outlines } from '../../scene/outline.tsx'
import { Plate } from '../../scene/plate.tsx'
import { shapeOf } from '../../scene/tree-shape.ts'
import { WorkingBar } from '../../scene/working-bar.tsx'
import { PART_NAMES, spinEnds } from '../../state/captions.ts'
import { writeDayTime, writeMoment, writeTime } from '../../state/cast-time.ts'
import { useDocuments, usePour } from '../../state/documents.tsx'
import { sizesOf } from '../../state/piece-sizes.ts'
import { usePlan } from '../../state/plan.tsx'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'
import { written } from '../../state/written.ts'

const FROM: Readonly<Record<string, string>> = {
  'weighed-wax': 'weighed wax',
  mesh: 'model file',
  volume: 'entered volume',
}

const Row = ({ part, about, children }: { part: Part; about: ReactNode; children: ReactNode }) => {
  const { pourId } = useDocuments()
  const { plan } = usePlan()
  const worst = [...plan.go.stops, ...plan.go.checks].filter((one) => one.part === part)
  const cautions = plan.cautions.filter((one) => one.part === part && one.level !== 'caution')
  return (
    <section className="part" id={`row-${part}`}>
      <h2>
        <Link href={`/pours/${pourId}/${part}`}>
          {PARTS.indexOf(part) + 1} {PART_NAMES[part]}
        </Link>
        <small>{about}</small>
      </h2>
      <div>
        {children}
        {worst.slice(0, 2).map((verdict) => (
          <VerdictLine key={verdict.id} verdict={verdict} />
        ))}
        {worst.length > 2 && (
          <Link className="do" href={`/pours/${pourId}/go`}>
            and {worst.length - 2} more to settle
          </Link>
        )}
        {cautions.slice(0, 1).map((caution) => (
          <Mind key={caution.id} level={caution.level}>
            <Say words={caution.words} />
          </Mind>
        ))}
      </div>
    </section>
  )
}

const PiecesRow = () => {
  const { plan } = usePlan()
  const pour = usePour()
  const units = useUnits()
  const { pieces, castMass } = plan.pieces
  const half = Math.max(
    0,
    ...pieces.map((piece) => ((piece.castMassAll?.high ?? 0) - (piece.castMassAll?.low ?? 0)) / 2),
  )
  const sizes = sizesOf(plan)
  return (
    <table className="pieces-table">
      <caption className="vh">Pieces</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="vh">Outline</span>
          </th>
          <th scope="col">Piece</th>
          <th scope="col">Comes from</th>
          <th scope="col" className="n">
            Wax, g
          </th>
          <th scope="col" className="n">
            As cast, {units.mass}
          </th>
          <th scope="col">nine in ten</th>
        </tr>
      </thead>
      <tbody>
        {pieces.map((piece) => {
          const source = pour.pieces[piece.index]
          return (
            <tr key={piece.id}>
              <td>
                {source !== undefined && (
                  <Outlines pieces={[{ ...source, quantity: 1 }]} sizes={sizes} scale={1} most={58} />
                )}
              </td>
              <th scope="row">
                <b>{piece.letter}</b> {piece.name}
                {piece.quantity > 1 && <span className="muted"> × {piece.quantity}</span>}
              </th>
              <td>{FROM[piece.from]}</td>
              <td className="n">
                {piece.waxMass === undefined ? (
                  <span className="muted">{piece.pending ? 'being measured' : 'open'}</span>
                ) : (
                  <Figure of={piece.waxMass} bare />
                )}
              </td>
              <td className="n">
                <Figure of={piece.castMassAll} id={`pieces.${piece.id}.castMassAll`} bare />
              </td>
              <td>
                {piece.castMassAll !== undefined && (
                  <Range
                    of={piece.castMassAll}
                    from={piece.castMassAll.value - 1.25 * half}
                    to={piece.castMassAll.value + 1.25 * half}
                  />
                )}
              </td>
            </tr>
          )
        })}
      </tbody>
      <tfoot>
        <tr>
          <th colSpan={4} scope="row">
            Pieces as cast
          </th>
          <td className="n">
            <Figure of={castMass} id="pieces.castMass" bare />
          </td>
          <td className="rg">
            {castMass !== undefined &&
              `${written(castMass, units).low} to ${written(castMass, units).high} ${written(castMass, units).label}`}
          </td>
        </tr>
      </tfoot>
    </table>
  )
}

const Drawing = () => {
  const { plan } = usePlan()
  const { pourId } = useDocuments()
  const shape = shapeOf(plan)
  const { length } = useUnits()
  if (shape === undefined)
    return (
      <div className="no-plate">
        <p className="lead">
          <b>No flask yet.</b> Its drawing waits until every piece has a size.
        </p>
        <Link className="do" href={`/pours/${pourId}/pieces`}>
          Measure the pieces
        </Link>
      </div>
    )
  const names = [...new Set(shape.pieces.map((piece) => `${piece.letter} ${piece.name}`))].join(', ')
  return (
    <figure className="plate">
      <Plate
        shape={shape}
        label={`Cut-away of the flask, ${plan.flask === undefined ? '' : writeFlask(plan.flask.flask, length)} ${length}: ${names} on one stem above the base`}
      />
      <figcaption>
        Drawn to scale, each piece as a plain block of its outside measures. Letters and numbers match the
        list. <Link href={`/pours/${pourId}/flask`}>Turn it, measure it</Link>
      </figcaption>
    </figure>
  )
}

/** The spread: the plate on the left, one row per part on the right, the answer and never the working. */
export const PlanPage = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const zone = shop.timeZone
  const { flask, tree, needed, charge, price, mix, burnout, spin, quench, finish } = plan
  const alloy = shop.alloys.find((one) => one.id === plan.pour.alloy) ?? shop.alloys[0]
  const sprues = tree.gates.reduce((total, gate) => {
    const piece = plan.pieces.pieces.find((one) => one.id === gate.piece)
    return total + gate.count.value * (piece?.quantity ?? 1)
  }, 0)
  const labour = price.labour.steps.reduce((total, step) => total + step.time.value, 0)
  const metalLine = price.lines.find((line) => line.name === 'metal')
  const stoneLine = price.lines.find((line) => line.name === 'stone')
  const mixFrom = mix.moments?.powderIn ?? burnout.mixBy
  const ends = spinEnds(plan)
  const hottest = burnout.top
  const [first] = tree.order
  const last = tree.order.at(-1)
  const seat = finish.pieces.find((piece) => piece.seat !== undefined)?.seat
  return (
    <div className="spread">
      <div className="lp">
        <Drawing />
      </div>
      <div className="rp">
        <Row part="pieces" about={alloy?.name.toLowerCase()}>
          <PiecesRow />
        </Row>
        <Row
          part="flask"
          about={
            flask === undefined
              ? 'open'
              : `${writeFlask(flask.flask, units.length)} ${units.length}, from the rack`
          }
        >
          {flask !== undefined && (
            <div className="fig">
              {flask.sideGap !== undefined && (
                <Stat
                  name="Least clearance"
                  below={
                    <>
                      wax to wall, needs <Figure of={flask.neededSide} />
                    </>
                  }
                >
                  <Figure of={flask.sideGap} />
                </Stat>
              )}
              {flask.topGap !== undefined && (
                <Stat
                  name="Above the pieces"
                  below={
                    <>
                      rule <Figure of={flask.neededTop} />
                    </>
                  }
                >
                  <Figure of={flask.topGap} />
                </Stat>
              )}
              {tree.stem !== undefined && (
                <Stat
                  name="Sprues"
                  below={
                    <>
                      stem <Figure of={tree.stem.diameter} /> across
                    </>
                  }
                >
                  {sprues} <span className="u">on one stem</span>
                </Stat>
              )}
            </div>
          )}
        </Row>
        <Row part="freeze" about="what freezes last">
          {first !== undefined && last !== undefined && tree.order.length > 1 && (
            <div className="fig">
              <Stat name="First to freeze" below={first.name}>
                <Figure of={first.time} />
              </Stat>
              <Stat name="Last" below={last.name}>
                <Figure of={last.time} range />
              </Stat>
            </div>
          )}
        </Row>
        <Row
          part="charge"
          about={
            alloy?.fineness_ppt === undefined
              ? alloy?.name.toLowerCase()
              : `${alloy.name.toLowerCase()}, at least ${alloy.fineness_ppt.least}`
          }
        >
          <div className="fig">
            {needed.toWeigh !== undefined && (
              <Stat
                name="Melt"
                size="big"
                below={['g', 'dwt', 'oz t']
                  .filter((mass) => mass !== units.mass)
                  .map((mass) => {
                    const other = written(needed.toWeigh ?? never(), { ...units, mass: mass as 'g' })
                    return `${other.value} ${other.label}`
                  })
                  .join(', ')}
              >
                <AskedOr path="/pour/charge/toWeigh_g" of={needed.toWeigh} title="Charge to melt" />
              </Stat>
            )}
            {needed.needed !== undefined && (
              <Stat name="Needed" below={<Spread of={needed.needed} />}>
                <Figure of={needed.needed} />
              </Stat>
            )}
            {needed.probabilityShort !== undefined && (
              <Stat name="Falls short">
                <Figure of={needed.probabilityShort} as="chance" />
              </Stat>
            )}
            {charge.lines.length > 0 && (
              <Stat
                name={charge.byRule ? 'From stock, by rule, being worked out' : 'From stock'}
                size="text"
                {...(charge.fineness !== undefined && {
                  below: (
                    <>
                      fineness <Figure of={charge.fineness} byRule={charge.byRule} range />
                    </>
                  ),
                })}
              >
                <span className={charge.byRule ? 'old' : ''}>
                  {charge.lines
                    .map((line) => {
                      const mass = written(
                        { value: line.mass, low: line.mass, high: line.mass, unit: 'kg' },
                        units,
                      )
                      return `${mass.value} ${mass.label} ${line.name.toLowerCase()}`
                    })
                    .join(', ')}
                </span>
              </Stat>
            )}
          </div>
        </Row>
        <Row part="price" about="before it is carved">
          {price.ask !== undefined && (
            <div className="fig">
              <Stat name="Ask" size="big">
                <Figure of={price.ask} range />
              </Stat>
              {metalLine !== undefined && (
                <Stat name="Metal">
                  <Figure of={metalLine.amount} />
                </Stat>
              )}
              {stoneLine !== undefined && (
                <Stat name="Stone">
                  <Figure of={stoneLine.amount} />
                </Stat>
              )}
              <Stat name="Hours">
                {Number((labour / 3600).toFixed(1))} <span className="u">h</span>
              </Stat>
              {price.secondTry?.share !== undefined && (
                <Stat name="Share of a second try">
                  <Figure of={price.secondTry.share} />
                </Stat>
              )}
            </div>
          )}
        </Row>
        <p className="nrb">The wax is spent below this line. Everything above can still be changed.</p>
        <Row
          part="mix"
          about={mixFrom === undefined ? 'powder and water' : `from ${writeDayTime(mixFrom, zone)}`}
        >
          <div className="fig">
            {mix.powder !== undefined && (
              <Stat name="Powder" size="big">
                <Figure of={mix.powder} />
              </Stat>
            )}
            {mix.water !== undefined && (
              <Stat
                name="Water"
                size="big"
                below={
                  <>
                    at <Figure of={mix.slurryTemperature} />
                  </>
                }
              >
                <Figure of={mix.water} />
              </Stat>
            )}
            <Stat name="Gauge, where the water boils">
              <Figure of={mix.vacuum.boilGauge} />
            </Stat>
          </div>
          <p className="lb bar-title">
            Working time, all still at {writeDuration(mix.allStill.value)} from the first powder in the water
          </p>
          <WorkingBar time={mix} />
        </Row>
        <Row
          part="burnout"
          about={
            burnout.start === undefined
              ? 'worked back from the cast'
              : `kiln on ${writeDayTime(burnout.start, zone)}`
          }
        >
          <div className="fig">
            {burnout.start !== undefined && (
              <Stat name="Kiln on">
                {writeTime(burnout.start, zone)}{' '}
                <span className="u">{writeMoment(burnout.start, zone).split(',')[0]}</span>
              </Stat>
            )}
            {hottest !== undefined && (
              <Stat name="Top">
                <Figure of={hottest} />
              </Stat>
            )}
            <Stat name="Flask at casting">
              <Figure of={burnout.castingTemperature} />
            </Stat>
            {burnout.total !== undefined && (
              <Stat name="In the kiln">
                <Figure of={burnout.total} />
              </Stat>
            )}
          </div>
        </Row>
        <Row part="spin" about={plan.castAt === undefined ? 'the cast' : writeDayTime(plan.castAt, zone)}>
          <div className="fig">
            {spin.balance !== undefined && (
              <Stat name="Balance cold on">
                <Figure of={spin.balance.standIn} />
              </Stat>
            )}
            <Stat name="Wind">
              <AskedOr path="/pour/spin/turns" of={spin.turns} as="count" title="Turns" />{' '}
              <span className="u">turns</span>
            </Stat>
            {spin.time !== undefined && (
              <Stat
                name="Let it run"
                below={
                  <>
                    solid by <Figure of={spin.time.lastSolid} range />
                  </>
                }
              >
                <Figure of={spin.time.run} />
              </Stat>
            )}
          </div>
        </Row>
        <Row part="quench" about="after the spin">
          <div className="fig">
            {quench.planned !== undefined && (
              <Stat name="Planned" below={`${writeDuration(quench.planned)} after the spin`}>
                {ends === undefined
                  ? writeDuration(quench.planned)
                  : writeTime(ends + quench.planned * 1000, zone)}
              </Stat>
            )}
            {quench.opens !== undefined && (
              <Stat name="Opens">
                <Figure of={quench.opens} range />
              </Stat>
            )}
            {quench.closes !== undefined && (
              <Stat name="Closes">
                <Figure of={quench.closes} range />
              </Stat>
            )}
          </div>
          <p className="sm">
            <b>Visible red outranks any clock.</b>
          </p>
        </Row>
        <Row part="finish" about="pickle, saw, file, polish, set">
          <div className="fig">
            {finish.finishedMass !== undefined && (
              <Stat name="Finished">
                <Figure of={finish.finishedMass} range />
              </Stat>
            )}
            {finish.filings !== undefined && (
              <Stat name="Filings to keep">
                <Figure of={finish.filings} />
              </Stat>
            )}
            {finish.pickle.salt !== undefined && (
              <Stat name="Acid salt, into the water">
                <Figure of={finish.pickle.salt} />
              </Stat>
            )}
            {seat !== undefined && (
              <Stat name={`Carve the seat, ${seat.stone}`}>
                <Figure of={seat.length} bare /> × <Figure of={seat.width} />
              </Stat>
            )}
          </div>
        </Row>
      </div>
    </div>
  )
}

const Spread = ({ of }: { of: Parameters<typeof written>[0] }) => {
  const { low, high } = written(of, useUnits())
  return `${low} to ${high}`
}

const never = (): never => {
  throw new Error('a figure went missing between two lines')
}
