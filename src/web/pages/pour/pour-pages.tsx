import { type ComponentType, lazy, Suspense, useEffect, useMemo, useRef } from 'react'
import { useLocation } from 'wouter'
import type { Part } from '../../../engine/quantity/answer.ts'
import { Foot } from '../../parts/foot.tsx'
import { Mind } from '../../parts/mind.tsx'
import { PourTitle } from '../../parts/pour-title.tsx'
import { Rule } from '../../parts/rule.tsx'
import { TwoScreens } from '../../parts/shop-bar.tsx'
import { WhySlip } from '../../parts/why-slip.tsx'
import { PART_NAMES, pageOf, partOf } from '../../state/captions.ts'
import { Currency, PourDocuments, useDocuments, usePour } from '../../state/documents.tsx'
import { usePlanKeys } from '../../state/keys.ts'
import { loadSchemas } from '../../state/limits.ts'
import { openEntry, useOpenPath } from '../../state/open-path.ts'
import { PlanProvider, usePlan } from '../../state/plan.tsx'
import { PlanPage } from './plan-page.tsx'
import '../../style/plan.css'

const page = (load: () => Promise<Record<string, ComponentType>>, name: string) =>
  lazy(async () => ({ default: (await load())[name] as ComponentType }))

const PAGES: Readonly<Record<Part | 'go', ComponentType>> = {
  pieces: page(() => import('./pieces-page.tsx'), 'PiecesPage'),
  flask: page(() => import('./flask-page.tsx'), 'FlaskPage'),
  freeze: page(() => import('./freeze-page.tsx'), 'FreezePage'),
  charge: page(() => import('./charge-page.tsx'), 'ChargePage'),
  price: page(() => import('./price-page.tsx'), 'PricePage'),
  mix: page(() => import('./mix-page.tsx'), 'MixPage'),
  burnout: page(() => import('./burnout-page.tsx'), 'BurnoutPage'),
  spin: page(() => import('./spin-page.tsx'), 'SpinPage'),
  quench: page(() => import('./quench-page.tsx'), 'QuenchPage'),
  finish: page(() => import('./finish-page.tsx'), 'FinishPage'),
  go: page(() => import('./go-page.tsx'), 'GoPage'),
}

const PatternPage = lazy(() =>
  import('./pattern/pattern-page.tsx').then((loaded) => ({ default: loaded.PatternPage })),
)

const KEYS = [
  ['1 to 9, 0', 'open parts 1 to 10'],
  ['[ and ]', 'previous part, next part'],
  ['E', 'next open check'],
  ['U', 'inches or millimetres'],
  ['P', 'print the run sheet'],
  ['Ctrl Z, Ctrl Shift Z', 'undo, redo'],
  ['?', 'this list'],
] as const

const KeyList = ({ list }: { list: React.RefObject<HTMLDialogElement | null> }) => (
  <dialog ref={list} className="keys" aria-labelledby="keys-title">
    <h2 id="keys-title">Keys on a plan</h2>
    <dl>
      {KEYS.map(([key, what]) => (
        <div key={key}>
          <dt>{key}</dt>
          <dd>{what}</dd>
        </div>
      ))}
    </dl>
    <p className="sm muted">Single keys can be turned off under Shop, Copies.</p>
    <form method="dialog">
      <button type="submit" className="btn">
        Close
      </button>
    </form>
  </dialog>
)

const Fetching = () => (
  <div className="part-page" aria-busy="true">
    <p className="muted opening">Opening.</p>
  </div>
)

interface Where {
  readonly part: string | undefined
  /** the piece whose own page it is */
  readonly piece: string | undefined
}

const Views = ({ part, piece }: Where) => {
  const { pourId = '' } = useDocuments()
  const pour = usePour()
  const { plan, close } = usePlan()
  const [, go] = useLocation()
  const keys = useRef<HTMLDialogElement>(null)
  const lastCheck = useRef(-1)
  const isPattern = part === 'pattern'
  const here = isPattern ? 'pieces' : partOf(part)
  const isGo = part === 'go'
  useOpenPath(part)
  useEffect(() => {
    void loadSchemas()
  }, [])
  useEffect(() => {
    const name = isPattern
      ? 'Drawing'
      : here === undefined
        ? isGo
          ? 'Go or no-go'
          : 'Plan'
        : PART_NAMES[here]
    document.title = `${name}, ${pour.name} · Pourwright`
  }, [here, isGo, isPattern, pour.name])
  // biome-ignore lint/correctness/useExhaustiveDependencies: an explanation closes when the part changes
  useEffect(() => {
    close()
    scrollTo(0, 0)
  }, [part, piece])

  usePlanKeys(
    useMemo(
      () => ({
        part: here,
        goTo: (next) => go(`/pours/${pourId}/${next}`),
        nextCheck: () => {
          const open = [...plan.go.stops, ...plan.go.checks].filter((one) => one.where !== undefined)
          if (open.length === 0) return
          lastCheck.current = (lastCheck.current + 1) % open.length
          const where = open[lastCheck.current]?.where ?? ''
          const target = pageOf(where, pourId, pour.pieces)
          if (location.pathname === target) openEntry(where)
          else go(`${target}#${where}`)
        },
        print: () => document.getElementById('print')?.click(),
        help: () => keys.current?.showModal(),
      }),
      [here, pourId, pour.pieces, plan, go],
    ),
  )

  const Page = here !== undefined ? PAGES[here] : isGo ? PAGES.go : undefined
  const unknown = part !== undefined && Page === undefined
  return (
    <>
      <TwoScreens />
      <PourTitle />
      <Rule part={here} />
      <main id="main" className="beside-slip">
        {unknown ? (
          <div className="page">
            <Mind level="note">This pour has no part called “{part}”.</Mind>
          </div>
        ) : isPattern ? (
          <Suspense fallback={<Fetching />}>
            <PatternPage key={piece} piece={piece} />
          </Suspense>
        ) : Page === undefined ? (
          <PlanPage />
        ) : (
          // the title, the rule and the foot stay while a part is fetched
          <Suspense fallback={<Fetching />}>
            <Page />
          </Suspense>
        )}
      </main>
      <div className="tail" />
      <Foot onGo={isGo} />
      <WhySlip />
      <KeyList list={keys} />
    </>
  )
}

export const PourPages = ({ id, part, piece }: Where & { id: string }) => (
  <PourDocuments id={id}>
    <Currency>
      <PlanProvider key={id}>
        <Views part={part} piece={piece} />
      </PlanProvider>
    </Currency>
  </PourDocuments>
)
