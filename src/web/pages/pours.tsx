import { lazy, Suspense, useEffect, useState } from 'react'
import { Link, useLocation } from 'wouter'
import type { Piece } from '../../engine/documents/pour.ts'
import { Mind } from '../parts/mind.tsx'
import { Outlines } from '../scene/outline.tsx'
import {
  duplicatePour,
  openDemo,
  type PourRow,
  readPour,
  readPours,
  recoverPour,
  removePour,
  type ShopOf,
} from '../state/api.ts'
import { castMoment, writeMoment } from '../state/cast-time.ts'
import { forgetPour, openShop, ShopDocuments, useDocuments } from '../state/documents.tsx'
import { countOfPieces } from '../state/new-pour.ts'

const FirstRun = lazy(() => import('./first-run.tsx').then((page) => ({ default: page.FirstRun })))
const PieceOutlines = lazy(() =>
  import('../parts/piece-outlines.tsx').then((part) => ({ default: part.PieceOutlines })),
)
const ClashLines = lazy(() => import('./clash-lines.tsx').then((page) => ({ default: page.ClashLines })))
const WhereItStands = lazy(() =>
  import('./where-it-stands.tsx').then((page) => ({ default: page.WhereItStands })),
)
const NextPour = lazy(() => import('./next-pour.tsx').then((page) => ({ default: page.NextPour })))

interface Listed extends PourRow {
  readonly at?: number
  readonly zone: string
}

/** The clocks of the demo studio, when any row stands in it. */
const demoZone = async (rows: readonly PourRow[]): Promise<string | undefined> =>
  rows.some((row) => row.shopOf === 'demo') ? (await openShop('demo')).view().document.timeZone : undefined

const withPours = async (rows: readonly PourRow[]): Promise<readonly PourRow[]> =>
  Promise.all(
    rows.map(async (row) => {
      if (row.pour !== undefined || row.deleted !== undefined) return row
      const { pour, shopOf } = await readPour(row.id)
      return { ...row, pour, ...(shopOf !== undefined && { shopOf }) }
    }),
  )

/** Begun as this file loads, so that the list is on its way before the page is drawn; used once. */
let reading: Promise<readonly PourRow[]> | undefined = location.pathname === '/' ? readPours() : undefined
reading?.catch(() => undefined)

const firstReading = (): Promise<readonly PourRow[]> => {
  const begun = reading ?? readPours()
  reading = undefined
  return begun
}

