import { type FormEvent, useEffect, useRef, useState } from 'react'
import { useLocation } from 'wouter'
import { readStated } from '../../engine/documents/stated.ts'
import { CaliperEntries } from '../parts/caliper-entries.tsx'
import { Mind } from '../parts/mind.tsx'
import { ShopCard } from '../parts/shop-card.tsx'
import { addPour } from '../state/api.ts'
import {
  type CaliperDraft,
  type CaliperTrouble,
  caliperBounds,
  readCalipers,
} from '../state/caliper-reading.ts'
import { fromEntry, likelyCast, toEntry } from '../state/cast-time.ts'
import { useDocuments } from '../state/documents.tsx'
import { DRAWINGS, drawingTrouble, sendDrawing } from '../state/drawing-file.ts'
import { enteredOf } from '../state/entered.ts'
import { entryWriting, likelyValue, plainNumber, readTyped, writeStandingOut } from '../state/entry.ts'
import { refusalOf } from '../state/limits.ts'
import { namesFor, newPour, patternPiece, waxFor, weighedPiece } from '../state/new-pour.ts'
import { useShopInHand } from '../state/shop-in-hand.ts'
import { useUnits } from '../state/units.ts'

const MASS = '/pour/pieces/0/source/mass_g'

/** Where the shop's card has room beside the entries. */
const BESIDE = '(min-width: 1181px)'

