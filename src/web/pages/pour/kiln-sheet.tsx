import { useState } from 'react'
import { NOT_KEPT } from '../../parts/foot.tsx'
import { Mind } from '../../parts/mind.tsx'
import { printKilnSheet } from '../../state/api.ts'
import { useOnlyHere } from '../../state/arrangement.ts'
import { useDocuments } from '../../state/documents.tsx'
import { usePaper } from '../../state/paper.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

/** The sheet that hangs beside the kiln, on the paper that was chosen for the run sheet. */
export const KilnSheet = () => {
  const { pourId = '', keepNow } = useDocuments()
  const { plan } = usePlan()
  const units = useUnits()
  const [paper] = usePaper()
  const [printed, setPrinted] = useState<{ readonly of: unknown; readonly sheet: string } | undefined>()
  const [trouble, setTrouble] = useState<string | undefined>()
  const [printing, setPrinting] = useState(false)
  // a sheet stands only for the plan that it was printed from
  const of = JSON.stringify([plan.burnout.total?.value, plan.burnout.start, plan.pour, units, paper])
  const onlyHere = useOnlyHere(plan)
  const print = async (): Promise<void> => {
    if (onlyHere) {
      setTrouble(NOT_KEPT)
      return
    }
    setPrinting(true)
    setTrouble(undefined)
    try {
      await keepNow()
      const pdf = await printKilnSheet(pourId, paper, units)
      const sheet = URL.createObjectURL(new Blob([pdf], { type: 'application/pdf' }))
      setPrinted({ of, sheet })
      window.open(sheet, '_blank')
    } catch (error) {
      setTrouble((error as Error).message)
    } finally {
      setPrinting(false)
    }
  }
  return (
    <>
      {printed?.of === of ? (
        <a className="btn" href={printed.sheet} target="_blank" rel="noreferrer">
          Open the kiln’s sheet
        </a>
      ) : (
        <button type="button" className="btn" disabled={printing} onClick={() => void print()}>
          {printing ? 'Printing' : 'Print the kiln’s sheet'}
        </button>
      )}
      {trouble !== undefined && (
        <Mind level="check" live>
          Not printed: {trouble}.
        </Mind>
      )}
    </>
  )
}