export const Pours = () => {
  const { shop } = useDocuments()
  const [, go] = useLocation()
  const [rows, setRows] = useState<readonly PourRow[] | undefined>(undefined)
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const [noDemo, setNoDemo] = useState<string | undefined>(undefined)
  const [studioZone, setStudioZone] = useState<string | undefined>(undefined)
  const [now] = useState(Date.now)

  useEffect(() => {
    document.title = 'Pours · Pourwright'
    firstReading()
      .then(withPours)
      .then(async (read) => {
        setStudioZone(await demoZone(read))
        setRows(read)
      })
      .catch((error: Error) => setTrouble(error.message))
  }, [])

  if (trouble !== undefined)
    return (
      <main className="page narrow-page" id="main">
        <h1 className="sh">Pours</h1>
        <Mind level="stop">The list could not be read: {trouble}.</Mind>
      </main>
    )
  if (rows === undefined)
    return (
      <main className="page narrow-page" id="main" aria-busy="true">
        <p className="muted opening">Opening.</p>
      </main>
    )

  const listed: readonly Listed[] = rows
    .filter((row) => row.deleted === undefined)
    .map((row) => ({ ...row, zone: (row.shopOf === 'demo' ? studioZone : undefined) ?? shop.timeZone }))
    .map((row) => ({
      ...row,
      ...(row.pour !== undefined && { at: castMoment(row.pour.castAt, row.zone, now) }),
    }))
    .toSorted((a, b) => (b.at ?? 0) - (a.at ?? 0))
  const gone = rows.filter((row) => row.deleted !== undefined)
  const earlier = gone.filter((row) => row.deleted !== 'now')
  if (listed.length === 0 && gone.length === 0) return <FirstRun />

  const ahead = listed.filter((row) => (row.at ?? 0) >= now).toReversed()
  const next = ahead[0] ?? listed[0]
  const others = listed.filter((row) => row.id !== next?.id)

  const remove = async (row: PourRow): Promise<void> => {
    await removePour(row.id)
    forgetPour(row.id)
    setRows(rows.map((one) => (one.id === row.id ? { ...one, deleted: 'now' } : one)))
  }
  const recover = async (row: PourRow): Promise<void> => {
    await recoverPour(row.id)
    const { deleted: _back, ...kept } = row
    const back = kept.pour === undefined ? { ...kept, pour: (await readPour(row.id)).pour } : kept
    setRows(rows.map((one) => (one.id === row.id ? back : one)))
  }
  const copy = async (row: PourRow): Promise<void> => {
    const made = await duplicatePour(row.id)
    go(`/pours/${made.id}`)
  }

  const demo = async (): Promise<void> => {
    try {
      const { id } = await openDemo()
      go(`/pours/${id}`)
    } catch (error) {
      setNoDemo((error as Error).message)
    }
  }

  return (
    <main className="page narrow-page" id="main">
      <div className="tp">
        <h1>Pours</h1>
        <span className="muted">{listed.length === 1 ? 'one planned' : `${listed.length} planned`}</span>
        <span className="sp" />
        <Link className="btn go" href="/pours/new">
          Plan a pour
        </Link>
      </div>
      {next?.pour !== undefined && (
        <section className="next" aria-label="Next pour">
          <Suspense
            fallback={
              <>
                <div className="next-drawing">
                  <Outlines pieces={next.pour.pieces} scale={4} most={520} />
                </div>
                <div>
                  <h2>
                    <Link href={`/pours/${next.id}`}>{next.name}</Link>
                  </h2>
                  <p className="muted">Working the plan out.</p>
                </div>
              </>
            }
          >
            <ShopDocuments of={next.shopOf ?? 'own'}>
              <NextPour id={next.id} pour={next.pour} at={next.at} />
            </ShopDocuments>
          </Suspense>
        </section>
      )}
      {SHOPS.map((of) => {
        const pours = ahead.flatMap(({ id, name, pour, shopOf = 'own' }) =>
          pour !== undefined && shopOf === of ? [{ id, name, pour }] : [],
        )
        return pours.length < 2 ? null : (
          <Suspense key={of} fallback={null}>
            <ShopDocuments of={of}>
              <ClashLines pours={pours} />
            </ShopDocuments>
          </Suspense>
        )
      })}
      {gone.map((row) =>
        row.deleted === 'now' ? (
          <Mind
            key={row.id}
            level="note"
            live
            action={
              <button type="button" className="do" onClick={() => void recover(row)}>
                Bring it back
              </button>
            }
          >
            {row.name} is off the list.
          </Mind>
        ) : null,
      )}
      {others.length > 0 && (
        <>
          <h2 className="sh">All others</h2>
          <ul className="pour-list">
            {others.map((row) => (
              <li key={row.id}>
                <span className="no">{row.number ?? row.pour?.number ?? ''}</span>
                <span className="drawn">
                  {row.pour !== undefined && <RowOutlines pieces={row.pour.pieces} />}
                </span>
                <span>
                  <Link href={`/pours/${row.id}`} className="strong">
                    {row.name}
                  </Link>
                  <small>
                    {row.shopOf === 'demo' && 'demo studio, '}
                    {row.at === undefined ? 'no time set' : `cast ${writeMoment(row.at, row.zone)}`}
                  </small>
                  {row.pour !== undefined && (
                    <Suspense fallback={<span className="stand muted">Being planned.</span>}>
                      <ShopDocuments of={row.shopOf ?? 'own'}>
                        <WhereItStands id={row.id} name={row.name} pour={row.pour} />
                      </ShopDocuments>
                    </Suspense>
                  )}
                </span>
                <span className="muted">{countOfPieces(row.pour?.pieces ?? [])}</span>
                <RowActions row={row} copy={copy} remove={remove} />
              </li>
            ))}
          </ul>
        </>
      )}
      {earlier.length > 0 && (
        <details className="fold">
          <summary>Taken off the list, {earlier.length}</summary>
          <ul>
            {earlier.map((row) => (
              <li key={row.id} className="row">
                {row.name}
                <button type="button" className="quiet" onClick={() => void recover(row)}>
                  Bring it back<span className="vh">: {row.name}</span>
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
      {next !== undefined && (
        <p className="row sm muted quiet-row">
          {next.name}: <RowActions row={next} copy={copy} remove={remove} />
        </p>
      )}
      <p className="sm muted quiet-row">
        <button type="button" className="quiet" onClick={() => void demo()}>
          Look at the demo
        </button>{' '}
        {noDemo === undefined
          ? 'A finished plan in an invented shop; your own pours never use it.'
          : `It could not be opened: ${noDemo}.`}
      </p>
    </main>
  )
}

const SHOPS: readonly ShopOf[] = ['own', 'demo']

const hasModel = (piece: Piece): boolean => piece.source.from === 'mesh'

/** A row's outlines; whatever draws models is fetched only for a row that has one. */
const RowOutlines = ({ pieces }: { pieces: readonly Piece[] }) => {
  const plain = <Outlines pieces={pieces} scale={1.6} most={230} />
  if (!pieces.some(hasModel)) return plain
  return (
    <Suspense fallback={plain}>
      <PieceOutlines pieces={pieces} scale={1.6} most={230} />
    </Suspense>
  )
}

const RowActions = ({
  row,
  copy,
  remove,
}: {
  row: PourRow
  copy: (row: PourRow) => Promise<void>
  remove: (row: PourRow) => Promise<void>
}) => (
  <span className="actions">
    <button type="button" className="quiet" onClick={() => void copy(row)}>
      Copy<span className="vh"> {row.name}</span>
    </button>
    <a className="quiet" href={`/api/pours/${row.id}/file`} download>
      Save as a file<span className="vh">, {row.name}</span>
    </a>
    <button type="button" className="quiet" onClick={() => void remove(row)}>
      Take off the list<span className="vh">, {row.name}</span>
    </button>
  </span>
)
