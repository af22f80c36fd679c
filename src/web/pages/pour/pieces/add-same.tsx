import type { Piece } from '../../../../engine/documents/pour.ts'
import { FiguresForm } from '../../../parts/figures-form.tsx'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { refusalOf } from '../../../state/limits.ts'
import { samePiece } from '../../../state/new-pour.ts'

/** One weight after another, for waxes of one shape; the form stays open for the next. */
export const AddSame = ({ like, leave }: { like: Piece; leave: () => void }) => {
  const { changePour } = useDocuments()
  const pour = usePour()
  return (
    <FiguresForm<'mass_g'>
      label={`Another ${like.name}`}
      fields={[['mass_g', 'Its wax on the scale']]}
      submit="Add it"
      add={async ({ mass_g }) => {
        const piece = samePiece(pour.pieces, like, mass_g)
        if (piece === undefined) return undefined
        const next = { ...pour, pieces: [...pour.pieces, piece] }
        const refusal = await refusalOf('pour', next)
        if (refusal === undefined) changePour(next)
        return refusal
      }}
      leave={leave}
    >
      <p className="sm muted">
        It has the wax, sizes, sprue and stone of {like.name}, and its own weight. The form stays open for the
        next.
      </p>
    </FiguresForm>
  )
}
