import type { WeighedPiece } from '../../../../engine/piece/index.ts'
import { writeFigure } from '../../../../engine/quantity/words.ts'
import { PieceOutlines } from '../../../parts/piece-outlines.tsx'
import { usePour } from '../../../state/documents.tsx'
import { letterOf } from '../../../state/new-pour.ts'
import { sizesOf } from '../../../state/piece-sizes.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { FROM } from './comes-from.ts'

export const PieceList = ({ chosen, choose }: { chosen: number; choose: (index: number) => void }) => {
  const pour = usePour()
  const { plan } = usePlan()
  const sizes = sizesOf(plan)
  return (
    <ol className="piece-list">
      {pour.pieces.map((piece, index) => {
        const weighed = plan.pieces.pieces[index]
        return (
          <li key={piece.id}>
            <button type="button" aria-pressed={index === chosen} onClick={() => choose(index)}>
              <span>
                <PieceOutlines pieces={[{ ...piece, quantity: 1 }]} sizes={sizes} scale={1} most={60} />
              </span>
              <span>
                <b>{letterOf(index)}</b> {piece.name}
                <small>
                  {FROM[piece.source.from]}
                  {piece.quantity > 1 && `, ${piece.quantity} of them`}
                </small>
              </span>
              <WaxOf weighed={weighed} />
            </button>
          </li>
        )
      })}
    </ol>
  )
}

const WaxOf = ({ weighed }: { weighed: WeighedPiece | undefined }) => {
  const units = useUnits()
  if (weighed?.waxMass === undefined)
    return <span className="muted">{weighed?.pending ? 'being measured' : 'open'}</span>
  const text = writeFigure({ value: weighed.waxMass.value, unit: 'kg', plainMass: true }, units)
  return (
    <span className={weighed.waxMass.kind === 'weighed' ? 'weighed flat' : 'q'}>
      {text}
      {weighed.quantity > 1 && ' each'}
    </span>
  )
}
