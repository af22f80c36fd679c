import { toUser } from '../../../engine/quantity/units.ts'
import { writeDuration } from '../../../engine/quantity/words.ts'
import { Asked, AskedChoice } from '../../parts/asked.tsx'
import { AskedOr, Figure } from '../../parts/figure.tsx'
import { Mind } from '../../parts/mind.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { PlaceEntry } from '../../parts/place-entry.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows } from '../../parts/stat.tsx'
import { Swap } from '../../parts/swap.tsx'
import { Gauge } from '../../scene/gauge.tsx'
import { WorkingTimeNarrow, WorkingTimeWide } from '../../scene/working-time.tsx'
import { writeDayTime, writeTime } from '../../state/cast-time.ts'
import { choose } from '../../state/choice.ts'
import { useDocuments } from '../../state/documents.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

export const MixPage = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const { mix, burnout } = plan
  const zone = shop.timeZone
  const index = Math.max(
    0,
    shop.investments.findIndex((one) => one.id === plan.pour.investment.id),
  )
  const from = mix.moments?.powderIn ?? burnout.mixBy
  const shown = (pressure: number): number => toUser(pressure, 'Pa', units)
  const decimals = units.pressure === 'mbar' ? 0 : 1
  return (
    <div className="part-page">
      <h2 className="sh">
        Working time, from the first powder in the water{' '}
        <small>
          {from === undefined ? '' : `start by ${writeDayTime(from, zone)} at the latest, `}slurry at{' '}
          <Figure of={mix.slurryTemperature} />
        </small>
      </h2>
      {burnout.eveningBefore !== undefined && (
        <>
          <p className="text">
            <Say words={burnout.eveningBefore.words} />
          </p>
          <Mind level="caution">
            <Say words={burnout.eveningBefore.mind} />
          </Mind>
        </>
      )}
      {narrow ? <WorkingTimeNarrow time={mix} /> : <WorkingTimeWide time={mix} />}
      <div className="cols3">
        <section aria-label="Weigh">
          <FigureRows label="Weigh">
            <FigureRow name="Powder" strong>
              <span className="mid">
                <Figure of={mix.powder} id="mix.powder" range />
              </span>
            </FigureRow>
            <FigureRow name="Water" strong>
              <span className="mid">
                <Figure of={mix.water} id="mix.water" range />
              </span>
            </FigureRow>
            <FigureRow name="Water at">
              <Asked path="/pour/investment/water_C" title="Temperature of the water" />
            </FigureRow>
            <FigureRow name="Powder at" about="the same as the water when left out">
              <Asked
                path="/pour/investment/powder_C"
                title="Temperature of the powder"
                optional
                empty="as the water"
              />
            </FigureRow>
            <FigureRow name="Water to 100 of powder">
              <AskedOr path="/pour/investment/waterRatio" of={mix.ratio} as="hundred" />
            </FigureRow>
            <FigureRow name="Work, for the water" about="fine work takes a thinner mix">
              <AskedChoice
                path="/pour/investment/work"
                title="Work, for the water"
                choices={[
                  ['heavy', 'heavy'],
                  ['medium', 'middling'],
                  ['fine', 'fine'],
                ]}
              />
            </FigureRow>
            <FigureRow name="Spare for the bowl">
              <Asked path="/shop/rules/wasteAllowance" title="Spare for the bowl" as="hundred" />
            </FigureRow>
            <FigureRow name="Flask, less wax and base">
              <Figure of={plan.mould.room} range />
            </FigureRow>
            <FigureRow name="Slurry">
              <Figure of={mix.slurryVolume} />
            </FigureRow>
            <FigureRow name="Bowl, at least">
              <Figure of={mix.bowl} />
            </FigureRow>
            <FigureRow name="Paper collar, above the rim">
              <Figure of={mix.collar} />
            </FigureRow>
            <FigureRow name="In the bag after">
              <Figure of={mix.bagLeft} />
            </FigureRow>
            <FigureRow name="Powder costs">
              <Figure of={mix.cost} />
            </FigureRow>
            <FigureRow name="Investment">
              <AskedChoice
                path="/pour/investment/id"
                title="Investment"
                choices={shop.investments.map((one) => [one.id, one.name.toLowerCase()] as const)}
              />
            </FigureRow>
          </FigureRows>
        </section>
        <section aria-label="Vacuum">
          <h2 className="sh">
            Vacuum{' '}
            <small>
              <Swap
                label="Gauge in"
                choices={[
                  ['inHg', 'inHg'],
                  ['mbar', 'mbar'],
                  ['kPa', 'kPa'],
                ]}
                current={units.pressure}
                onChoose={(pressure) => choose({ units: { pressure } })}
              />
            </small>
          </h2>
          <Gauge
            boils={shown(mix.vacuum.boilGauge.value)}
            pump={shown(mix.vacuum.pumpGauge.value)}
            noAir={shown(mix.vacuum.pressure.value)}
            label={units.pressure}
            decimals={decimals}
          />
          <FigureRows label="On the gauge">
            <FigureRow name="Water boils" about="reach this, and it rises and falls" strong>
              <Figure of={mix.vacuum.boilGauge} range />
            </FigureRow>
            <FigureRow name="This pump reaches" about="blue on the gauge">
              <Figure of={mix.vacuum.pumpGauge} range />
            </FigureRow>
            <FigureRow name="No air left" about="this shop’s outside pressure">
              <Figure of={mix.vacuum.pressure} range />
            </FigureRow>
            <FigureRow name="Water boils under this pump at">
              <Figure of={mix.vacuum.boilsAt} range />
            </FigureRow>
            {mix.waxSwelling !== undefined && (
              <FigureRow name="Wax swells in this mix by" about="of 100">
                <Figure of={mix.waxSwelling} as="hundred" bare />
              </FigureRow>
            )}
            {mix.seatGrowth !== undefined && (
              <FigureRow name="and the stone’s seat with it">
                <Figure of={mix.seatGrowth} />
              </FigureRow>
            )}
          </FigureRows>
          <PlaceEntry />
        </section>
        <section aria-label="The clock">
          <FigureRows label="The clock">
            {mix.steps.map((step) => (
              <FigureRow
                key={step.id}
                name={step.name}
                about={
                  mix.moments === undefined ? undefined : (
                    <>
                      {writeTime(mix.moments.powderIn + step.from_s * 1000, zone)} to{' '}
                      {writeTime(mix.moments.powderIn + step.to_s * 1000, zone)}
                    </>
                  )
                }
              >
                {writeDuration(step.from_s)} to {writeDuration(step.to_s)}
              </FigureRow>
            ))}
            <FigureRow name="All still">
              <Figure of={mix.allStill} />
            </FigureRow>
            <FigureRow name="Too early before">
              <Figure of={mix.tooEarly} range />
            </FigureRow>
            <FigureRow name="Too late after">
              <Figure of={mix.tooLate} range />
            </FigureRow>
            <FigureRow
              name="Gloss goes"
              about={
                <>
                  this bag:{' '}
                  <Asked path={`/shop/investments/${index}/glossOff_min`} title="Gloss goes after" />
                </>
              }
            >
              <Figure of={mix.glossOff} range />
            </FigureRow>
            <FigureRow name="Set, may be moved">
              <Figure of={mix.setAt} />
            </FigureRow>
            <FigureRow name="Earliest into the kiln">
              <Figure of={mix.intoKiln} />
            </FigureRow>
          </FigureRows>
          <PartVerdicts part="mix" />
        </section>
      </div>
    </div>
  )
}
