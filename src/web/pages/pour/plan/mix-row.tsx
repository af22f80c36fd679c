import { writeDuration } from '../../../../engine/quantity/words.ts'
import { Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { WorkingBar } from '../../../scene/working-bar.tsx'
import { writeDayTime } from '../../../state/cast-time.ts'
import { usePlan } from '../../../state/plan.tsx'
import { Row } from './part-row.tsx'

export const MixRow = () => {
  const { plan } = usePlan()
  const { mix, burnout } = plan
  const zone = plan.shop.timeZone
  const mixFrom = mix.moments?.powderIn ?? burnout.mixBy
  return (
    <Row
      part="mix"
      about={mixFrom === undefined ? 'powder and water' : `start by ${writeDayTime(mixFrom, zone)}`}
    >
      <div className="fig">
        {mix.powder !== undefined && (
          <Stat name="Powder" size="big">
            <Figure of={mix.powder} range />
          </Stat>
        )}
        {mix.water !== undefined && (
          <Stat
            name="Water"
            size="big"
            below={
              <>
                at <Figure of={mix.slurryTemperature} />
              </>
            }
          >
            <Figure of={mix.water} range />
          </Stat>
        )}
        <Stat name="Gauge, where the water boils">
          <Figure of={mix.vacuum.boilGauge} />
        </Stat>
      </div>
      <p className="lb bar-title">
        Working time, all still at {writeDuration(mix.allStill.value)} from the first powder in the water
      </p>
      <WorkingBar time={mix} />
    </Row>
  )
}
