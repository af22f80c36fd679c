import { useEffect, useState } from 'react'
import { restUnknown } from '../../engine/charge/rest-unknown.ts'
import { worthOfMetal } from '../../engine/charge/worth-of-metal.ts'
import type { Element, Lot } from '../../engine/documents/shop.ts'
import { readStated } from '../../engine/documents/stated.ts'
import { GRAM_PER_TROY_OUNCE } from '../../engine/quantity/units.ts'
import { Asked, AskedChoice, AskedText, type Meaning } from '../parts/asked.tsx'
import { ValueRow, ValueTable } from '../parts/measured-row.tsx'
import { KeptLine, TwoScreens, WhoseShop } from '../parts/shop-bar.tsx'
import { Whisker } from '../parts/whisker.tsx'
import { useDocuments } from '../state/documents.tsx'
import { entryWriting, writeStandingOut } from '../state/entry.ts'
import { ELEMENTS, KINDS, likelyParts } from '../state/new-lot.ts'
import { useOpenPath } from '../state/open-path.ts'
import { useUnits } from '../state/units.ts'
import { WeighIn } from './metal/weigh-in.tsx'

const Fineness = ({ lot }: { lot: Lot }) => {
  const silver = lot.composition.Ag
  if (silver === undefined) {
    const main = Object.entries(lot.composition).toSorted(
      (a, b) => readStated(b[1]).value - readStated(a[1]).value,
    )[0]?.[0]
    return <span className="muted">no silver{main === undefined ? '' : `, mostly ${nameOf(main)}`}</span>
  }
  const { value, low, high } = readStated(silver)
  const shown = value * 1000
  return (
    <span className="row tight">
      {shown >= 900 && (
        <Whisker
          value={shown}
          low={low * 1000}
          high={high * 1000}
          from={900}
          to={1000}
          width={190}
          label={`${shown.toFixed(0)}, nine in ten between ${(low * 1000).toFixed(0)} and ${(high * 1000).toFixed(0)}`}
        />
      )}
      <b>{shown.toFixed(Math.abs(shown - Math.round(shown)) < 0.05 ? 0 : 1)}</b>
      {low !== high && (
        <span className="rg">
          {(low * 1000).toFixed(0)} to {(high * 1000).toFixed(0)}
        </span>
      )}
    </span>
  )
}

const nameOf = (element: string): string =>
  (ELEMENTS.find(([symbol]) => symbol === element)?.[1] ?? element).toLowerCase()

/** A lot's worth: as typed, or by its metal until somebody types one. */
const Worth = ({ lot, index, as: Form }: { lot: Lot; index: number; as: typeof Asked | typeof ValueRow }) => {
  const { shop } = useDocuments()
  const units = useUnits()
  const path = `/shop/lots/${index}/price_g`
  const form = { unit: 'money/kg', scale: 1000 } as const
  const byMetal = writeStandingOut(
    entryWriting(path, units, form),
    worthOfMetal(shop.prices, lot.composition),
  )
  return (
    <Form
      path={path}
      title={Form === Asked ? `${lot.name}, worth` : 'Worth'}
      {...form}
      optional
      kind={lot.price_g === undefined ? 'usual' : 'asked'}
      empty={`${byMetal}, by its metal`}
    />
  )
}

/** Silver of 92.5 in 1000 in a lot that is otherwise unsaid was likely meant in 100. */
const meaningOf =
  (lot: Lot, element: Element, name: string) =>
  (share: number): Meaning | undefined => {
    const others = Object.entries(lot.composition).map(([one, part]) => [one, readStated(part).value * 1000])
    const likely = likelyParts({ ...Object.fromEntries(others), [element]: share * 1000 })?.[element]
    return likely === undefined || likely === share * 1000
      ? undefined
      : {
          words: `${Number((share * 1000).toFixed(1))} in 1000 is hardly any ${name.toLowerCase()}. Did you mean ${likely}?`,
          likely: likely / 1000,
        }
  }

