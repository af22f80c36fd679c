import { useState } from 'react'
import { useDocuments, usePour } from '../state/documents.tsx'
import { refusalOf } from '../state/limits.ts'
import { usePlan } from '../state/plan.tsx'
import { Asked, AskedText } from './asked.tsx'
import { Figure } from './figure.tsx'
import { FiguresForm } from './figures-form.tsx'
import { FigureRow, FigureRows } from './stat.tsx'

/** What a seat usually leaves: room all round, and what polishing opens it by; both the caster's to change. */
const USUAL_SEAT = { gap_mm: 0.1, polish_mm: 0.03, heatSensitive: true }

/** A stone that is set in the piece after casting, and the seat to carve for it in the wax. */
export const StoneSeat = ({ index }: { index: number }) => {
  const { change, read } = useDocuments()
  const pour = usePour()
  const { plan } = usePlan()
  const piece = pour.pieces[index]
  const [adding, setAdding] = useState(false)
  const at = `/pour/pieces/${index}/seat`
  if (piece === undefined) return null
  if (piece.seat === undefined && !adding)
    return (
      <p className="row after">
        <button type="button" className="quiet" onClick={() => setAdding(true)}>
          A stone will be set in it
        </button>
      </p>
    )
  if (piece.seat === undefined)
    return (
      <FiguresForm<'length_mm' | 'width_mm'>
        label="Stone to be set, after casting"
        fields={[
          ['length_mm', 'Stone, long'],
          ['width_mm', 'Stone, wide'],
        ]}
        submit="Carve a seat for it"
        add={async (sizes) => {
          const seat = { name: 'Stone', ...sizes, ...USUAL_SEAT }
          const pieces = pour.pieces.map((one, at) => (at === index ? { ...one, seat } : one))
          const refusal = await refusalOf('pour', { ...pour, pieces })
          if (refusal !== undefined) return refusal
          change(at, seat)
          setAdding(false)
          return undefined
        }}
        leave={() => setAdding(false)}
      />
    )
  const seat = plan.finish.pieces.find((one) => one.index === index)?.seat
  return (
    <section aria-label="Stone">
      <FigureRows label="Stone to be set, after casting">
        <FigureRow name="Stone">
          <AskedText path={`${at}/name`} title="Stone" />
        </FigureRow>
        <FigureRow name="Long" about="by calipers">
          <Asked path={`${at}/length_mm`} title="Stone, long" />
        </FigureRow>
        <FigureRow name="Wide">
          <Asked path={`${at}/width_mm`} title="Stone, wide" />
        </FigureRow>
        <FigureRow name="Gap all round">
          <Asked path={`${at}/gap_mm`} title="Gap all round" />
        </FigureRow>
        <FigureRow name="Polish opens the seat by" about="each side">
          <Asked path={`${at}/polish_mm`} title="Polish opens the seat by" />
        </FigureRow>
        <FigureRow name="Price of the stone">
          <Asked
            path={`${at}/price`}
            title="Price of the stone"
            unit="money"
            scale={1}
            optional
            empty="not entered"
          />
        </FigureRow>
        <FigureRow name="Suffers in heat" about="set cold, after all flame and pickle">
          <label className="tick">
            <input
              type="checkbox"
              checked={read(`${at}/heatSensitive`) === true}
              onChange={(event) => change(`${at}/heatSensitive`, event.target.checked)}
            />
            yes<span className="vh">, it suffers in heat</span>
          </label>
        </FigureRow>
        {seat !== undefined && (
          <>
            <FigureRow name="Carve the seat in wax" strong>
              <Figure of={seat.length} bare /> × <Figure of={seat.width} />
            </FigureRow>
            <FigureRow name="Stone will drop in">
              <Figure of={seat.dropsIn} as="chance" />
            </FigureRow>
          </>
        )}
      </FigureRows>
      <button type="button" className="quiet" onClick={() => change(at, undefined)}>
        No stone
      </button>
    </section>
  )
}
