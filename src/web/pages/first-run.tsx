import { useRef, useState } from 'react'
import { Link, useLocation } from 'wouter'
import { usualShop } from '../../engine/materials/usual-shop.ts'
import { canonical } from '../../engine/quantity/key.ts'
import { Asked } from '../parts/asked.tsx'
import { FlaskRack } from '../parts/flask-rack.tsx'
import { Mind } from '../parts/mind.tsx'
import { PlaceEntry } from '../parts/place-entry.tsx'
import { openDemo } from '../state/api.ts'
import { bringIn } from '../state/bring-in.ts'
import { useDocuments } from '../state/documents.tsx'
import { useUnits } from '../state/units.ts'

/** Nothing yet: three ways to start, and the shop in five entries that may each be skipped. */
export const FirstRun = () => {
  const { shop } = useDocuments()
  const units = useUnits()
  const [, go] = useLocation()
  const file = useRef<HTMLInputElement>(null)
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const [working, setWorking] = useState(false)

  const usual = usualShop()
  const touched = [
    canonical(shop.place.pressure) !== canonical(usual.place.pressure),
    canonical(shop.flasks) !== canonical(usual.flasks),
    canonical(shop.scales) !== canonical(usual.scales),
    canonical(shop.machines) !== canonical(usual.machines) ||
      canonical(shop.crucibles) !== canonical(usual.crucibles),
    canonical(shop.kilns) !== canonical(usual.kilns),
  ]
  const done = touched.filter(Boolean).length

  const demo = async (): Promise<void> => {
    setWorking(true)
    try {
      const { id } = await openDemo()
      location.assign(`/pours/${id}`)
    } catch (error) {
      setTrouble(`The demo could not be opened: ${(error as Error).message}.`)
    }
    setWorking(false)
  }
  const bring = async (chosen: File | undefined): Promise<void> => {
    if (chosen === undefined) return
    try {
      const id = await bringIn(chosen)
      if (id === undefined) location.assign('/')
      else go(`/pours/${id}`)
    } catch (error) {
      setTrouble(`${chosen.name}: ${(error as Error).message}. The file is as it was.`)
    }
  }

  return (
    <main className="page first-run" id="main">
      <section>
        <h1>No pours yet.</h1>
        <p className="lead">Look over a finished plan first, or begin with the wax or model you have.</p>
        <ol className="way">
          <li>
            <div>
              <h2>Open the demo</h2>
              <p>
                Cloak clasp set: a clasp with a carnelian, a cord slide and a tag, planned in an invented
                shop.
              </p>
            </div>
            <button type="button" className="btn go" disabled={working} onClick={() => void demo()}>
              Open the demo
            </button>
          </li>
          <li>
            <div>
              <h2>Start a pour</h2>
              <p>
                Weigh one wax and say when you want to cast. Two entries give a plan, calipers make it whole.
              </p>
            </div>
            <Link className="btn" href="/pours/new">
              Start a pour
            </Link>
          </li>
          <li>
            <div>
              <h2>Bring one in</h2>
              <p>A pour file, or everything from another machine.</p>
            </div>
            <button type="button" className="btn" onClick={() => file.current?.click()}>
              Choose a file
            </button>
            <input
              ref={file}
              type="file"
              hidden
              aria-label="A pour file or a backup"
              onChange={(event) => void bring(event.target.files?.[0])}
            />
          </li>
        </ol>
        {trouble !== undefined && (
          <Mind level="stop" live>
            {trouble}
          </Mind>
        )}
        <p className="sm muted after">Everything is kept on this computer. Nothing is sent anywhere.</p>
      </section>
      <section className="five">
        <h2>Your shop, in five entries</h2>
        <div className="cnt" role="img" aria-label={`${done} of 5 entered`}>
          {touched.map((entered, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: five fixed entries
            <i key={index} className={entered ? 'd' : ''} />
          ))}
        </div>
        <p className="lb">
          {done} of 5. The rest have usual values, marked on every plan until you change them.
        </p>
        <ol>
          <li>
            <b>1</b>
            <PlaceEntry short />
          </li>
          <li>
            <b>2</b>
            <div>
              <span>
                Flasks on your rack, {units.length === 'in' ? 'inches' : 'millimetres'}
                <small>press those you own: diameter × height inside; another size is added under Shop</small>
              </span>
              <FlaskRack scale={0.68} />
            </div>
          </li>
          <li>
            <b>3</b>
            <div className="r">
              <span>
                Metal scale reads to
                <small>
                  powder scale:{' '}
                  <Asked path="/shop/scales/powder/resolution_g" title="Powder scale reads to" plainMass />,
                  wax scale:{' '}
                  <Asked path="/shop/scales/wax/resolution_g" title="Wax scale reads to" plainMass />
                </small>
              </span>
              <Asked path="/shop/scales/metal/resolution_g" title="Metal scale reads to" plainMass />
            </div>
          </li>
          <li>
            <b>4</b>
            <div className="r">
              <span>
                Casting machine
                <small>usual: {shop.machines[0]?.name.toLowerCase()}; wind it this many turns</small>
              </span>
              <Asked path="/shop/machines/0/turns" title="Turns wound" as="count" />
            </div>
            <div className="r second">
              <small>the crucible holds, level full</small>
              <Asked path="/shop/crucibles/0/holds_g" title="Crucible holds" />
            </div>
          </li>
          <li>
            <b>5</b>
            <div className="r">
              <span>
                Kiln
                <small>usual: reads true; climbs at most</small>
              </span>
              <Asked path="/shop/kilns/0/fastestRise_C_h" title="Fastest climb of the kiln" />
            </div>
          </li>
        </ol>
      </section>
    </main>
  )
}
