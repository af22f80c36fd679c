import { Link } from 'wouter'
import type { Quantity } from '../../../engine/quantity/quantity.ts'
import { toUser } from '../../../engine/quantity/units.ts'
import { massOf, writeFigure } from '../../../engine/quantity/words.ts'
import { Asked, AskedChoice } from '../../parts/asked.tsx'
import { AskedOr, Figure, Range } from '../../parts/figure.tsx'
import { Mind } from '../../parts/mind.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { Say } from '../../parts/say.tsx'
import { ShelfUnused } from '../../parts/shelf-unused.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { FillChart } from '../../scene/fill-chart.tsx'
import { type Share, ShareBar } from '../../scene/share-bar.tsx'
import { roundedParts } from '../../scene/share-labels.ts'
import { useDocuments } from '../../state/documents.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { holdsStock } from '../../state/new-pour.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'
import { isSeldom, LIKELIER, written, writtenOut } from '../../state/written.ts'

/** The pile for whichever decides the charge: the cavity alone, or the cavity with a button that feeds. */
const WillItFill = () => {
  const { plan } = usePlan()
  const units = useUnits()
  const narrow = useNarrow()
  const { fill, needed, toWeigh, probabilityShort, probabilityButtonShort } = plan.needed
  if (
    fill === undefined ||
    needed === undefined ||
    toWeigh === undefined ||
    probabilityShort === undefined ||
    probabilityButtonShort === undefined
  )
    return (
      <>
        <h2 className="sh">Will it fill?</h2>
        <p className="text">
          <b>The charge is open.</b> It needs a weight for every piece, and sprues by calipers or on the
          scale.
        </p>
      </>
    )
  const byButton = toWeigh.value - fill.value > 6 * fill.u
  return (
    <>
      <h2 className="sh">
        {byButton ? 'Will the button feed?' : 'Will it fill?'}{' '}
        <small>each dot is one pour in 80; crossed ones need more</small>
      </h2>
      <FillChart
        fill={byButton ? needed : fill}
        charge={toWeigh}
        short={byButton ? probabilityButtonShort.value : probabilityShort.value}
        units={units}
        narrow={narrow}
      />
      {byButton && (
        <p className="sm text">
          The pieces and sprues take {writtenOut(fill, units)} with what stays in the crucible, so they fill:
          falls short, {writtenOut(probabilityShort, units, 'chance')}. What decides is a button large enough
          to feed them.
        </p>
      )}
    </>
  )
}

const WhereItGoes = () => {
  const { plan } = usePlan()
  const units = useUnits()
  const narrow = useNarrow()
  const { needed, spruesMetal, pieces } = plan
  if (needed.toWeigh === undefined || needed.button === undefined) return null
  const parts: readonly (readonly [name: string, of: Quantity, tone: Share['tone']])[] = [
    ...pieces.pieces.flatMap((piece) =>
      piece.castMassAll === undefined
        ? []
        : [
            [
              piece.quantity > 1 ? `${piece.name} × ${piece.quantity}` : piece.name,
              piece.castMassAll,
              'metal',
            ] as const,
          ],
    ),
    ...(spruesMetal === undefined ? [] : [['Sprues', spruesMetal, 'light'] as const]),
    ['Button', needed.button, 'light'],
    ['Stays in the crucible', needed.crucible, 'hatched'],
  ]
  const total = written(needed.toWeigh, units)
  const decimals = total.value.split('.')[1]?.length ?? 0
  // a charge asked for that is too small leaves no button, and then nothing adds up
  const shown = parts.map(([, of]) => Math.max(0, toUser(of.value, of.unit, units)))
  const rounded = roundedParts(shown, decimals)
  const shares = parts.map(
    ([name, of, tone], index): Share => ({
      name,
      value: of.value,
      text: `${(rounded[index] ?? 0).toFixed(decimals)}\u00a0${total.label}`,
      tone,
    }),
  )
  return (
    <>
      <h2 className="sh">Where {writtenOut(needed.toWeigh, units)} goes</h2>
      <ShareBar shares={shares} label="Where the charge goes" narrow={narrow} />
    </>
  )
}

