import { useRef, useState } from 'react'
import { Link, useLocation } from 'wouter'
import { Mind } from '../parts/mind.tsx'
import { ShopCard } from '../parts/shop-card.tsx'
import { openDemo } from '../state/api.ts'
import { bringIn } from '../state/bring-in.ts'

/** Nothing yet: three ways to start, and the shop in five entries that may each be skipped. */
export const FirstRun = () => {
  const [, go] = useLocation()
  const file = useRef<HTMLInputElement>(null)
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const [working, setWorking] = useState(false)

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
        <ShopCard />
      </section>
    </main>
  )
}
