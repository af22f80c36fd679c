import { nextWaxWire, waxWireOf } from '../../../engine/materials/wax-wire.ts'
import { lengthOf, writeFigure } from '../../../engine/quantity/words.ts'
import { AskedOr, Figure } from '../../parts/figure.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { FigureRow, FigureRows } from '../../parts/stat.tsx'
import { FreezingOrder } from '../../scene/freezing-order.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

/** The wax wire of this size as it is asked for over a counter; for a size between two, the next thicker one. */
const Wire = ({ across }: { across: number }) => {
  const units = useUnits()
  const wire = nextWaxWire(across)
  if (wire === undefined) return null
  return (
    <>
      {' '}
      <small className="muted">
        {waxWireOf(across) === undefined
          ? `next thicker wax wire ${wire.name}, ${writeFigure(lengthOf(wire.diameter), units)}`
          : `wax wire ${wire.name}`}
      </small>
    </>
  )
}

export const FreezePage = () => {
  const { plan } = usePlan()
  const narrow = useNarrow()
  const { tree, conditions } = plan
  return (
    <div className="part-page cols2">
      <section aria-label="Order of freezing">
        <h2 className="sh">
          What freezes when <small>seconds after the metal arrives, nine in ten</small>
        </h2>
        {tree.order.length > 1 ? (
          <FreezingOrder order={tree.order} narrow={narrow} />
        ) : (
          <p className="text">
            <b>No order yet.</b> It needs the pieces’ thickest sections and outside sizes.
          </p>
        )}
        <p className="sm muted text">
          By rule, from each part’s modulus: its volume over its cooling surface. The order is surer than the
          seconds. Sprues are chosen from the wax wires sold by gauge; enter the size of any other wire, and
          the order is judged on it. Freezing solved in three dimensions is not built yet.
        </p>
        {tree.gates.length > 0 && (
          <div>
            <table className="stacks">
              <caption>Sprues, and what they feed</caption>
              <thead>
                <tr>
                  <th scope="col">Piece</th>
                  <th scope="col" className="n">
                    Sprue, across
                  </th>
                  <th scope="col" className="n">
                    On each
                  </th>
                  <th scope="col" className="n">
                    Sprue freezes
                  </th>
                  <th scope="col" className="n">
                    Thickest freezes
                  </th>
                  <th scope="col" className="n">
                    Longer by
                  </th>
                </tr>
              </thead>
              <tbody>
                {tree.gates.map((gate) => {
                  const index = plan.pieces.pieces.find((piece) => piece.id === gate.piece)?.index ?? 0
                  return (
                    <tr key={gate.piece}>
                      <th scope="row">
                        <b>{gate.letter}</b> {gate.name}
                      </th>
                      <td className="n" data-label="Sprue, across">
                        <AskedOr path={`/pour/pieces/${index}/gate/diameter_mm`} of={gate.diameter} />
                        <Wire across={gate.diameter.value} />
                      </td>
                      <td className="n" data-label="On each">
                        <AskedOr
                          path={`/pour/pieces/${index}/gate/count`}
                          of={gate.count}
                          as="count"
                          title={`Sprues on each ${gate.name}`}
                        />
                      </td>
                      <td className="n" data-label="Sprue freezes">
                        <Figure of={gate.freezes} range />
                      </td>
                      <td className="n" data-label="Thickest freezes">
                        <Figure of={gate.pieceFreezes} range />
                      </td>
                      <td className="n" data-label="Longer by">
                        <Figure of={gate.margin} as="times" range />
                      </td>
                    </tr>
                  )
                })}
              </tbody>
            </table>
          </div>
        )}
      </section>
      <section aria-label="Main sprue, button and what it rests on">
        <FigureRows label="Main sprue and button">
          {tree.stem !== undefined && (
            <>
              <FigureRow name="Main sprue, across">
                <AskedOr path="/pour/tree/stem/diameter_mm" of={tree.stem.diameter} />
                <Wire across={tree.stem.diameter.value} />
              </FigureRow>
              <FigureRow name="Main sprue freezes">
                <Figure of={tree.stem.freezes} range />
              </FigureRow>
            </>
          )}
          <FigureRow name="Button, deep">
            <AskedOr path="/pour/tree/button/depth_mm" of={tree.button.depth} />
          </FigureRow>
          <FigureRow name="Button, across">
            <Figure of={tree.button.wide} />
          </FigureRow>
          <FigureRow name="Least button that feeds">
            <Figure of={tree.button.mass} range />
          </FigureRow>
          <FigureRow name="Button freezes">
            <Figure of={tree.button.freezes} range />
          </FigureRow>
          {tree.button.margin !== undefined && (
            <FigureRow name="Button, longer than the main sprue by">
              <Figure of={tree.button.margin} as="times" range />
            </FigureRow>
          )}
        </FigureRows>
        <FigureRows label="Rests on">
          <FigureRow name="Flask at casting">
            <Figure of={conditions.castingTemperature} range />
          </FigureRow>
          <FigureRow name="Drop from metal to mould">
            <Figure of={conditions.drop} range />
          </FigureRow>
          <FigureRow name="Heat to freeze">
            <Figure of={conditions.heat} range />
          </FigureRow>
          <FigureRow name="Conductivity of the mould">
            <Figure of={conditions.conductivity} range />
          </FigureRow>
          <FigureRow name="Heat the mould holds">
            <Figure of={conditions.capacity} range />
          </FigureRow>
        </FigureRows>
        <PartVerdicts part="freeze" />
      </section>
    </div>
  )
}