const MakeUp = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const { charge, needed } = plan
  if (charge.lines.length === 0) return null
  const write = (mass: number): string =>
    written({ value: mass, low: mass, high: mass, unit: 'kg' }, units).value
  return (
    <>
      <table className={charge.byRule ? 'old' : ''}>
        <caption>
          {plan.pour.charge.fromStock && holdsStock(shop)
            ? 'From the shelf'
            : 'As if fine metal were at hand'}
        </caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col" className="n">
              Left after, {units.mass}
            </th>
            <th scope="col" className="n">
              Melt, {units.mass}
            </th>
          </tr>
        </thead>
        <tbody>
          {charge.lines.map((line) => {
            const lot = shop.lots.find((one) => one.id === line.lot)
            return (
              <tr key={line.lot}>
                <th scope="row">
                  {line.name}
                  {lot?.generation !== undefined && lot.generation > 0 && (
                    <small>remelted {lot.generation === 1 ? 'once' : `${lot.generation} times`}</small>
                  )}
                </th>
                <td className="n">
                  {lot === undefined ? '' : write(Math.max(0, lot.mass_g / 1000 - line.mass))}
                </td>
                <td className="n">
                  <b>{write(line.mass)}</b>
                </td>
              </tr>
            )
          })}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={2}>
              Charge
            </th>
            <td className="n">{needed.toWeigh !== undefined && write(needed.toWeigh.value)}</td>
          </tr>
        </tfoot>
      </table>
      {charge.byRule && (
        <p className="working" role="status">
          By rule; the cheapest that keeps every limit is being worked out.
        </p>
      )}
    </>
  )
}

