import { useDocuments } from '../state/documents.tsx'
import { useUndoKeys } from '../state/keys.ts'
import { takeInHand } from '../state/shop-in-hand.ts'
import { Mind } from './mind.tsx'

const SAID = {
  kept: 'All kept',
  waiting: 'Keeping',
  saving: 'Keeping',
  conflict: 'Not kept yet',
  failed: 'Not kept yet. The local server does not answer; it is tried again.',
} as const

/** Whether what stands on the page is kept, and a way back. */
export const KeptLine = ({ quiet }: { quiet?: boolean }) => {
  const { state, undo, redo } = useDocuments()
  useUndoKeys(undo, redo)
  return (
    <span className="kept">
      <span role="status" className={`sm muted ${quiet === true && state === 'kept' ? 'said-quietly' : ''}`}>
        {SAID[state]}
      </span>
      <button type="button" className="quiet" onClick={undo}>
        Undo
      </button>
      <button type="button" className="quiet" onClick={redo}>
        Redo
      </button>
    </span>
  )
}

/** Over the demo studio's shop and shelf: whose they are, and the way to one's own. */
export const WhoseShop = () => {
  const { shop, shopOf } = useDocuments()
  if (shopOf === 'own') return null
  return (
    <section className="strip" aria-label="Whose shop">
      <Mind level="note">
        These are the demo studio’s height, scales, kiln, metal and record ({shop.name}). Your own pours never
        use them.
      </Mind>
      <span className="sp" />
      <button type="button" className="btn go" onClick={() => takeInHand('own')}>
        To my own shop
      </button>
    </section>
  )
}

/** Two screens wrote the same document: both stand, and the caster picks. */
export const TwoScreens = () => {
  const { conflict, keepMine, takeTheirs } = useDocuments()
  if (!conflict) return null
  return (
    <section className="strip beside-slip" aria-label="Two screens">
      <Mind level="check">Another screen changed this meanwhile. Nothing has been written over.</Mind>
      <span className="sp" />
      <button type="button" className="btn go" onClick={keepMine}>
        Keep what stands here
      </button>
      <button type="button" className="btn" onClick={takeTheirs}>
        Take the other screen’s
      </button>
    </section>
  )
}
