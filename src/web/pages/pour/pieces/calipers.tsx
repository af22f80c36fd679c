import { type FormEvent, useState } from 'react'
import type { Piece } from '../../../../engine/documents/pour.ts'
import { Asked, AskedChoice } from '../../../parts/asked.tsx'
import { type CaliperDraft, CaliperEntries, readCalipers } from '../../../parts/caliper-entries.tsx'
import { Mind } from '../../../parts/mind.tsx'
import { FigureRow, FigureRows } from '../../../parts/stat.tsx'
import { useDocuments } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'

export const Calipers = ({ piece, index }: { piece: Piece; index: number }) => {
  const { change } = useDocuments()
  const units = useUnits()
  const [draft, setDraft] = useState<CaliperDraft>({})
  const [part, setPart] = useState(false)
  const at = `/pour/pieces/${index}/source/calipers`
  // a model and a drawing are measured from their own shape
  if (piece.source.from === 'mesh' || piece.source.from === 'pattern') return null
  const calipers = piece.source.calipers
  if (calipers === undefined) {
    const set = (event: FormEvent): void => {
      event.preventDefault()
      const read = readCalipers(draft, units)
      if (read === undefined || read === 'part') {
        setPart(true)
        return
      }
      change(at, read)
      setDraft({})
      setPart(false)
    }
    return (
      <form onSubmit={set} className="adding" noValidate>
        <h3 className="sub">By calipers</h3>
        <p className="sm muted">Without these the flask and the sprues stay open. Neither is guessed.</p>
        <div data-path={at} tabIndex={-1}>
          <CaliperEntries draft={draft} onChange={setDraft} />
        </div>
        {part && (
          <Mind level="check" live>
            All five figures are wanted, each more than nothing.
          </Mind>
        )}
        <p className="row after">
          <button type="submit" className="btn">
            Set these sizes
          </button>
        </p>
      </form>
    )
  }
  return (
    <FigureRows label="By calipers">
      <FigureRow name="Length">
        <Asked path={`${at}/length_mm`} title={`${piece.name}, length`} />
      </FigureRow>
      <FigureRow name="Width">
        <Asked path={`${at}/width_mm`} title={`${piece.name}, width`} />
      </FigureRow>
      <FigureRow name="Height">
        <Asked path={`${at}/height_mm`} title={`${piece.name}, height`} />
      </FigureRow>
      <FigureRow name="Thickest section" about="caliper jaws">
        <Asked path={`${at}/thickest_mm`} title={`${piece.name}, thickest`} />
      </FigureRow>
      <FigureRow name="Thinnest section">
        <Asked path={`${at}/thinnest_mm`} title={`${piece.name}, thinnest`} />
      </FigureRow>
      <FigureRow name="The thick place is" about="sets how fast it freezes">
        <AskedChoice
          path={`${at}/section`}
          title="The thick place is"
          empty="flat"
          choices={[
            ['plate', 'flat'],
            ['bar', 'a bar'],
            ['round', 'round'],
          ]}
        />
      </FigureRow>
    </FigureRows>
  )
}
