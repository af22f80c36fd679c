import { Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { usePlan } from '../../../state/plan.tsx'
import { Row } from './part-row.tsx'

export const FreezeRow = () => {
  const { plan } = usePlan()
  const { tree } = plan
  const [first] = tree.order
  const last = tree.order.at(-1)
  return (
    <Row part="freeze" about="what freezes last">
      {first !== undefined && last !== undefined && tree.order.length > 1 && (
        <div className="fig">
          <Stat name="First to freeze" below={first.name}>
            <Figure of={first.time} />
          </Stat>
          <Stat name="Last" below={last.name}>
            <Figure of={last.time} range />
          </Stat>
        </div>
      )}
    </Row>
  )
}
