import { createRoot } from 'react-dom/client'
import './style/tokens.css'
import './style/base.css'
import './style/parts.css'
import './style/pages.css'
import { App } from './app.tsx'
import { showTheme } from './state/choice.ts'
import { openPour, openShop } from './state/documents.tsx'
import { shopInHand } from './state/shop-in-hand.ts'

showTheme()
// what the first view will ask for is fetched side by side, rather than each after the other
openShop('own').catch(() => undefined)
if (shopInHand() === 'demo') openShop('demo').catch(() => undefined)
const pour = /^\/pours\/([^/]+)/.exec(location.pathname)?.[1]
if (pour === undefined) void import('./pages/pours.tsx')
else if (pour !== 'new') {
  openPour(pour).catch(() => undefined)
  void import('./pages/pour/pour-pages.tsx')
}

const place = document.getElementById('root')
if (place !== null) createRoot(place).render(<App />)
