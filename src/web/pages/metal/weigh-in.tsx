import { type FormEvent, useState } from 'react'
import { worthOfMetal } from '../../../engine/charge/worth-of-metal.ts'
import type { Element, Lot } from '../../../engine/documents/shop.ts'
import { readStated } from '../../../engine/documents/stated.ts'
import { Mind } from '../../parts/mind.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { entryWriting, plainNumber, readTyped, writeStandingOut } from '../../state/entry.ts'
import { ELEMENTS, KINDS, LABELLED, type Labelled, likelyParts, readLot } from '../../state/new-lot.ts'
import { useUnits } from '../../state/units.ts'

/** Ways to put metal on the shelf; each opens an empty entry, and nothing is on the shelf until it is whole. */
export const WeighIn = ({ done }: { done: (id: string) => void }) => {
  const [open, setOpen] = useState<string | undefined>(undefined)
  const ways: readonly (readonly [string, Labelled | undefined])[] = [
    ...LABELLED,
    ['Something else', undefined],
  ]
  const chosen = ways.find(([name]) => name === open)
  return (
    <section aria-label="Weigh in">
      <h2 className="sh">Weigh in</h2>
      <p className="row">
        {ways.map(([name]) => (
          <button
            key={name}
            type="button"
            className="btn"
            aria-expanded={name === open}
            onClick={() => setOpen(name === open ? undefined : name)}
          >
            {name}
          </button>
        ))}
      </p>
      {chosen !== undefined && (
        <NewLot
          key={chosen[0]}
          labelled={chosen[1]}
          done={(id) => {
            setOpen(undefined)
            if (id !== undefined) done(id)
          }}
        />
      )}
    </section>
  )
}

