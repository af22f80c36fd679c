import { lazy, type RefObject, Suspense, useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { Arrangement } from '../../../../engine/arrange/index.ts'
import { writeStl } from '../../../../engine/piece/mesh/index.ts'
import { sayLengths } from '../../../../engine/quantity/say-lengths.ts'
import type { ArrangeAsk, Arranged } from '../../../arrange-worker.ts'
import { keyed } from '../../../parts/keyed.ts'
import { Mind } from '../../../parts/mind.tsx'
import { addressOf, letGoOf } from '../../../state/address.ts'
import { useArrangement, type ArrangementView as Work } from '../../../state/arrangement.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import '../../../style/flask.css'

// drawn in space only once there is something to draw
const ArrangedByHand = lazy(() =>
  import('./arranged-by-hand.tsx').then((loaded) => ({ default: loaded.ArrangedByHand })),
)

/** An address of these bytes for as long as they are shown. */
const useAddress = (content: string | Uint8Array | undefined, type: string): string | undefined => {
  const [address, setAddress] = useState<string | undefined>(undefined)
  useEffect(() => {
    if (content === undefined) {
      setAddress(undefined)
      return
    }
    const made = addressOf(content, type)
    setAddress(made)
    return () => letGoOf(made)
  }, [content, type])
  return address
}

/** Whether a box that slides sideways goes on past its right edge. */
const useGoesOn = (box: RefObject<HTMLElement | null>): { goesOn: boolean; look: () => void } => {
  const [goesOn, setGoesOn] = useState(false)
  const look = useCallback(() => {
    const held = box.current
    setGoesOn(held !== null && held.scrollLeft + held.clientWidth < held.scrollWidth - 1)
  }, [box])
  useEffect(() => {
    if (box.current === null) return
    // an explanation that opens beside it narrows it too
    const watch = new ResizeObserver(look)
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [box, look])
  return { goesOn, look }
}

/** The sheet, with a sign at its edge where a narrow screen cuts it. */
const SlidingSheet = ({ drawing, alt }: { drawing: string; alt: string }) => {
  const box = useRef<HTMLDivElement>(null)
  const { goesOn, look } = useGoesOn(box)
  return (
    <div className={goesOn ? 'bench-cut goes-on' : 'bench-cut'}>
      <div className="bench-drawing" ref={box} onScroll={look}>
        <a href={drawing} target="_blank" rel="noreferrer">
          <img src={drawing} alt={alt} onLoad={look} />
        </a>
      </div>
    </div>
  )
}

/** One page of the sheet as a file, to be printed by itself. */
const PageFile = ({ svg, page, name }: { svg: string; page: number; name: string }) => {
  const address = useAddress(svg, 'image/svg+xml')
  return address === undefined ? null : (
    <a className="btn thin" href={address} download={`${name}, where each wax goes, page ${page}.svg`}>
      Page {page}, SVG
    </a>
  )
}

const Drawing = ({
  arranged,
  arrangement,
  ask,
  work,
}: {
  arranged: Arranged
  arrangement: Arrangement
  ask: ArrangeAsk
  work: Work
}) => {
  const { length: unit } = useUnits()
  const { name } = ask.pour
  const { key } = arranged
  const { askSheet, sheet, settling, working } = work
  const isDrawn = sheet?.key === key && sheet.name === name && sheet.unit === unit
  const quiet = !settling && !working
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once for each arrangement, name and unit; what it asks with is made anew at every render, and depending on that would ask without end
  useEffect(() => {
    if (!isDrawn && quiet) askSheet({ do: 'draw', ask, arrangement, sheet: { key, name, unit } })
  }, [isDrawn, quiet, key, name, unit, arrangement])
  const drawing = useAddress(sheet?.svg, 'image/svg+xml')
  const body = useAddress(work.body, 'model/stl')
  const { investment, askInvestment } = work
  const mould = useAddress(
    useMemo(() => investment && writeStl(investment.mesh, 'investment, mm'), [investment]),
    'model/stl',
  )
  if (drawing === undefined) return null
  return (
    <>
      <p className="sm muted slide-how">
        The sheet goes on past the edge of a narrow screen: slide it sideways, or press it to open it by
        itself.
      </p>
      <SlidingSheet
        drawing={drawing}
        alt={`${name} from above and from the side, in ${unit === 'mm' ? 'millimetres' : 'inches'}: each sprue numbered as in the table`}
      />
      <p className="row files">
        <span className="lb">As a file</span>
        <a className="btn thin" href={drawing} download={`${name}, where each wax goes.svg`}>
          Drawing in {unit}, SVG
        </a>
        {body !== undefined && (
          <a className="btn thin" href={body} download={`${name}, metal.stl`}>
            Metal as one solid in mm, STL
          </a>
        )}
        {mould === undefined ? (
          <button
            type="button"
            className="btn thin"
            disabled={!quiet}
            onClick={() => askInvestment({ do: 'investment', ask, key, arrangement })}
          >
            Work out the investment as one solid
          </button>
        ) : (
          <a className="btn thin" href={mould} download={`${name}, investment.stl`}>
            Investment as one solid in mm, STL
          </a>
        )}
      </p>
      {sheet !== undefined && sheet.pages.length > 1 && (
        <p className="row files">
          <span className="lb">Page by page, for A4 or Letter, printed at full size</span>
          {sheet.pages.map((svg, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a page is the one that its number says
            <PageFile key={at} svg={svg} page={at + 1} name={name} />
          ))}
        </p>
      )}
    </>
  )
}

/** Where each wax sits and how it is sprued, by true shapes: worked out away from the page, and again when the tree changes. */
export const WhereEachWaxGoes = () => {
  const { plan, given, measuring } = usePlan()
  const units = useUnits()
  const work = useArrangement(plan)
  const { arranged, working, trouble, start } = work
  const { shop, pour } = plan
  if (pour.pieces.length === 0) return null
  const names = pour.pieces.map((piece) => piece.name)
  const arrangement = arranged?.arrangement
  const flask = arrangement?.flask ?? undefined
  const ask: ArrangeAsk = { shop, pour, now: given.now, meshes: given.meshes ?? {} }
  return (
    <section
      aria-label="Where each wax goes"
      className="part-page where-each"
      aria-busy={working || work.settling}
    >
      <h2 className="sh">Where each wax goes</h2>
      {arranged === undefined && (
        <p className="sm muted">
          By the true shapes of waxes and sprues, each wax is given a place in the smallest flask of the rack
          that does, and every distance is measured.
        </p>
      )}
      <p className="sm muted" role="status">
        {working && 'Where each wax goes is being worked out; some seconds.'}
        {arranged === undefined && measuring && 'Where each wax goes waits for its shape to be measured.'}
      </p>
      {trouble !== undefined && !working && (
        <>
          <Mind level="check" live>
            Not worked out: {trouble}.
          </Mind>
          <button type="button" className="btn" onClick={() => start({ do: 'arrange', ask })}>
            Work it out again
          </button>
        </>
      )}
      {arranged !== undefined && (
        <>
          <div className="where-each-cols">
            {arrangement !== undefined && flask !== undefined && (
              <Suspense
                fallback={
                  <p className="working" aria-busy="true">
                    The view is being loaded.
                  </p>
                }
              >
                <ArrangedByHand arranged={arranged} arrangement={arrangement} flask={flask} work={work} />
              </Suspense>
            )}
          </div>
          <section aria-label="What to mind">
            {keyed(
              arranged.problems.filter(({ kind }) => kind !== 'too-near'),
              ({ what }) => what,
            ).map(({ key, row: { level, what, remedy } }) => (
              <Mind key={key} level={level}>
                {sayLengths(`${what}. What to do: ${remedy}.`, units.length, names)}
              </Mind>
            ))}
            <Mind level="caution">
              A hot wax tool burns, and wax that smokes is too hot to breathe over: let it cool a little, and
              air the room.
            </Mind>
          </section>
          <section aria-label="The drawing for the bench" className="bench-sheet">
            {arrangement !== undefined && (
              <Drawing arranged={arranged} arrangement={arrangement} ask={ask} work={work} />
            )}
          </section>
        </>
      )}
    </section>
  )
}
