import { Figure, Range } from '../../../parts/figure.tsx'
import { PieceOutlines } from '../../../parts/piece-outlines.tsx'
import { usePour } from '../../../state/documents.tsx'
import { sizesOf } from '../../../state/piece-sizes.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { written } from '../../../state/written.ts'
import { FROM } from '../pieces/comes-from.ts'
import { Row } from './part-row.tsx'

const PiecesTable = () => {
  const { plan } = usePlan()
  const pour = usePour()
  const units = useUnits()
  const { pieces, castMass } = plan.pieces
  const half = Math.max(
    0,
    ...pieces.map((piece) => ((piece.castMassAll?.high ?? 0) - (piece.castMassAll?.low ?? 0)) / 2),
  )
  const sizes = sizesOf(plan)
  return (
    <table className="pieces-table">
      <caption className="vh">Pieces</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="vh">Outline</span>
          </th>
          <th scope="col">Piece</th>
          <th scope="col">Comes from</th>
          <th scope="col" className="n">
            Wax, g
          </th>
          <th scope="col" className="n">
            As cast, {units.mass}
          </th>
          <th scope="col">nine in ten</th>
        </tr>
      </thead>
      <tbody>
        {pieces.map((piece) => {
          const source = pour.pieces[piece.index]
          return (
            <tr key={piece.id}>
              <td>
                {source !== undefined && (
                  <PieceOutlines pieces={[{ ...source, quantity: 1 }]} sizes={sizes} scale={1} most={58} />
                )}
              </td>
              <th scope="row">
                <b>{piece.letter}</b> {piece.name}
                {piece.quantity > 1 && (
                  <>
                    <span className="muted"> × {piece.quantity}, together</span>
                    <small className="each">
                      each <Figure of={piece.waxMass} /> in wax, <Figure of={piece.castMass} /> as cast
                    </small>
                  </>
                )}
              </th>
              <td>{FROM[piece.from]}</td>
              <td className="n">
                {piece.waxMassAll === undefined ? (
                  <span className="muted">{piece.pending ? 'being measured' : 'open'}</span>
                ) : (
                  <Figure of={piece.waxMassAll} bare />
                )}
              </td>
              <td className="n">
                <Figure of={piece.castMassAll} id={`pieces.${piece.id}.castMassAll`} bare />
              </td>
              <td>
                {piece.castMassAll !== undefined && (
                  <Range
                    of={piece.castMassAll}
                    from={piece.castMassAll.value - 1.25 * half}
                    to={piece.castMassAll.value + 1.25 * half}
                  />
                )}
              </td>
            </tr>
          )
        })}
      </tbody>
      <tfoot>
        <tr>
          <th colSpan={4} scope="row">
            Pieces as cast
          </th>
          <td className="n">
            <Figure of={castMass} id="pieces.castMass" bare />
          </td>
          <td className="rg">
            {castMass !== undefined &&
              `${written(castMass, units).low} to ${written(castMass, units).high} ${written(castMass, units).label}`}
          </td>
        </tr>
      </tfoot>
    </table>
  )
}

export const PiecesRow = () => {
  const { plan } = usePlan()
  const alloy = plan.shop.alloys.find((one) => one.id === plan.pour.alloy) ?? plan.shop.alloys[0]
  return (
    <Row part="pieces" about={alloy?.name.toLowerCase()}>
      <PiecesTable />
    </Row>
  )
}