export const ChargePage = () => {
  const { plan, placing } = usePlan()
  const { shop, pourId, read, change } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const { needed, charge, melt } = plan
  const alloy = shop.alloys.find((one) => one.id === plan.pour.alloy) ?? shop.alloys[0]
  const least = alloy?.fineness_ppt?.least
  return (
    <div className="part-page cols2">
      <section aria-label="Will it fill?">
        <WillItFill />
        <WhereItGoes />
        {needed.blunders.length > 0 && (
          <>
            <h2 className="sh">What would spoil it more than chance</h2>
            <ul>
              {needed.blunders.map((blunder) => (
                <li key={blunder.id}>
                  <Mind level="note">
                    <Say words={blunder.words} />
                  </Mind>
                </li>
              ))}
            </ul>
          </>
        )}
        <h2 className="sh">In the crucible</h2>
        <ol className="numbered text">
          {melt.steps.map((words) => (
            <li key={JSON.stringify(words)}>
              <Say words={words} />
            </li>
          ))}
        </ol>
      </section>
      <section aria-label="The charge">
        <div className="fig">
          <Stat
            name="Melt"
            size="big"
            below={
              needed.toWeigh !== undefined &&
              (['g', 'dwt', 'oz t'] as const)
                .filter((mass) => mass !== units.mass)
                .map((mass) => writeFigure(massOf(needed.toWeigh?.value ?? 0), { ...units, mass }))
                .join(', ')
            }
          >
            <AskedOr path="/pour/charge/toWeigh_g" of={needed.toWeigh} title="Charge to melt" />
          </Stat>
          {needed.probabilityShort !== undefined && (
            <Stat
              name="Falls short"
              below={
                <>
                  {isSeldom(needed.probabilityShort.value) && `${LIKELIER}; `}button too small:{' '}
                  <Figure of={needed.probabilityButtonShort} as="chance" />
                </>
              }
            >
              <Figure of={needed.probabilityShort} as="chance" />
            </Stat>
          )}
        </div>
        <FigureRows label="Needed">
          <FigureRow name="Metal">
            <AskedChoice
              path="/pour/alloy"
              title="Metal"
              choices={shop.alloys.map((one) => [one.id, one.name.toLowerCase()] as const)}
            />
          </FigureRow>
          <FigureRow name="Pieces as cast">
            <Figure of={plan.pieces.castMass} id="pieces.castMass" range />
          </FigureRow>
          <FigureRow
            name="Sprues"
            about={
              plan.spruesBy === 'boxes' && (
                <>
                  by outside boxes{placing && ' so far'};{' '}
                  <Link href={`/pours/${pourId}/flask`}>
                    {placing ? 'the waxes are being placed' : 'the flask’s page says why'}
                  </Link>
                </>
              )
            }
          >
            <Figure of={plan.spruesMetal} id="charge.sprues" range />
          </FigureRow>
          <FigureRow name="Stays in the crucible">
            <Figure of={needed.crucible} range />
          </FigureRow>
          <FigureRow name="To fill" about="pieces, sprues and crucible">
            <Figure of={needed.fill} id="charge.fill" range />
          </FigureRow>
          <FigureRow name="Needed" about="with the least button that feeds" strong>
            <Figure of={needed.needed} id="charge.needed" range />
          </FigureRow>
          <FigureRow name="Button left">
            <Figure of={needed.button} id="charge.button" range />
          </FigureRow>
          <FigureRow name="Comes back" about="sprues and button">
            <Figure of={needed.back} id="charge.back" range />
          </FigureRow>
        </FigureRows>
        <MakeUp />
        <ShelfUnused />
        {!holdsStock(shop) && (
          <p className="sm">
            Reckoned as if fine metal were at hand. <Link href="/metal">Weigh in your own</Link>
          </p>
        )}
        <label className="tick">
          <input
            type="checkbox"
            checked={read('/pour/charge/fromStock') !== false}
            onChange={(event) => change('/pour/charge/fromStock', event.target.checked)}
          />
          make it up from the shelf
        </label>
        {charge.fineness !== undefined && (
          <>
            <FigureRows label="Fineness">
              <FigureRow name="Fineness, in 1000">
                <Figure of={charge.fineness} byRule={charge.byRule} range />
              </FigureRow>
              <FigureRow
                name="Aim for, in 1000"
                about={least === undefined ? undefined : `at least ${least}`}
              >
                <Asked
                  path="/pour/charge/fineness_ppt"
                  title="Fineness to aim for"
                  optional
                  empty={alloy?.fineness_ppt === undefined ? 'none' : String(alloy.fineness_ppt.aim)}
                />
              </FigureRow>
              {charge.cost !== undefined && (
                <FigureRow name="Worth of the charge">
                  <Figure of={charge.cost} />
                </FigureRow>
              )}
              {charge.returnedShare !== undefined && charge.returnedShare > 0 && (
                <FigureRow name="Cast before, of 100">{(charge.returnedShare * 100).toFixed(0)}</FigureRow>
              )}
            </FigureRows>
            {least !== undefined && (
              <p className="sm muted fine-line">
                <Range
                  of={charge.fineness}
                  from={least - 15}
                  to={least + 15}
                  limit={least}
                  width={narrow ? 300 : 320}
                />
                <br />
                Heavy mark: {least}, the least that may be called {alloy?.name.toLowerCase()}.
              </p>
            )}
          </>
        )}
        <FigureRows label="Melt">
          <FigureRow name="Pour at">
            <Figure of={melt.pourTemperature} range />
          </FigureRow>
          <FigureRow name="All liquid at">
            <Figure of={melt.liquidus} range />
          </FigureRow>
          <FigureRow name="Above that by">
            <Figure of={melt.superheat} range />
          </FigureRow>
          <FigureRow name="Heat to melt it">
            <Figure of={melt.energy} id="melt.energy" range />
          </FigureRow>
          <FigureRow name="Torch time">
            <Figure of={melt.time} id="melt.time" range />
          </FigureRow>
          <FigureRow name="Crucible, filled to" about="of 100">
            <Figure of={melt.fill} id="melt.fill" as="hundred" bare />
          </FigureRow>
          <FigureRow name="Crucible">
            <AskedChoice
              path="/pour/crucible"
              title="Crucible"
              choices={shop.crucibles.map((one) => [one.id, one.name.toLowerCase()] as const)}
            />
          </FigureRow>
          <FigureRow name="Torch">
            <AskedChoice
              path="/pour/torch"
              title="Torch"
              choices={shop.torches.map((one) => [one.id, one.name.toLowerCase()] as const)}
            />
          </FigureRow>
        </FigureRows>
        <PartVerdicts part="charge" />
        {charge.standards.length > 0 && (
          <>
            <h3 className="sub">Marks it may carry</h3>
            <ul className="sm muted">
              {charge.standards.map((standard) => (
                <li key={standard}>{standard}</li>
              ))}
            </ul>
          </>
        )}
      </section>
    </div>
  )
}
