import { useState } from 'react'
import { writeChance, writeWords } from '../../../engine/quantity/words.ts'
import { Asked } from '../../parts/asked.tsx'
import { AskedOr, Figure } from '../../parts/figure.tsx'
import { Mind } from '../../parts/mind.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { type Share, ShareBar } from '../../scene/share-bar.tsx'
import { useDocuments, usePour } from '../../state/documents.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'
import { writtenOut } from '../../state/written.ts'

const TONES: Readonly<Record<string, Share['tone']>> = {
  metal: 'metal',
  stone: 'stone',
  labour: 'plain',
}

const NAMES: Readonly<Record<string, string>> = {
  metal: 'Metal',
  'metal lost': 'Metal lost',
  stone: 'Stone',
  wax: 'Wax',
  powder: 'Powder',
  power: 'Power',
  gas: 'Gas',
  labour: 'Labour',
}

/** The shop's own pours as marks, spoiled ones hollow and crossed. */
const Record = ({ pours, spoiled }: { pours: number; spoiled: number }) => {
  const shown = Math.min(pours, 40)
  const crossed = pours === 0 ? 0 : Math.round((spoiled / pours) * shown)
  return (
    <svg
      viewBox={`0 0 ${Math.min(shown, 20) * 26 + 4} ${Math.ceil(shown / 20) * 28}`}
      width={Math.min(shown, 20) * 26 + 4}
      role="img"
      aria-label={`${spoiled} of ${pours} pours were spoiled`}
    >
      {Array.from({ length: shown }, (_, index) => {
        const [x, y] = [(index % 20) * 26 + 13, Math.floor(index / 20) * 28 + 13]
        const bad = index < crossed
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: marks in a row, told apart by nothing else
          <g key={index}>
            <circle
              cx={x}
              cy={y}
              r="11"
              fill={bad ? 'var(--sheet)' : 'var(--metal-s)'}
              stroke={bad ? 'var(--ink)' : 'var(--metal)'}
              strokeWidth={bad ? 1.8 : 1}
            />
            {bad && (
              <path
                d={`M${x - 5} ${y - 5}l10 10M${x + 5} ${y - 5}l-10 10`}
                stroke="var(--ink)"
                strokeWidth="1.8"
              />
            )}
          </g>
        )
      })}
    </svg>
  )
}

const Labour = () => {
  const pour = usePour()
  const { change } = useDocuments()
  const { plan } = usePlan()
  const [step, setStep] = useState('')
  const add = (): void => {
    const name = step.trim()
    if (name === '' || name in pour.price.labour_h) return
    change('/pour/price/labour_h', { ...pour.price.labour_h, [name]: 1 })
    setStep('')
  }
  return (
    <FigureRows label="Hours, step by step">
      {plan.price.labour.steps.map((one) => (
        <FigureRow
          key={one.name}
          name={one.name.charAt(0).toUpperCase() + one.name.slice(1)}
          about={
            <>
              <Figure of={one.cost} range={one.usual} />
              {one.again ? ', again if it is spoiled' : ''}{' '}
              <button
                type="button"
                className="quiet small"
                onClick={() => {
                  const { [one.name]: _gone, ...kept } = pour.price.labour_h
                  change('/pour/price/labour_h', one.usual ? { ...kept, [one.name]: 0 } : kept)
                }}
              >
                leave out<span className="vh">: {one.name}</span>
              </button>
            </>
          }
        >
          <Asked
            path={`/pour/price/labour_h/${one.name.replaceAll('~', '~0').replaceAll('/', '~1')}`}
            title={`Hours of ${one.name}`}
            unitPath="/x_h"
            empty={`about ${Number((one.time.value / 3600).toPrecision(2))} h, not yours`}
          />
        </FigureRow>
      ))}
      <FigureRow
        name={
          <label>
            <span className="vh">Another step</span>
            <input
              className="fld text-entry"
              placeholder="another step"
              value={step}
              maxLength={60}
              onChange={(event) => setStep(event.target.value)}
              onKeyDown={(event) => {
                if (event.key === 'Enter') add()
              }}
            />
          </label>
        }
      >
        <button type="button" className="quiet" onClick={add}>
          Add it
        </button>
      </FigureRow>
    </FigureRows>
  )
}

