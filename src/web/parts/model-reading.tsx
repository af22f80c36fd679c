import { useEffect, useState } from 'react'
import { readStated } from '../../engine/documents/stated.ts'
import { massOf, writeFigure } from '../../engine/quantity/words.ts'
import { ModelDrawing } from '../scene/model-drawing.tsx'
import { ModelFigure } from '../scene/model-figure.tsx'
import { flatFrame, spanOf } from '../scene/model-frames.ts'
import { measureModel } from '../state/api.ts'
import { useDocuments, usePour } from '../state/documents.tsx'
import { entryWriting, plainNumber } from '../state/entry.ts'
import type { ModelAnswer } from '../state/model-facts.ts'
import { useModelForms } from '../state/model-forms.ts'
import { usePlan } from '../state/plan.tsx'
import { writeFlask } from '../state/sizes.ts'
import { useUnits } from '../state/units.ts'
import { Mind } from './mind.tsx'

const MM_PER_INCH = 25.4

/** Both readings of a file without units, at one scale beside the caster's own flask. */
const Readings = ({ answer, index }: { answer: ModelAnswer; index: number }) => {
  const { shop, change, read } = useDocuments()
  const pour = usePour()
  const units = useUnits()
  const { plan } = usePlan()
  const asked = read(`/pour/pieces/${index}/source/units`)
  const piece = pour.pieces[index]
  const { forms } = useModelForms(pour.pieces)
  const now = asked === 'in' ? 'in' : 'mm'
  const bounds = answer.bounds_mm
  if (bounds === null) return null
  const form = piece && forms.get(piece.id)
  const frame = form && flatFrame(form)
  const sides = [0, 1, 2].map((axis) => (bounds.max[axis] ?? 0) - (bounds.min[axis] ?? 0))
  const inMm = answer.units === 'in' ? sides.map((side) => side / MM_PER_INCH) : sides
  const volume_mm3 =
    answer.volume_mm3 === null
      ? undefined
      : answer.volume_mm3 / (answer.units === 'in' ? MM_PER_INCH ** 3 : 1)
  const alloy = shop.alloys.find((one) => one.id === pour.alloy) ?? shop.alloys[0]
  const density = alloy === undefined ? 0 : readStated(alloy.density_g_cm3).value
  const flask = plan.flask?.flask ?? shop.flasks.filter((one) => one.owned).at(-1)
  const drawnIn = asked === 'in' ? MM_PER_INCH : 1
  const [length = 1, width = 1] =
    form && frame
      ? spanOf(form, frame).map((side) => side / drawnIn)
      : inMm.toSorted((a, b) => b - a).slice(0, 2)
  const readings = [
    ['mm', 'Millimetres', 1],
    ['in', 'Inches', MM_PER_INCH],
  ] as const
  const widest = Math.max(length * readings[0][2], flask?.insideDiameter_mm ?? 60)
  const writing = entryWriting('/x_mm', units)
  return (
    <section aria-label="Which size is it?">
      <h3 className="sub">The file names no unit. Which size is yours?</h3>
      <div className="two-readings">
        {readings.map(([unit, name, scale]) => {
          const [l, w] = [length * scale, width * scale]
          const field = Math.max(widest, l, w) * 1.15
          const dash = (by: number): string => `${(field / 40) * by} ${(field / 60) * by}`
          const size = inMm.map((side) => plainNumber(writing.toShown(side * scale), 2)).join(' × ')
          return (
            <div key={unit}>
              <svg
                viewBox={`${-field / 2} ${-field / 2} ${field} ${field}`}
                width="100%"
                role="img"
                aria-label={`${name}: ${size} ${units.length}, beside your flask`}
              >
                {form && frame ? (
                  <g transform={`scale(${scale / drawnIn})`}>
                    <ModelFigure
                      form={form}
                      frame={frame}
                      scale={4}
                      line={(field / 200 / scale) * drawnIn}
                      {...(unit !== now && { dash: dash(drawnIn / scale) })}
                    />
                  </g>
                ) : (
                  <rect
                    x={-l / 2}
                    y={-w / 2}
                    width={l}
                    height={w}
                    fill={unit === now ? 'var(--wax-t)' : 'none'}
                    stroke="var(--wax)"
                    strokeWidth={field / 200}
                    strokeDasharray={unit === now ? undefined : dash(1)}
                  />
                )}
                {flask !== undefined && (
                  <circle
                    r={flask.insideDiameter_mm / 2}
                    fill="none"
                    stroke="var(--ink)"
                    strokeWidth={field / 160}
                  />
                )}
              </svg>
              <button
                type="button"
                className="choice"
                aria-pressed={unit === now}
                onClick={() => change(`/pour/pieces/${index}/source/units`, unit)}
              >
                <b>{name}</b>
                <br />
                <span className="sm">
                  {size} {units.length}
                  {volume_mm3 !== undefined && (
                    <>
                      <br />
                      {writeFigure(massOf((volume_mm3 * scale ** 3 * density) / 1e6), units)}
                      {length * scale > (flask?.insideHeight_mm ?? 1e9) * 1.5 && ', fits no flask'}
                    </>
                  )}
                </span>
              </button>
            </div>
          )
        })}
      </div>
      {flask !== undefined && (
        <p className="sm muted">
          The ring in each is your {writeFlask(flask, units.length)} {units.length} flask, seen from above.
          {asked === undefined && ' Millimetres are taken until you press one.'}
        </p>
      )}
    </section>
  )
}

