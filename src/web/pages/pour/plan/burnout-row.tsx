import { Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { writeDayTime, writeMoment, writeTime } from '../../../state/cast-time.ts'
import { usePlan } from '../../../state/plan.tsx'
import { Row } from './part-row.tsx'

export const BurnoutRow = () => {
  const { plan } = usePlan()
  const { burnout } = plan
  const zone = plan.shop.timeZone
  const hottest = burnout.top
  return (
    <Row
      part="burnout"
      about={
        burnout.start === undefined
          ? 'worked back from the cast'
          : `kiln on ${writeDayTime(burnout.start, zone)}`
      }
    >
      <div className="fig">
        {burnout.start !== undefined && (
          <Stat name="Kiln on">
            {writeTime(burnout.start, zone)}{' '}
            <span className="u">{writeMoment(burnout.start, zone).split(',')[0]}</span>
          </Stat>
        )}
        {hottest !== undefined && (
          <Stat name="Top">
            <Figure of={hottest} />
          </Stat>
        )}
        <Stat name="Flask at casting">
          <Figure of={burnout.castingTemperature} />
        </Stat>
        {burnout.total !== undefined && (
          <Stat name="In the kiln">
            <Figure of={burnout.total} />
          </Stat>
        )}
      </div>
    </Row>
  )
}
