import { Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { usePlan } from '../../../state/plan.tsx'
import { writeFlask } from '../../../state/sizes.ts'
import { useUnits } from '../../../state/units.ts'
import { Row } from './part-row.tsx'

export const FlaskRow = () => {
  const { plan } = usePlan()
  const units = useUnits()
  const { flask, tree } = plan
  const sprues = tree.gates.reduce((total, gate) => {
    const piece = plan.pieces.pieces.find((one) => one.id === gate.piece)
    return total + gate.count.value * (piece?.quantity ?? 1)
  }, 0)
  return (
    <Row
      part="flask"
      about={
        flask === undefined
          ? 'open'
          : `${writeFlask(flask.flask, units.length)} ${units.length}, from the rack`
      }
    >
      {flask !== undefined && (
        <div className="fig">
          {flask.sideGap !== undefined && (
            <Stat
              name="Least clearance"
              below={
                <>
                  wax to wall, needs <Figure of={flask.neededSide} />
                </>
              }
            >
              <Figure of={flask.sideGap} />
            </Stat>
          )}
          {flask.topGap !== undefined && (
            <Stat
              name={plan.arranged === undefined ? 'Above the pieces' : 'Above the tree'}
              below={
                <>
                  rule <Figure of={flask.neededTop} />
                </>
              }
            >
              <Figure of={flask.topGap} />
            </Stat>
          )}
          {tree.stem !== undefined && (
            <Stat
              name="Sprues"
              below={
                <>
                  stem <Figure of={tree.stem.diameter} /> across
                </>
              }
            >
              {sprues} <span className="u">on one main sprue</span>
            </Stat>
          )}
        </div>
      )}
    </Row>
  )
}
