import { quenchMoments } from '../../../../engine/heat/quench.ts'
import { writeDuration } from '../../../../engine/quantity/words.ts'
import { AskedOr, Figure } from '../../../parts/figure.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { spinEnds } from '../../../state/captions.ts'
import { writeDayTime, writeTime } from '../../../state/cast-time.ts'
import { usePlan } from '../../../state/plan.tsx'
import { Row } from './part-row.tsx'

export const SpinRow = () => {
  const { plan } = usePlan()
  const { spin } = plan
  const zone = plan.shop.timeZone
  return (
    <Row part="spin" about={plan.castAt === undefined ? 'the cast' : writeDayTime(plan.castAt, zone)}>
      <div className="fig">
        {spin.balance !== undefined && (
          <Stat name="Balance cold on">
            <Figure of={spin.balance.standIn} />
          </Stat>
        )}
        <Stat name="Wind">
          <AskedOr path="/pour/spin/turns" of={spin.turns} as="count" title="Turns" />{' '}
          <span className="u">turns</span>
        </Stat>
        {spin.time !== undefined && (
          <Stat
            name="Let it run"
            below={
              <>
                solid by <Figure of={spin.time.lastSolid} range />
              </>
            }
          >
            <Figure of={spin.time.run} />
          </Stat>
        )}
      </div>
    </Row>
  )
}

export const QuenchRow = () => {
  const { plan } = usePlan()
  const { quench } = plan
  const zone = plan.shop.timeZone
  const ends = spinEnds(plan)
  const at = ends === undefined ? undefined : quenchMoments(quench, ends)?.planned
  return (
    <Row part="quench" about="after the spin">
      <div className="fig">
        {quench.planned !== undefined && (
          <Stat name="Planned" below={`${writeDuration(quench.planned)} after the spin`}>
            {at === undefined ? writeDuration(quench.planned) : writeTime(at, zone)}
          </Stat>
        )}
        {quench.opens !== undefined && (
          <Stat name="Opens">
            <Figure of={quench.opens} range />
          </Stat>
        )}
        {quench.closes !== undefined && (
          <Stat name="Closes">
            <Figure of={quench.closes} range />
          </Stat>
        )}
      </div>
      <p className="sm">
        <b>Visible red outranks any clock.</b>
      </p>
    </Row>
  )
}

export const FinishRow = () => {
  const { plan } = usePlan()
  const { finish } = plan
  const seat = finish.pieces.find((piece) => piece.seat !== undefined)?.seat
  return (
    <Row part="finish" about="pickle, saw, file, polish, set">
      <div className="fig">
        {finish.finishedMass !== undefined && (
          <Stat name="Finished">
            <Figure of={finish.finishedMass} range />
          </Stat>
        )}
        {finish.filings !== undefined && (
          <Stat name="Filings to keep">
            <Figure of={finish.filings} />
          </Stat>
        )}
        {finish.pickle.salt !== undefined && (
          <Stat name="Acid salt, into the water">
            <Figure of={finish.pickle.salt} />
          </Stat>
        )}
        {seat !== undefined && (
          <Stat name={`Carve the seat, ${seat.stone}`}>
            <Figure of={seat.length} bare /> × <Figure of={seat.width} />
          </Stat>
        )}
      </div>
    </Row>
  )
}
