import { createRoot } from 'react-dom/client'
import './style/tokens.css'
import './style/base.css'
import './style/parts.css'
import './style/pages.css'
import { App } from './app.tsx'
import { showTheme } from './state/choice.ts'

showTheme()
const place = document.getElementById('root')
if (place !== null) createRoot(place).render(<App />)
