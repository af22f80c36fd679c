import { useDeferredValue, useState } from 'react'
import { AskedChoice } from '../../parts/asked.tsx'
import { Figure } from '../../parts/figure.tsx'
import { NoFlask } from '../../parts/no-flask.tsx'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows } from '../../parts/stat.tsx'
import { FromAbove, FromSide } from '../../scene/measured-views.tsx'
import { Plate } from '../../scene/plate.tsx'
import { shapeOf } from '../../scene/tree-shape.ts'
import { OPENING_VIEW } from '../../scene/view.ts'
import { useDocuments } from '../../state/documents.tsx'
import { drawnAs } from '../../state/drawn-as.ts'
import { entryWriting, plainNumber } from '../../state/entry.ts'
import { useModelForms } from '../../state/model-forms.ts'
import { usePlan } from '../../state/plan.tsx'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'
import { WhereEachWaxGoes } from './flask/where-each-wax-goes.tsx'

const DEGREE = Math.PI / 180

export const FlaskPage = () => {
  const { plan } = usePlan()
  const { shop } = useDocuments()
  const units = useUnits()
  const [turn, setTurn] = useState(34)
  // the slider follows the hand; the drawing comes as fast as it can
  const drawnTurn = useDeferredValue(turn)
  const shape = shapeOf(plan)
  const { forms, tooLarge } = useModelForms(plan.pour.pieces)
  const { flask, tree, mould } = plan
  const found = plan.arranged?.measured.tree
  const isJudged = plan.verdicts.some(({ id }) => id === 'flask.arranged')
  const write = (length_mm: number): string => {
    const shown = entryWriting('/x_mm', units).toShown(length_mm)
    return units.length === 'in' ? shown.toFixed(2) : plainNumber(shown, 1)
  }
  return (
    <>
      <div className="part-page cols3 flask-cols">
        <section aria-label="The flask, turned">
          <h2 className="sh">The flask</h2>
          {shape === undefined ? (
            <NoFlask />
          ) : (
            <>
              <Plate
                shape={shape}
                forms={forms}
                found={found}
                view={{ ...OPENING_VIEW, turn: drawnTurn * DEGREE }}
                label={`The flask turned to ${drawnTurn} degrees; measured views stand beside it`}
              />
              <div className="turn">
                <label htmlFor="turn">Turn</label>
                <input
                  id="turn"
                  type="range"
                  min={-180}
                  max={180}
                  step={1}
                  value={turn}
                  onChange={(event) => setTurn(Number(event.target.value))}
                  onKeyDown={(event) => {
                    const way = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0
                    if (way === 0) return
                    event.preventDefault()
                    setTurn(Math.max(-180, Math.min(180, turn + way * (event.shiftKey ? 1 : 5))))
                  }}
                />
                <span className="u">{turn}°</span>
                <button type="button" className="btn" onClick={() => setTurn(0)}>
                  From the front
                </button>
              </div>
            </>
          )}
        </section>
        {shape !== undefined && (
          <section aria-label="Measured views">
            <p className="lb">From above, {units.length}</p>
            <FromAbove shape={shape} forms={forms} write={write} found={found} />
            <p className="lb">From the side, {units.length}</p>
            <FromSide shape={shape} forms={forms} write={write} found={found} />
            {found === undefined && isJudged && (
              <p className="sm">
                These views lay the waxes out by outside boxes, which the plan reckons with. Where each was
                placed by its own shape is drawn below.
              </p>
            )}
            <p className="sm muted">
              Chain line: the limit to the wall.{' '}
              {found === undefined
                ? `Wax size, ${drawnAs(plan.pour.pieces, forms, tooLarge)}.`
                : `Wax size, each wax and sprue where it was placed by its own shape${plan.arranged?.meanwhile === true ? ', before the change' : ''}.`}{' '}
              Dashed in the base: how deep the button is.
            </p>
          </section>
        )}
        <section aria-label="Fit">
          <FigureRows label="Clearance">
            {flask?.sideGap !== undefined && (
              <FigureRow
                name="Wax to the wall"
                about={
                  <>
                    at least <Figure of={flask.neededSide} />
                  </>
                }
              >
                <Figure of={flask.sideGap} />
              </FigureRow>
            )}
            {flask?.topGap !== undefined && (
              <FigureRow
                name={found === undefined ? 'Above the wax' : 'Above the tree'}
                about={
                  <>
                    rule <Figure of={flask.neededTop} />, never under <Figure of={flask.leastTop} />
                  </>
                }
              >
                <Figure of={flask.topGap} />
              </FigureRow>
            )}
          </FigureRows>
          <FigureRows label="Flask">
            <FigureRow name="From the rack" about="diameter × height inside">
              <AskedChoice
                path="/pour/flask"
                title="Flask from the rack"
                empty={
                  flask === undefined
                    ? 'the smallest that fits'
                    : `${writeFlask(flask.flask, units.length)}, the smallest that fits`
                }
                choices={shop.flasks
                  .filter((one) => one.owned)
                  .map((one) => [one.id, `${writeFlask(one, units.length)} ${units.length}`] as const)}
              />
            </FigureRow>
            {flask !== undefined && (
              <>
                <FigureRow name="Room inside, empty">
                  <Figure of={flask.room} />
                </FigureRow>
                <FigureRow name="Steel">
                  <Figure of={flask.steel} />
                </FigureRow>
              </>
            )}
            {mould.room !== undefined && (
              <FigureRow name="Room for investment">
                <Figure of={mould.room} range />
              </FigureRow>
            )}
          </FigureRows>
          {flask?.nextSmaller !== undefined && (
            <p className="sm muted after">
              Next size down, {writeFlask(flask.nextSmaller.flask, units.length)} {units.length}:{' '}
              <Say words={flask.nextSmaller.why} />
            </p>
          )}
          <FigureRows label="Sprues">
            {tree.gates.map((gate) => (
              <FigureRow
                key={gate.piece}
                name={`To ${gate.name}`}
                about={
                  <>
                    <Figure of={gate.count} as="count" /> on each
                  </>
                }
              >
                <Figure of={gate.diameter} />
              </FigureRow>
            ))}
            {tree.stem !== undefined && (
              <FigureRow name="Main sprue">
                <Figure of={tree.stem.diameter} />
              </FigureRow>
            )}
            <FigureRow name="Button, deep">
              <Figure of={tree.button.depth} />
            </FigureRow>
          </FigureRows>
          <PartVerdicts part="flask" />
        </section>
      </div>
      <WhereEachWaxGoes />
    </>
  )
}
