import { massOf, plainMassOf, writeFigure } from '../../../engine/quantity/words.ts'
import { AskedChoice } from '../../parts/asked.tsx'
import { AskedOr, Figure } from '../../parts/figure.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { Arm } from '../../scene/arm.tsx'
import { SpinChart } from '../../scene/spin-chart.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { entryWriting } from '../../state/entry.ts'
import { useNarrow } from '../../state/narrow.ts'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

export const SpinPage = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const narrow = useNarrow()
  const { spin, flask, needed } = plan
  const { balance } = spin
  const write = (length_mm: number): string => {
    const writing = entryWriting('/x_mm', units)
    return `${writing.toShown(length_mm).toFixed(units.length === 'in' ? 2 : 0)} ${writing.label}`
  }
  return (
    <div className="part-page cols2">
      <section aria-label="Balance and run">
        {balance !== undefined && flask !== undefined && (
          <>
            <h2 className="sh">
              Balance, seen from above <small>to scale</small>
            </h2>
            <Arm
              balance={balance}
              flaskLength={flask.flask.insideHeight_mm}
              flaskAcross={flask.flask.insideDiameter_mm + 2 * flask.flask.wall_mm}
              write={write}
              narrow={narrow}
              masses={{
                weight: writeFigure(plainMassOf(balance.counterweight.value), units),
                flask: writeFigure(plainMassOf(balance.flask.value), units),
                metal: writeFigure(massOf(needed.toWeigh?.value ?? 0), units),
              }}
            />
          </>
        )}
        <h2 className="sh">How long it must run</h2>
        {spin.time === undefined ? (
          <p className="text">
            <b>Not known yet.</b> It needs the sprues and the button.
          </p>
        ) : (
          <SpinChart spin={spin} units={units} narrow={narrow} />
        )}
        <PartVerdicts part="spin" />
      </section>
      <section aria-label="Settings">
        <div className="fig">
          {balance !== undefined && (
            <Stat name="Weight at" size="big">
              <Figure of={balance.counterweightAt} />
            </Stat>
          )}
          <Stat name="Wind" size="big">
            <AskedOr path="/pour/spin/turns" of={spin.turns} as="count" title="Turns" />{' '}
            <span className="u">turns</span>
          </Stat>
          {spin.time !== undefined && (
            <Stat name="Let it run" size="big">
              <AskedOr path="/pour/spin/run_s" of={spin.time.run} title="Let it run" />
            </Stat>
          )}
        </div>
        {balance !== undefined && (
          <>
            <FigureRows label="Balance it cold">
              <FigureRow name="Flask as it will come out">
                <Figure of={balance.flask} range />
              </FigureRow>
              <FigureRow name="Metal, half-way out" about="counts as this at the flask’s middle">
                <Figure of={balance.metalPart} range />
              </FigureRow>
              <FigureRow name="Stand-in" strong>
                <Figure of={balance.standIn} range />
              </FigureRow>
              <FigureRow
                name="Weight at"
                about={
                  <>
                    reach <Figure of={balance.reach.least} /> to <Figure of={balance.reach.most} />
                  </>
                }
              >
                <Figure of={balance.counterweightAt} range />
              </FigureRow>
              <FigureRow name="Left unbalanced, at the start">
                <Figure of={balance.pull.start} range />
              </FigureRow>
              <FigureRow name="Left unbalanced, at the end">
                <Figure of={balance.pull.end} range />
              </FigureRow>
              {balance.pull.ifWet !== undefined && (
                <FigureRow name="If set with the wet flask">
                  <Figure of={balance.pull.ifWet} range />
                </FigureRow>
              )}
            </FigureRows>
            <p className="text">
              <b>Balance cold, before the wax is invested:</b> crucible empty, <Figure of={balance.standIn} />{' '}
              in the cradle, counterweight at <Figure of={balance.counterweightAt} />. The arm then lies
              level.
            </p>
          </>
        )}
        <FigureRows label="Speed and pressure">
          <FigureRow name="Speed at release">
            <Figure of={spin.speed} range />
          </FigureRow>
          <FigureRow name="Pressure at the farthest metal" about="as a standing column of the metal">
            <Figure of={spin.head} id="spin.head" range />
          </FigureRow>
          <FigureRow name="the same, on a gauge">
            <Figure of={spin.pressure} id="spin.pressure" range />
          </FigureRow>
          <FigureRow name="Metal there pulls" about="times its own weight">
            <Figure of={spin.gravities} as="times" range />
          </FigureRow>
          {spin.time !== undefined && (
            <>
              <FigureRow name="Last of the metal solid">
                <Figure of={spin.time.lastSolid} range />
              </FigureRow>
              <FigureRow name="Arm runs down in">
                <Figure of={spin.time.coastDown} range />
              </FigureRow>
            </>
          )}
          <FigureRow name="Pressure left at the end" about="as a column of metal">
            <Figure of={spin.headLeft} range />
          </FigureRow>
          <FigureRow name="Casting machine">
            <AskedChoice
              path="/pour/machine"
              title="Casting machine"
              choices={shop.machines.map((one) => [one.id, one.name.toLowerCase()] as const)}
            />
          </FigureRow>
        </FigureRows>
      </section>
    </div>
  )
}
