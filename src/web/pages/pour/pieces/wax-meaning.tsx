import { readStated } from '../../../../engine/documents/stated.ts'
import { massOf, writeFigure } from '../../../../engine/quantity/words.ts'
import type { Meaning } from '../../../parts/asked.tsx'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { likelyValue, plainNumber } from '../../../state/entry.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'

/** Says at once what a mistyped weight would mean, before the plan believes it. */
export const useWaxMeaning = (index: number): ((mass_g: number) => Meaning | undefined) => {
  const { shop } = useDocuments()
  const pour = usePour()
  const units = useUnits()
  const { plan } = usePlan()
  return (mass_g) => {
    const alloy = shop.alloys.find((one) => one.id === pour.alloy) ?? shop.alloys[0]
    const crucible = shop.crucibles.find((one) => one.id === pour.crucible) ?? shop.crucibles[0]
    const density = plan.pieces.pieces[index]?.waxDensity?.value
    if (alloy === undefined || crucible === undefined || density === undefined) return undefined
    const perGram = (readStated(alloy.density_g_cm3).value * 1000) / density
    const metal_g = mass_g * perGram
    if (metal_g <= crucible.holds_g) return undefined
    const likely = likelyValue(mass_g, 0.05, crucible.holds_g / perGram)
    return {
      words: (
        <>
          {plainNumber(mass_g, 2)} g of this wax is {writeFigure(massOf(metal_g / 1000), units)} of{' '}
          {alloy.name.toLowerCase()}, more than your crucible holds,{' '}
          {writeFigure(massOf(crucible.holds_g / 1000), units)}.
        </>
      ),
      ...(likely !== undefined && { likely }),
    }
  }
}
