import { useDocuments, usePour } from '../state/documents.tsx'
import { holdsStock } from '../state/new-pour.ts'
import { Mind } from './mind.tsx'

/** Says that the charge leaves the caster's own metal aside, as a pour begun before it was weighed in does. */
export const ShelfUnused = () => {
  const { shop, change } = useDocuments()
  const pour = usePour()
  if (pour.charge.fromStock || !holdsStock(shop)) return null
  const lots = shop.lots.filter((lot) => lot.mass_g > 0).length
  return (
    <Mind
      level="note"
      action={
        <button type="button" className="do" onClick={() => change('/pour/charge/fromStock', true)}>
          Make it up from the shelf
        </button>
      }
    >
      {lots === 1 ? 'The lot on your shelf is' : `The ${lots} lots on your shelf are`} left aside: this charge
      is reckoned as if fine metal were at hand.
    </Mind>
  )
}