export const PricePage = () => {
  const { plan } = usePlan()
  const { shop, read, change } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const [copied, setCopied] = useState(false)
  const { price } = plan
  const shares: Share[] = [
    ...price.lines.map(
      (line): Share => ({
        name: NAMES[line.name] ?? line.name,
        value: line.amount.value,
        text: writtenOut(line.amount, units),
        tone: TONES[line.name] ?? 'light',
      }),
    ),
    ...(price.secondTry?.share === undefined
      ? []
      : [
          {
            name: 'Again',
            value: price.secondTry.share.value,
            text: writtenOut(price.secondTry.share, units),
            tone: 'hatched' as const,
          },
        ]),
    ...(price.overhead === undefined
      ? []
      : [
          {
            name: 'Shop',
            value: price.overhead.value,
            text: writtenOut(price.overhead, units),
            tone: 'metal' as const,
          },
        ]),
    ...(price.margin === undefined
      ? []
      : [
          {
            name: 'Margin',
            value: price.margin.value,
            text: writtenOut(price.margin, units),
            tone: 'light' as const,
          },
        ]),
  ]
  const quoteText = price.quote === undefined ? '' : writeWords(price.quote.words, units)
  return (
    <div className="part-page cols2">
      <section aria-label="Price">
        <div className="fig">
          <Stat name="Ask, before it is carved" size="big">
            <Figure of={price.ask} id="price.ask" range />
          </Stat>
          {price.deposit !== undefined && (
            <Stat name="Half of the quote, to begin">
              <Figure of={price.deposit} />
            </Stat>
          )}
          {price.tiedUp !== undefined && (
            <Stat name="In the crucible on the day" below="most comes back as metal">
              <Figure of={price.tiedUp} />
            </Stat>
          )}
        </div>
        <h2 className="sh">Where the money goes</h2>
        <ShareBar shares={shares} label="Where the money goes" narrow={narrow} />
        {price.secondTry?.share !== undefined && (
          <p className="sm muted">Hatched: the share of a second try.</p>
        )}
        <table>
          <caption className="vh">Where the money goes</caption>
          <thead>
            <tr>
              <th scope="col">For</th>
              <th scope="col" className="n">
                {shop.currency}
              </th>
            </tr>
          </thead>
          <tbody>
            {price.lines.map((line) => (
              <FigureRow key={line.name} name={NAMES[line.name] ?? line.name}>
                <Figure of={line.amount} range />
              </FigureRow>
            ))}
            {price.secondTry !== undefined && (
              <FigureRow
                name="If it must be made again"
                about={
                  <>
                    of <Figure of={price.secondTry.cost} />
                  </>
                }
              >
                <Figure of={price.secondTry.share} range />
              </FigureRow>
            )}
            <FigureRow
              name="For the shop’s keep"
              about={<Asked path="/shop/prices/overhead" title="For the shop’s keep" as="hundred" />}
            >
              <Figure of={price.overhead} range />
            </FigureRow>
            <FigureRow name="Margin" about={<Asked path="/shop/prices/margin" title="Margin" as="hundred" />}>
              <Figure of={price.margin} range />
            </FigureRow>
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">Ask</th>
              <td className="n">
                <Figure of={price.ask} range />
              </td>
            </tr>
          </tfoot>
        </table>
        {price.leftOut.length > 0 && (
          <p className="sm muted">Not in the sum, not known: {price.leftOut.join(', ')}.</p>
        )}
        <div className="facts-two">
          <section aria-label="If it must be made again">
            <h2 className="sh">If it must be made again</h2>
            {shop.record !== undefined && shop.record.pours > 0 && (
              <>
                <Record pours={shop.record.pours} spoiled={shop.record.spoiled} />
                <p className="sm">
                  <b>
                    {shop.record.spoiled} of your {shop.record.pours}
                  </b>{' '}
                  pours were spoiled.{shop.record.pours < 30 && ' So few leave the true share wide.'}
                </p>
              </>
            )}
            <p className="sm">
              Chance to charge for:{' '}
              <Asked
                path="/pour/price/failedPours"
                title="Chance that this pour is spoiled"
                as="one in"
                optional
                empty={
                  price.chance.chance === undefined
                    ? 'not said'
                    : `${writeChance(price.chance.chance.value)}, from your record`
                }
              />
            </p>
            {price.chance.chance === undefined && (
              <p className="sm muted">It is asked, or read from your own record. It is never invented.</p>
            )}
          </section>
          <section aria-label="A mould of the wax first?">
            <h2 className="sh">A mould of the wax first?</h2>
            {price.mould !== undefined ? (
              <p className="sm">
                <Say words={price.mould.words} />
              </p>
            ) : (
              <p className="sm muted">It needs the hours of carving.</p>
            )}
          </section>
        </div>
        <PartVerdicts part="price" />
      </section>
      <section aria-label="For the client, and what it rests on">
        <h2 className="sh">For the client</h2>
        {price.quote === undefined ? (
          <p className="text">
            {price.ask === undefined ? (
              <>
                <b>No quotation yet.</b> It needs the finished weight and a metal price.
              </>
            ) : (
              <>
                <b>Enter your hours first; the quote waits.</b> The hours of{' '}
                {price.quoteWaitsFor.join(' and ')} are usual ones and not yours, and a client would hold you
                to the sum. Or name the sum yourself:{' '}
                <AskedOr
                  path="/pour/price/quote"
                  of={undefined}
                  title="Quoted to the client"
                  unit="money"
                  scale={1}
                  empty="your own figure"
                />
              </>
            )}
          </p>
        ) : (
          <>
            <div className="quote">
              <h3>Quotation</h3>
              <p>
                <Say words={price.quote.words} />
              </p>
            </div>
            <FigureRows label="Quoted">
              <FigureRow name="Quoted to the client" about="what to ask, rounded up, unless you set it">
                <AskedOr
                  path="/pour/price/quote"
                  of={price.quoted}
                  title="Quoted to the client"
                  unit="money"
                  scale={1}
                />
              </FigureRow>
            </FigureRows>
            <p className="sm muted">The client does not see your range or your sums.</p>
            <button
              type="button"
              className="btn after"
              onClick={() => {
                void navigator.clipboard.writeText(quoteText).then(() => setCopied(true))
              }}
            >
              {copied ? 'Copied' : 'Copy as text'}
            </button>
          </>
        )}
        <label className="tick">
          <input
            type="checkbox"
            checked={read('/pour/price/clientsMetal') === true}
            onChange={(event) => change('/pour/price/clientsMetal', event.target.checked)}
          />
          the client brings the metal
        </label>
        {price.clientsMetal !== undefined && (
          <FigureRows label="The client’s metal, fine, on its own account">
            <FigureRow name="In the charge">
              <Figure of={price.clientsMetal.charged} range />
            </FigureRow>
            <FigureRow name="In the finished pieces">
              <Figure of={price.clientsMetal.inPieces} range />
            </FigureRow>
            <FigureRow name="Back, sprues and button">
              <Figure of={price.clientsMetal.back} range />
            </FigureRow>
            <FigureRow name="Back, filings">
              <Figure of={price.clientsMetal.filings} range />
            </FigureRow>
            <FigureRow name="Lost">
              <Figure of={price.clientsMetal.lost} range />
            </FigureRow>
            <FigureRow name="Left open" about="crucible, splash, weighing">
              <Figure of={price.clientsMetal.unexplained} range />
            </FigureRow>
          </FigureRows>
        )}
        <Labour />
        <FigureRows label="Today’s prices">
          {price.metalPrice !== undefined && (
            <FigureRow name="The metal as made up">
              <Figure of={price.metalPrice} />
            </FigureRow>
          )}
          <FigureRow
            name="Silver, a gram, fine"
            about={shop.prices.asOf === undefined ? 'day not said' : `as of ${shop.prices.asOf}`}
          >
            <Asked path="/shop/prices/metal_g/Ag" title="Silver, a gram, fine" unit="money/kg" scale={1000} />
          </FigureRow>
          <FigureRow name="An hour at the bench">
            <Asked path="/shop/prices/labour_h" title="An hour at the bench" unit="money" scale={1} />
          </FigureRow>
        </FigureRows>
        {shop.prices.asOf === undefined && (
          <Mind level="note">
            Metal prices are as entered by you, with no day beside them. Set both under Shop, Prices.
          </Mind>
        )}
      </section>
    </div>
  )
}
