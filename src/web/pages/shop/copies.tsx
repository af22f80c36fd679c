import { useRef, useState } from 'react'
import { usualShop } from '../../../engine/materials/usual-shop.ts'
import { Mind } from '../../parts/mind.tsx'
import { bringIn } from '../../state/bring-in.ts'
import { choose, useChoice } from '../../state/choice.ts'
import { useDocuments } from '../../state/documents.tsx'

export const Copies = () => {
  const file = useRef<HTMLInputElement>(null)
  const [said, setSaid] = useState<string | undefined>(undefined)
  const [begun, setBegun] = useState(false)
  const { shop, shopOf, changeShop, undo } = useDocuments()
  const { keys } = useChoice()
  const bring = async (chosen: File | undefined): Promise<void> => {
    if (chosen === undefined) return
    try {
      const id = await bringIn(chosen)
      location.assign(id === undefined ? '/' : `/pours/${id}`)
    } catch (error) {
      setSaid(`${chosen.name}: ${(error as Error).message}. What stands here is unchanged.`)
    }
  }
  return (
    <section className="part" id="copies">
      <h2>
        Copies<small>everything in one file</small>
      </h2>
      <div>
        <p className="text sm">
          Pours, shop, metal, models and printed sheets together. Restoring puts a file’s contents in place of
          what is here, and keeps what was here as a backup beside it.
        </p>
        <p className="row after">
          <a className="btn" href="/api/backup" download>
            Save a backup
          </a>
          <button type="button" className="btn" onClick={() => file.current?.click()}>
            Restore from a file
          </button>
          <input
            ref={file}
            type="file"
            hidden
            aria-label="A backup, or a pour file"
            onChange={(event) => void bring(event.target.files?.[0])}
          />
        </p>
        {shopOf === 'own' && (
          <p className="row after">
            <button
              type="button"
              className="btn"
              onClick={() => {
                changeShop({ ...usualShop(), timeZone: shop.timeZone })
                setBegun(true)
              }}
            >
              Begin again with a usual shop
            </button>
          </p>
        )}
        {begun && (
          <Mind
            level="note"
            live
            action={
              <button
                type="button"
                className="do"
                onClick={() => {
                  undo()
                  setBegun(false)
                }}
              >
                Put it back as it was
              </button>
            }
          >
            This shop has usual values again, its shelf is empty and its record gone.
          </Mind>
        )}
        {said !== undefined && (
          <Mind level="stop" live>
            {said}
          </Mind>
        )}
        <label className="tick">
          <input
            type="checkbox"
            checked={keys}
            onChange={(event) => choose({ keys: event.target.checked })}
          />{' '}
          single keys work on a plan: 1 to 9 and 0, [ and ], E, U, P, ?
        </label>
      </div>
    </section>
  )
}