const LotDetail = ({ lot, index }: { lot: Lot; index: number }) => {
  const { shop, changeShop, change } = useDocuments()
  const at = `/shop/lots/${index}`
  const [adding, setAdding] = useState<readonly Element[]>([])
  const held = ELEMENTS.filter(
    ([element]) => lot.composition[element] !== undefined || adding.includes(element),
  )
  const absent = ELEMENTS.filter((one) => !held.includes(one))
  const total = Object.values(lot.composition).reduce<number>((sum, part) => sum + readStated(part).value, 0)
  return (
    <section aria-label={lot.name} className="lot">
      <h2 className="sh">{lot.name}</h2>
      <ValueTable label={lot.name}>
        <tr>
          <th scope="row">Called</th>
          <td colSpan={3}>
            <AskedText path={`${at}/name`} title="Lot" />
          </td>
        </tr>
        <tr>
          <th scope="row">Kind</th>
          <td colSpan={3}>
            <AskedChoice path={`${at}/kind`} title="Kind" choices={KINDS} />
          </td>
        </tr>
        <ValueRow path={`${at}/mass_g`} title="On the shelf" />
        <Worth lot={lot} index={index} as={ValueRow} />
        <ValueRow path={`${at}/generation`} title="Times remelted" as="count" empty="not said" optional />
        <tr>
          <th scope="row">Belongs to</th>
          <td colSpan={3}>
            <AskedText path={`${at}/owner`} title="Belongs to" />
          </td>
        </tr>
        <tr>
          <th scope="row">Came from</th>
          <td colSpan={3}>
            <AskedText path={`${at}/from`} title="Came from" empty="not said" optional />
          </td>
        </tr>
        {held.map(([element, name]) => (
          <ValueRow
            key={element}
            path={`${at}/composition/${element}`}
            title={name}
            as="thousand"
            meaning={meaningOf(lot, element, name)}
            empty="how much?"
            stated
            optional
          />
        ))}
        {absent.length > 0 && (
          <tr>
            <th scope="row">It also holds</th>
            <td colSpan={3}>
              <select
                className="asked"
                aria-label="It also holds"
                value=""
                onChange={(event) => setAdding([...adding, event.target.value as Element])}
              >
                <option value="">nothing else</option>
                {absent.map(([element, name]) => (
                  <option key={element} value={element}>
                    {name.toLowerCase()}
                  </option>
                ))}
              </select>
            </td>
          </tr>
        )}
      </ValueTable>
      {Math.abs(total - 1) > 0.002 && (
        <p className="sm muted">
          The parts add up to {Number((total * 1000).toFixed(1))} in 1000.{' '}
          {restUnknown(lot)
            ? 'The rest is not known, so this lot is left aside: state it, or have it assayed.'
            : 'The rest is taken as nothing that harms.'}{' '}
          {lot.composition.Cu === undefined && total < 1 && (
            <button
              type="button"
              className="quiet"
              onClick={() => change(`${at}/composition/Cu`, Number((1 - total).toPrecision(6)))}
            >
              the rest is copper
            </button>
          )}
        </p>
      )}
      <p className="row after">
        <button
          type="button"
          className="btn thin"
          onClick={() => changeShop({ ...shop, lots: shop.lots.filter((one) => one.id !== lot.id) })}
        >
          Take it off the shelf
        </button>
      </p>
    </section>
  )
}

export const Metal = () => {
  const { shop } = useDocuments()
  const [chosen, setChosen] = useState<string | undefined>(undefined)
  const index = Math.max(
    0,
    shop.lots.findIndex((lot) => lot.id === chosen),
  )
  const lot = shop.lots[index]
  useOpenPath()
  useEffect(() => {
    document.title = 'Metal · Pourwright'
  }, [])
  return (
    <>
      <TwoScreens />
      <WhoseShop />
      <main className="page narrow-page" id="main">
        <div className="tp">
          <h1>Metal</h1>
          <span className="muted">What is on the shelf, and what it is made of.</span>
          <span className="sp" />
          <KeptLine />
        </div>
        {shop.lots.length === 0 ? (
          <p className="lead nothing">
            <b>No metal on the shelf.</b> A plan then reckons with fine silver and copper as if both were at
            hand. Weigh in what you have, and the charge is made up from it.
          </p>
        ) : (
          <div className="wide-table">
            <table className="lots">
              <caption className="vh">Lots on the shelf</caption>
              <thead>
                <tr>
                  <th scope="col">Lot</th>
                  <th scope="col" className="n">
                    On the shelf
                  </th>
                  <th scope="col" className="n">
                    oz t
                  </th>
                  <th scope="col">Fineness in 1000, 900 to 1000</th>
                  <th scope="col" className="n">
                    Worth
                  </th>
                  <th scope="col">Came from</th>
                </tr>
              </thead>
              <tbody>
                {shop.lots.map((one, at) => (
                  <tr key={one.id} className={one.id === lot?.id ? 'on' : ''}>
                    <th scope="row">
                      <button
                        type="button"
                        className="pick"
                        aria-pressed={one.id === lot?.id}
                        onClick={() => setChosen(one.id)}
                      >
                        {one.name}
                      </button>
                      <small>
                        {KINDS.find(([kind]) => kind === one.kind)?.[1]}
                        {one.owner !== 'shop' && `, ${one.owner}’s`}
                      </small>
                    </th>
                    <td className="n">
                      <Asked
                        path={`/shop/lots/${at}/mass_g`}
                        title={`${one.name}, on the shelf`}
                        kind="weighed"
                      />
                    </td>
                    <td className="n muted">{(one.mass_g / GRAM_PER_TROY_OUNCE).toFixed(3)}</td>
                    <td>
                      <Fineness lot={one} />
                    </td>
                    <td className="n">
                      <Worth lot={one} index={at} as={Asked} />
                    </td>
                    <td className="muted">{one.from ?? ''}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
        <WeighIn done={setChosen} />
        {lot !== undefined && <LotDetail key={lot.id} lot={lot} index={index} />}
        <p className="sm muted after">
          An account of what went in and out of each lot is not built yet; the weights here are as you last
          entered them.
        </p>
      </main>
    </>
  )
}
