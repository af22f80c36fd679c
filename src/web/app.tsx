import { Component, lazy, type ReactNode, Suspense } from 'react'
import { Route, Switch, useLocation } from 'wouter'
import { Head } from './parts/head.tsx'
import { Mind } from './parts/mind.tsx'
import { Currency, ShopDocuments } from './state/documents.tsx'
import { useShopInHand } from './state/shop-in-hand.ts'

const Pours = lazy(() => import('./pages/pours.tsx').then((page) => ({ default: page.Pours })))
const StartPour = lazy(() => import('./pages/start-pour.tsx').then((page) => ({ default: page.StartPour })))
const Metal = lazy(() => import('./pages/metal.tsx').then((page) => ({ default: page.Metal })))
const ShopPage = lazy(() => import('./pages/shop.tsx').then((page) => ({ default: page.ShopPage })))
const PourPages = lazy(() =>
  import('./pages/pour/pour-pages.tsx').then((page) => ({ default: page.PourPages })),
)

/** What went wrong in a page stays on that page, with a way on. */
class Caught extends Component<{ children: ReactNode }, { trouble: string | undefined }> {
  override state = { trouble: undefined as string | undefined }
  static getDerivedStateFromError(trouble: unknown): { trouble: string } {
    return { trouble: trouble instanceof Error ? trouble.message : String(trouble) }
  }
  override render(): ReactNode {
    if (this.state.trouble === undefined) return this.props.children
    return (
      <main className="page narrow-page" id="main">
        <h1 className="sh">This page could not be shown</h1>
        <Mind
          level="stop"
          action={
            <button type="button" className="do" onClick={() => location.reload()}>
              Load it again
            </button>
          }
        >
          {this.state.trouble}. What was kept is still kept.
        </Mind>
        <a className="do" href="/">
          To the list of pours
        </a>
      </main>
    )
  }
}

const Opening = () => (
  <main className="page narrow-page" id="main" aria-busy="true">
    <p className="muted opening">Opening.</p>
  </main>
)

const Nowhere = () => (
  <main className="page narrow-page" id="main">
    <h1 className="sh">Nothing stands here</h1>
    <p>
      <a className="do" href="/">
        To the list of pours
      </a>
    </p>
  </main>
)

/** Each pour brings its own shop; the pages Shop and Metal show the one in hand, all others the caster's own. */
const ShopOfPlace = ({ children }: { children: ReactNode }) => {
  const [at] = useLocation()
  const inHand = useShopInHand()
  return <ShopDocuments of={/^\/(shop|metal)/.test(at) ? inHand : 'own'}>{children}</ShopDocuments>
}

export const App = () => (
  <>
    <Head />
    <Caught>
      <Suspense fallback={<Opening />}>
        <ShopOfPlace>
          <Currency>
            <Switch>
              <Route path="/" component={Pours} />
              <Route path="/pours/new" component={StartPour} />
              <Route path="/pours/:id/pattern/:piece">
                {({ id, piece }) => <PourPages key={id} id={id} part="pattern" piece={piece} />}
              </Route>
              <Route path="/pours/:id/:part?">
                {({ id, part }) => <PourPages key={id} id={id} part={part} piece={undefined} />}
              </Route>
              <Route path="/metal" component={Metal} />
              <Route path="/shop" component={ShopPage} />
              <Route component={Nowhere} />
            </Switch>
          </Currency>
        </ShopOfPlace>
      </Suspense>
    </Caught>
  </>
)