/** The short path: a weight and a time, and calipers when they are at hand. */
export const StartPour = () => {
  const { shop, changeShop } = useDocuments()
  const units = useUnits()
  const studio = useShopInHand() === 'demo'
  const [, go] = useLocation()
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone
  const zone = shop.timeZone === 'UTC' ? here : shop.timeZone
  const [name, setName] = useState('')
  const [thing, setThing] = useState('')
  const [mass, setMass] = useState('')
  const [wax, setWax] = useState(waxFor(shop))
  const [alloy, setAlloy] = useState(shop.alloys[0]?.id ?? '')
  const [when, setWhen] = useState(() => toEntry(Date.parse(likelyCast(Date.now(), zone)), zone))
  const [calipers, setCalipers] = useState<CaliperDraft>({})
  const [sizeTroubles, setSizeTroubles] = useState<readonly CaliperTrouble[]>([])
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const entered = enteredOf(shop).filter(Boolean).length
  const [open] = useState(entered === 0 && matchMedia(BESIDE).matches)
  const drawing = useRef<HTMLInputElement>(null)
  const [wrongDrawing, setDrawingTrouble] = useState<string | undefined>(undefined)
  const [sending, setSending] = useState(false)
  const writing = entryWriting(MASS, units, { plainMass: true })
  const shown = readTyped(mass)
  const mass_g = shown === undefined ? undefined : writing.toDocument(shown)
  const chosenAlloy = shop.alloys.find((one) => one.id === alloy)
  const chosenWax = shop.waxes.find((one) => one.id === wax)
  const metal_g =
    mass_g === undefined || chosenAlloy === undefined || chosenWax === undefined
      ? undefined
      : (mass_g * readStated(chosenAlloy.density_g_cm3).value) / readStated(chosenWax.density_g_cm3).value
  const holds = shop.crucibles[0]?.holds_g ?? Number.POSITIVE_INFINITY
  const tooMuch = metal_g !== undefined && metal_g > holds
  const likely =
    tooMuch && mass_g !== undefined && metal_g !== undefined
      ? likelyValue(mass_g, 0.05, (holds * mass_g) / metal_g)
      : undefined

  useEffect(() => {
    document.title = 'Start a pour · Pourwright'
  }, [])

  const start = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setTrouble(undefined)
    if (mass_g === undefined || !(mass_g > 0)) {
      setTrouble('The weight is not a number yet. What does the scale show?')
      return
    }
    const castAt = fromEntry(when, zone)
    if (castAt === undefined) {
      setTrouble('The casting time is not a date and a time yet.')
      return
    }
    const read = readCalipers(calipers, units, await caliperBounds())
    setSizeTroubles(read.kind === 'trouble' ? read.troubles : [])
    if (read.kind === 'trouble') {
      setTrouble(
        'The calipers’ sizes are not whole yet. Leave all of them empty, and flask and sprues stay open.',
      )
      return
    }
    try {
      if (shop.timeZone === 'UTC' && zone !== 'UTC') changeShop({ ...shop, timeZone: zone })
      const { title, called } = namesFor(name, thing)
      const piece = weighedPiece([], shop, {
        name: called,
        mass_g: Number(mass_g.toPrecision(10)),
        wax,
        ...(read.kind === 'read' && { calipers: read.calipers }),
      })
      const pour = newPour(shop, { name: title, castAt, alloy, piece })
      const refusal = await refusalOf('pour', pour)
      if (refusal !== undefined) {
        setTrouble(
          refusal.most === undefined
            ? `${refusal.what}.`
            : `That is more wax than the ${writeStandingOut(writing, refusal.most)} taken here.`,
        )
        return
      }
      const made = await addPour(pour)
      go(`/pours/${made.id}`)
    } catch (error) {
      setTrouble(`It could not be started: ${(error as Error).message}.`)
    }
  }

  const startDrawn = async (): Promise<void> => {
    const file = drawing.current?.files?.[0]
    const wrong = drawingTrouble(file)
    const castAt = fromEntry(when, zone)
    if (file === undefined || wrong !== undefined || castAt === undefined) {
      setDrawingTrouble(wrong ?? 'The casting time is not a date and a time yet.')
      return
    }
    setSending(true)
    try {
      if (shop.timeZone === 'UTC' && zone !== 'UTC') changeShop({ ...shop, timeZone: zone })
      const { stem, ...sent } = await sendDrawing(file)
      const { title, called } = namesFor(name, thing.trim() === '' ? stem : thing)
      const piece = patternPiece([], { name: called, ...sent })
      const made = await addPour(newPour(shop, { name: title, castAt, alloy, piece }))
      go(`/pours/${made.id}/pattern/${piece.id}`)
    } catch (error) {
      setDrawingTrouble(`${file.name}: ${(error as Error).message}. The file is as it was.`)
      setSending(false)
    }
  }

  return (
    <main className="page start" id="main">
      <h1>Start a pour</h1>
      <p className="lead">
        One wax and a time are enough for a plan. Everything else takes this shop’s usual values, and each can
        be changed there.
        {studio && ' The demo studio’s scales, kiln, height and record stay with the demo.'}
      </p>
      <details className="five fold" open={open}>
        <summary>
          {entered === 0
            ? 'Planned in a usual shop until you enter yours: five entries, each of which may wait'
            : `Planned in your own shop, ${entered} of 5 entered, the rest usual`}
        </summary>
        <ShopCard />
      </details>
      <form onSubmit={(event) => void start(event)} noValidate>
        <ol className="way entries">
          <li>
            <label htmlFor="start-mass">
              Wax on the scale
              <small>the piece alone, without sprues</small>
            </label>
            <span className="entry">
              <input
                id="start-mass"
                className="fld"
                inputMode="decimal"
                autoComplete="off"
                value={mass}
                onChange={(event) => setMass(event.target.value)}
                aria-describedby={tooMuch ? 'start-mass-note' : undefined}
              />
              <span className="u">{writing.label}</span>
              <select
                className="asked"
                aria-label="Which wax"
                value={wax}
                onChange={(e) => setWax(e.target.value)}
              >
                {shop.waxes.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.name}
                  </option>
                ))}
              </select>
            </span>
            {tooMuch && mass_g !== undefined && metal_g !== undefined && (
              <div className="whole" id="start-mass-note">
                <Mind
                  level="check"
                  live
                  action={
                    likely !== undefined && (
                      <button
                        type="button"
                        className="do"
                        onClick={() => setMass(plainNumber(writing.toShown(likely), writing.decimals))}
                      >
                        Use {plainNumber(writing.toShown(likely), writing.decimals)} {writing.label}
                      </button>
                    )
                  }
                >
                  {plainNumber(writing.toShown(mass_g), 2)} {writing.label} of this wax is{' '}
                  {plainNumber(writing.toShown(metal_g), 0)} {writing.label} of{' '}
                  {chosenAlloy?.name.toLowerCase()}, more than your crucible holds,{' '}
                  {plainNumber(writing.toShown(holds), 0)} {writing.label}.
                </Mind>
              </div>
            )}
          </li>
          <li>
            <label htmlFor="start-when">
              When to cast
              <small>the plan works back from it; clocks of {zone.replaceAll('_', ' ')}</small>
            </label>
            <input
              id="start-when"
              className="fld long"
              type="datetime-local"
              value={when}
              onChange={(event) => setWhen(event.target.value)}
            />
          </li>
          <li>
            <label htmlFor="start-alloy">Metal</label>
            <select
              id="start-alloy"
              className="asked"
              value={alloy}
              onChange={(event) => setAlloy(event.target.value)}
            >
              {shop.alloys.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
            </select>
          </li>
          <li>
            <label htmlFor="start-thing">
              What is it?
              <small>the piece’s name, such as clasp; may wait</small>
            </label>
            <input
              id="start-thing"
              className="fld long"
              value={thing}
              maxLength={200}
              onChange={(event) => setThing(event.target.value)}
            />
          </li>
          <li>
            <label htmlFor="start-name">
              Name of the pour
              <small>may wait; the piece’s name does</small>
            </label>
            <input
              id="start-name"
              className="fld long"
              value={name}
              maxLength={200}
              onChange={(event) => setName(event.target.value)}
            />
          </li>
          <li>
            <div className="whole">
              <span>
                By calipers
                <small>may wait; without them flask and sprues stay open, and say so</small>
              </span>
              <CaliperEntries draft={calipers} onChange={setCalipers} troubles={sizeTroubles} />
            </div>
          </li>
        </ol>
        {trouble !== undefined && (
          <Mind level="check" live>
            {trouble}
          </Mind>
        )}
        <p className="row after">
          <button type="submit" className="btn go">
            Plan it
          </button>
        </p>
      </form>
      <section aria-labelledby="start-drawing-title" className="from-drawing">
        <h2 id="start-drawing-title" className="sh">
          A drawing
        </h2>
        <p className="text">
          No wax yet: bring the drawing, or a photo of it on a card or sheet of known size. Its weight and
          price come from the heights you give its parts. Time, metal and name are taken from above.
        </p>
        <label className="file-entry">
          Drawing or photo
          <small>SVG, DXF, PNG, JPEG or WebP</small>
          <input
            ref={drawing}
            type="file"
            accept={DRAWINGS}
            className="fld long"
            onChange={() => setDrawingTrouble(undefined)}
          />
        </label>
        {wrongDrawing !== undefined && (
          <Mind level="check" live>
            {wrongDrawing}
          </Mind>
        )}
        <p className="row after">
          <button type="button" className="btn" disabled={sending} onClick={() => void startDrawn()}>
            {sending ? 'Sending' : 'Start from this drawing'}
          </button>
        </p>
      </section>
      <p className="sm muted">
        A piece from a model file, or from a volume, is added on the plan’s first page.
      </p>
    </main>
  )
}