/** What was found in a model file: its size, what is wrong with it, and the repair to be accepted. */
export const ModelReading = ({ index }: { index: number }) => {
  const pour = usePour()
  const { change, shop } = useDocuments()
  const units = useUnits()
  const source = pour.pieces[index]?.source
  const [answer, setAnswer] = useState<ModelAnswer | undefined>(undefined)
  const [trouble, setTrouble] = useState<string | undefined>(undefined)
  const sha256 = source?.from === 'mesh' ? source.sha256 : undefined
  const file = source?.from === 'mesh' ? source.file : ''
  const asked = source?.from === 'mesh' ? source.units : undefined
  const accepted = source?.from === 'mesh' && source.acceptRepair === true

  useEffect(() => {
    if (sha256 === undefined) return
    let current = true
    measureModel<ModelAnswer>(sha256, { name: file, units: asked, acceptRepair: accepted })
      .then((found) => {
        if (current) setAnswer(found)
      })
      .catch((error: Error) => {
        if (current) setTrouble(error.message)
      })
    return () => {
      current = false
    }
  }, [sha256, file, asked, accepted])

  if (sha256 === undefined)
    return (
      <Mind level="stop">
        {file} is named by this pour, and its bytes are not here. Bring the file again.
      </Mind>
    )
  if (trouble !== undefined)
    return (
      <Mind level="stop">
        {file}: {trouble}.
      </Mind>
    )
  if (answer === undefined)
    return <p className="working">Measuring {file}. Everything else is ready meanwhile.</p>
  const alloy = shop.alloys.find((one) => one.id === pour.alloy) ?? shop.alloys[0]
  const density = alloy === undefined ? 0 : readStated(alloy.density_g_cm3).value
  const { repair } = answer
  const at = `/pour/pieces/${index}/source`
  return (
    <div>
      <p className="file-said">
        <b>{file}</b>
        <br />
        <span className="sm">
          {answer.triangles === undefined ? '' : `${answer.triangles.toLocaleString('en-US')} triangles, `}
          {answer.closed === true ? 'closed' : 'not closed'}
        </span>
      </p>
      {(answer.unitsAssumed === true || asked !== undefined) && <Readings answer={answer} index={index} />}
      <ModelDrawing sha256={sha256} name={file} units={asked} />
      {answer.problems.map((problem) => (
        <Mind key={`${problem.what} ${problem.where}`} level={problem.level ?? 'check'}>
          {problem.what.charAt(0).toUpperCase() + problem.what.slice(1)} ({problem.where}).{' '}
          {problem.remedy.charAt(0).toUpperCase() + problem.remedy.slice(1)}.
        </Mind>
      ))}
      {repair !== undefined && repair !== null && (
        <div data-path={`${at}/acceptRepair`} tabIndex={-1}>
          <Mind level={accepted ? 'note' : 'check'}>
            {accepted ? 'Closed as shown' : 'It can be closed so'}: {repair.steps.join('; ')}. That makes it{' '}
            {writeFigure(massOf((repair.volume_mm3 * density) / 1e6), units)} of {alloy?.name.toLowerCase()}
            {repair.patchShare === undefined
              ? ''
              : `, with patches over ${plainNumber(repair.patchShare * 100, 1)} parts in a hundred of its surface`}
            . {accepted ? '' : 'Until it is closed it has no weight.'}
          </Mind>
          <p className="row">
            {accepted ? (
              <button type="button" className="btn" onClick={() => change(`${at}/acceptRepair`, undefined)}>
                Leave it open again
              </button>
            ) : (
              <button type="button" className="btn go" onClick={() => change(`${at}/acceptRepair`, true)}>
                Close it as shown
              </button>
            )}
          </p>
        </div>
      )}
    </div>
  )
}