const NewLot = ({
  labelled,
  done,
}: {
  labelled: Labelled | undefined
  done: (id: string | undefined) => void
}) => {
  const { shop, changeShop } = useDocuments()
  const units = useUnits()
  const [name, setName] = useState(labelled?.name ?? '')
  const [kind, setKind] = useState<Lot['kind']>(labelled?.kind ?? 'scrap')
  const [mass, setMass] = useState('')
  const [price, setPrice] = useState('')
  const [parts, setParts] = useState<Partial<Record<Element, string>>>({ Ag: '' })
  const [wanted, setWanted] = useState<readonly string[]>([])
  const [sure, setSure] = useState(false)
  const weight = entryWriting('/mass_g', units)
  const worth = entryWriting('/price_g', units, { unit: 'money/kg', scale: 1000 })
  const inThousand = Object.fromEntries(
    Object.entries(parts).flatMap(([element, typed]) => {
      const shown = readTyped(typed)
      return shown === undefined ? [] : [[element, shown]]
    }),
  )
  const composition =
    labelled?.composition ??
    Object.fromEntries(Object.entries(inThousand).map(([element, shown]) => [element, shown / 1000]))
  const likely = labelled === undefined && !sure ? likelyParts(inThousand) : undefined
  const rest = 1000 - Object.values(inThousand).reduce((sum, part) => sum + part, 0)
  const add = (event: FormEvent): void => {
    event.preventDefault()
    if (likely !== undefined) return
    const [shownMass, shownPrice] = [readTyped(mass), readTyped(price)]
    const unread = [...Object.values(parts), price]
      .filter((typed) => typed.trim() !== '' && readTyped(typed) === undefined)
      .map((typed) => `“${typed}” is not a number.`)
    const read = readLot(shop, {
      name,
      kind,
      composition,
      mass_g: shownMass === undefined ? undefined : Number(weight.toDocument(shownMass).toPrecision(10)),
      price_g: shownPrice === undefined ? undefined : Number(worth.toDocument(shownPrice).toPrecision(10)),
      generation: labelled?.generation,
    })
    if ('id' in read && unread.length === 0) {
      changeShop({ ...shop, lots: [...shop.lots, read] })
      done(read.id)
    } else setWanted([...unread, ...('id' in read ? [] : read)])
  }
  const absent = ELEMENTS.filter(([element]) => parts[element] === undefined)
  return (
    <form className="adding new-lot" onSubmit={add} noValidate aria-label="A new lot">
      <label>
        Called
        <input
          className="fld long"
          value={name}
          maxLength={200}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      {labelled === undefined && (
        <label>
          Kind
          <select
            className="asked"
            value={kind}
            onChange={(event) => setKind(event.target.value as Lot['kind'])}
          >
            {KINDS.map(([value, title]) => (
              <option key={value} value={value}>
                {title}
              </option>
            ))}
          </select>
        </label>
      )}
      <label>
        On the scale, {weight.label}
        <input
          className="fld"
          inputMode="decimal"
          autoComplete="off"
          value={mass}
          onChange={(event) => setMass(event.target.value)}
        />
      </label>
      {labelled === undefined ? (
        <>
          {ELEMENTS.filter(([element]) => parts[element] !== undefined).map(([element, title]) => (
            <label key={element}>
              {title}, in 1000
              <input
                className="fld"
                inputMode="decimal"
                autoComplete="off"
                value={parts[element] ?? ''}
                onChange={(event) => setParts({ ...parts, [element]: event.target.value })}
              />
            </label>
          ))}
          {likely === undefined && rest >= 1 && rest < 1000 && !(parts.Cu?.trim() ?? '') && (
            <p>
              <button
                type="button"
                className="quiet"
                onClick={() => setParts({ ...parts, Cu: plainNumber(rest, 1) })}
              >
                the rest, {plainNumber(rest, 1)} in 1000, is copper
              </button>
            </p>
          )}
          {likely !== undefined && (
            <div className="whole">
              <Mind level="check" live>
                {Object.keys(likely)
                  .map((element) => parts[element as Element])
                  .join(' and ')}{' '}
                in 1000 leaves most of it unsaid. Did you mean {Object.values(likely).join(' and ')}?
              </Mind>
              <p className="row">
                <button
                  type="button"
                  className="btn go"
                  onClick={() =>
                    setParts({
                      ...parts,
                      ...Object.fromEntries(
                        Object.entries(likely).map(([element, part]) => [element, String(part)]),
                      ),
                    })
                  }
                >
                  Use {Object.values(likely).join(' and ')}
                </button>
                <button type="button" className="btn" onClick={() => setSure(true)}>
                  It is right as typed
                </button>
              </p>
            </div>
          )}
          <label>
            It also holds
            <select
              className="asked"
              value=""
              onChange={(event) => setParts({ ...parts, [event.target.value]: '' })}
            >
              <option value="">nothing else</option>
              {absent.map(([element, title]) => (
                <option key={element} value={element}>
                  {title.toLowerCase()}
                </option>
              ))}
            </select>
          </label>
        </>
      ) : (
        <p className="sm muted">
          {Object.entries(labelled.composition)
            .map(([element, part]) => {
              const { low, high } = readStated(part)
              const title = ELEMENTS.find(([symbol]) => symbol === element)?.[1].toLowerCase()
              return `${Number((low * 1000).toFixed(1))} to ${Number((high * 1000).toFixed(1))} in 1000 ${title}`
            })
            .join(', ')}
          ; it can be changed once it is on the shelf.
        </p>
      )}
      <label>
        Worth, {worth.lead} {worth.label}
        <small>empty: by its metal, {writeStandingOut(worth, worthOfMetal(shop.prices, composition))}</small>
        <input
          className="fld"
          inputMode="decimal"
          autoComplete="off"
          value={price}
          onChange={(event) => setPrice(event.target.value)}
        />
      </label>
      {wanted.length > 0 && (
        <Mind level="check" live>
          {wanted.join(' ')}
        </Mind>
      )}
      <p className="row after">
        <button type="submit" className="btn go">
          Put it on the shelf
        </button>
        <button type="button" className="btn" onClick={() => done(undefined)}>
          Leave it
        </button>
      </p>
    </form>
  )
}
