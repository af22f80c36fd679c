import { type FormEvent, useState } from 'react'
import type { Calipers as CaliperSizes, Piece } from '../../../../engine/documents/pour.ts'
import { Asked } from '../../../parts/asked.tsx'
import { CaliperEntries } from '../../../parts/caliper-entries.tsx'
import { FigureRow, FigureRows } from '../../../parts/stat.tsx'
import { ThickPlaceChoice } from '../../../parts/thick-place.tsx'
import {
  type CaliperDraft,
  type CaliperTrouble,
  caliperBounds,
  readCalipers,
  type ThickPlace,
  thickPlaceOf,
  withThickPlace,
} from '../../../state/caliper-reading.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { useUnits } from '../../../state/units.ts'

export const Calipers = ({ piece, index }: { piece: Piece; index: number }) => {
  const { change } = useDocuments()
  const units = useUnits()
  const [draft, setDraft] = useState<CaliperDraft>({})
  const [troubles, setTroubles] = useState<readonly CaliperTrouble[]>([])
  const at = `/pour/pieces/${index}/source/calipers`
  // a model and a drawing are measured from their own shape
  if (piece.source.from === 'mesh' || piece.source.from === 'pattern') return null
  const calipers = piece.source.calipers
  if (calipers === undefined) {
    const set = async (event: FormEvent): Promise<void> => {
      event.preventDefault()
      const read = readCalipers(draft, units, await caliperBounds())
      if (read.kind === 'read') {
        change(at, read.calipers)
        setDraft({})
      }
      setTroubles(
        read.kind === 'trouble'
          ? read.troubles
          : read.kind === 'none'
            ? [{ key: 'length_mm', words: 'No size is entered yet.' }]
            : [],
      )
    }
    return (
      <form onSubmit={(event) => void set(event)} className="adding" noValidate>
        <h3 className="sub">By calipers</h3>
        <p className="sm muted">Without these the flask and the sprues stay open. Neither is guessed.</p>
        <div data-path={at} tabIndex={-1}>
          <CaliperEntries draft={draft} onChange={setDraft} troubles={troubles} />
        </div>
        <p className="row after">
          <button type="submit" className="btn">
            Set these sizes
          </button>
        </p>
      </form>
    )
  }
  return (
    <>
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
      </FigureRows>
      <StandingThickPlace key={piece.id} piece={piece.name} calipers={calipers} at={at} />
    </>
  )
}

/** A wide bar is one from its width on; until then the plan keeps asking. */
const StandingThickPlace = ({
  piece,
  calipers,
  at,
}: {
  piece: string
  calipers: CaliperSizes
  at: string
}) => {
  const { change } = useDocuments()
  const [widthWanted, setWidthWanted] = useState(false)
  const standing = thickPlaceOf(calipers)
  const choose = (place: ThickPlace): void => {
    setWidthWanted(place === 'wide bar')
    change(at, withThickPlace(calipers, place))
  }
  return (
    <ThickPlaceChoice
      place={standing ?? (widthWanted ? 'wide bar' : undefined)}
      choose={choose}
      path={`${at}/section`}
      width={
        <>
          its width{' '}
          <Asked
            path={`${at}/sectionWidth_mm`}
            title={`${piece}, width of the thickest place`}
            empty="not entered yet"
          />
        </>
      }
    />
  )
}
