import { Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { usePlan } from '../../../state/plan.tsx'
import { Row } from './part-row.tsx'

export const PriceRow = () => {
  const { plan } = usePlan()
  const { price } = plan
  const labour = price.labour.steps.reduce((total, step) => total + step.time.value, 0)
  const metalLine = price.lines.find((line) => line.name === 'metal')
  const stoneLine = price.lines.find((line) => line.name === 'stone')
  return (
    <Row part="price" about="before it is carved">
      {price.ask !== undefined && (
        <div className="fig">
          <Stat name="Ask" size="big">
            <Figure of={price.ask} range />
          </Stat>
          {metalLine !== undefined && (
            <Stat name="Metal">
              <Figure of={metalLine.amount} />
            </Stat>
          )}
          {stoneLine !== undefined && (
            <Stat name="Stone">
              <Figure of={stoneLine.amount} />
            </Stat>
          )}
          <Stat name="Hours">
            {Number((labour / 3600).toFixed(1))} <span className="u">h</span>
          </Stat>
          {price.secondTry?.share !== undefined && (
            <Stat name="Share of a second try">
              <Figure of={price.secondTry.share} />
            </Stat>
          )}
        </div>
      )}
    </Row>
  )
}
