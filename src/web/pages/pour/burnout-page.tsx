import { toCelsius, toFahrenheit } from '../../../engine/quantity/units.ts'
import { writeDuration } from '../../../engine/quantity/words.ts'
import { AskedChoice } from '../../parts/asked.tsx'
import { AskedOr, Figure } from '../../parts/figure.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { CastTime } from '../../parts/pour-title.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { BurnoutChart } from '../../scene/burnout-chart.tsx'
import { writeDayTime, writeMoment, writeTime } from '../../state/cast-time.ts'
import { useDocuments } from '../../state/documents.tsx'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

import { KilnLoad } from './kiln-load.tsx'
import { KilnLog } from './kiln-log.tsx'
import { KilnSheet } from './kiln-sheet.tsx'
import { KilnStopped } from './kiln-stopped.tsx'

export const BurnoutPage = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const zone = shop.timeZone
  const { burnout } = plan
  const { transfer } = plan.quench
  const degrees = (kelvin: number): string =>
    (units.temperature === 'F' ? toFahrenheit(kelvin) : toCelsius(kelvin)).toFixed(0)
  const others = (kelvin: number): string =>
    (units.temperature === 'F' ? toCelsius(kelvin) : toFahrenheit(kelvin)).toFixed(0)
  const other = units.temperature === 'F' ? 'C' : 'F'
  const { crossCheck } = burnout
  const lengthOf = (program: 'gentle' | 'shortest' | 'rule'): string =>
    crossCheck === undefined
      ? ''
      : `, ${writeDuration(program === 'rule' ? crossCheck.rule.value : crossCheck.totals[program])}`
  return (
    <div className="part-page">
      <div className="title-row">
        <h2 className="sh">
          Burnout, worked back from <CastTime />
        </h2>
        <span className="row">
          {burnout.start !== undefined && (
            <span>
              Kiln on <b>{writeMoment(burnout.start, zone)}</b>
            </span>
          )}
          {burnout.total !== undefined && (
            <span>
              <Figure of={burnout.total} /> in the kiln
            </span>
          )}
        </span>
      </div>
      <BurnoutChart burnout={burnout} units={units} zone={zone} narrow={narrow} />
      <p className="sm muted">
        Thin: the kiln’s own true heat.{' '}
        {burnout.core === undefined
          ? 'The core is not worked out.'
          : burnout.core.by === 'rule'
            ? `Heavy: the core of the flask, by rule${burnout.byRuleMeanwhile ? ', being worked out' : ''}; band: nine in ten.`
            : `Dashed: the flask’s steel. Heavy: its core, solved; band: nine in ten.${burnout.load === undefined ? '' : ' Thin red: the cores beside it.'}`}
      </p>
      {burnout.crossCheck !== undefined && (
        <p className="sm">
          <Say words={burnout.crossCheck.words} />
        </p>
      )}
      {burnout.program.length > 0 && (
        <div className="row">
          <KilnSheet />
        </div>
      )}
      <div className="cols2">
        <section aria-label="The program">
          <div>
            <table className="stacks">
              <caption>What to enter in the kiln, as it displays</caption>
              <thead>
                <tr>
                  <th scope="col">Step</th>
                  <th scope="col" className="n">
                    Starts
                  </th>
                  <th scope="col" className="n">
                    To, °{units.temperature}
                  </th>
                  <th scope="col" className="n">
                    °{other}
                  </th>
                  <th scope="col" className="n">
                    Takes
                  </th>
                  <th scope="col" className="n">
                    Climb, °{units.temperature} an hour
                  </th>
                  <th scope="col">What it does</th>
                </tr>
              </thead>
              <tbody>
                {burnout.program.map((step, index) => {
                  const hours = step.duration.value / 3600
                  const climb =
                    ((step.to.value - step.from.value) * (units.temperature === 'F' ? 1.8 : 1)) / hours
                  return (
                    <tr key={step.id}>
                      <th scope="row">
                        {index + 1}
                        {step.kind === 'hold' && <span className="muted"> hold</span>}
                      </th>
                      <td className="n" data-label="Starts">
                        {step.start === undefined ? '' : writeDayTime(step.start, zone)}
                      </td>
                      <td className="n" data-label={`To, °${units.temperature}`}>
                        <b>{degrees(step.setpoint)}</b>
                      </td>
                      <td className="n muted" data-label={`°${other}`}>
                        {others(step.setpoint)}
                      </td>
                      <td className="n" data-label="Takes">
                        <Figure of={step.duration} />
                      </td>
                      <td className="n" data-label={`Climb, °${units.temperature} an hour`}>
                        {step.kind === 'hold' ? '' : climb < 0 ? 'falls' : Math.round(climb)}
                      </td>
                      <td className="whole">
                        <Say words={step.words} />
                      </td>
                    </tr>
                  )
                })}
              </tbody>
            </table>
          </div>
          <PartVerdicts part="burnout" />
        </section>
        <section aria-label="Heat and time">
          <div className="fig">
            <Stat name="Flask at casting" size="big">
              <AskedOr path="/pour/flask_C" of={burnout.castingTemperature} title="Flask at casting" />
            </Stat>
          </div>
          <FigureRows label="Heat and time">
            <FigureRow name="Work, for the flask’s heat" about="by the thinnest section">
              {plan.work === 'medium' ? 'middling' : plan.work}
            </FigureRow>
            <FigureRow name="Top of the burnout">
              <Figure of={burnout.top} range />
            </FigureRow>
            <FigureRow name="Held at casting heat">
              <Figure of={burnout.soak} range />
            </FigureRow>
            <FigureRow name="Settles at casting heat">
              <Figure of={burnout.settle} range />
            </FigureRow>
            {burnout.core !== undefined && (
              <>
                <FigureRow name="Sprue wax melts at the middle">
                  <Figure of={burnout.core.sprueMelted} range />
                </FigureRow>
                <FigureRow name="Wax melts at the middle">
                  <Figure of={burnout.core.waxMelted} range />
                </FigureRow>
                <FigureRow name="Core dry">
                  <Figure of={burnout.core.coreDry} range />
                </FigureRow>
                <FigureRow name="Core past where carbon burns">
                  <Figure of={burnout.core.coreHot} range />
                </FigureRow>
                <FigureRow name="Core at the cast" strong>
                  <Figure of={burnout.coreAtCast} range />
                </FigureRow>
              </>
            )}
            {transfer !== undefined && (
              <>
                <FigureRow name="Out of the kiln, at most" about="at the farthest wax" strong>
                  <Figure of={transfer.seconds} range />
                </FigureRow>
                <FigureRow name="Door to pour, planned">
                  <AskedOr
                    path="/shop/clock/kilnToPour_s"
                    of={transfer.planned}
                    title="From the kiln’s door to the pour"
                  />
                </FigureRow>
                <FigureRow name="The middle stays hot for">
                  <Figure of={transfer.core} range />
                </FigureRow>
              </>
            )}
            <FigureRow name="Mould, burned out">
              <Figure of={burnout.dryInvestment} range />
            </FigureRow>
            <FigureRow name="Energy">
              <Figure of={burnout.energy} range />
            </FigureRow>
            <FigureRow name="It costs">
              <Figure of={burnout.cost} range />
            </FigureRow>
            {burnout.mixBy !== undefined && (
              <FigureRow name="Start the mix by" about="at the latest">
                {writeMoment(burnout.mixBy, zone)}
              </FigureRow>
            )}
            {burnout.earliest !== undefined && (
              <FigureRow name="Soonest pour, if you mix now">{writeMoment(burnout.earliest, zone)}</FigureRow>
            )}
            <FigureRow name="Program">
              <AskedChoice
                path="/pour/burnout"
                title="Program"
                empty={`gentle${lengthOf('gentle')}`}
                choices={[
                  ['shortest', `shortest that is safe${lengthOf('shortest')}`],
                  ['rule', `by the size of the flask${lengthOf('rule')}`],
                ]}
              />
            </FigureRow>
            <FigureRow name="Kiln">
              <AskedChoice
                path="/pour/kiln"
                title="Kiln"
                choices={shop.kilns.map((one) => [one.id, one.name.toLowerCase()] as const)}
              />
            </FigureRow>
            <KilnLoad />
          </FigureRows>
          {burnout.start !== undefined && plan.castAt !== undefined && (
            <p className="sm muted">
              From {writeTime(burnout.start, zone)} to {writeTime(plan.castAt, zone)}:{' '}
              {writeDuration((plan.castAt - burnout.start) / 1000)}.
            </p>
          )}
        </section>
      </div>
      <div className="cols2 kiln-after">
        <KilnStopped />
        <KilnLog />
      </div>
    </div>
  )
}
