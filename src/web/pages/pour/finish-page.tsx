import { Asked } from '../../parts/asked.tsx'
import { Figure } from '../../parts/figure.tsx'
import { keyed } from '../../parts/keyed.ts'
import { PartVerdicts } from '../../parts/part-verdicts.tsx'
import { Say } from '../../parts/say.tsx'
import { FigureRow, FigureRows, Stat } from '../../parts/stat.tsx'
import { useDocuments, usePour } from '../../state/documents.tsx'
import { usePlan } from '../../state/plan.tsx'
import { useUnits } from '../../state/units.ts'

const Lengths = ({ index }: { index: number }) => {
  const { plan } = usePlan()
  const { change } = useDocuments()
  const pour = usePour()
  const piece = pour.pieces[index]
  const finished = plan.finish.pieces.find((one) => one.index === index)
  if (piece === undefined) return null
  const lengths = piece.lengths ?? []
  const at = `/pour/pieces/${index}/lengths`
  const add = (): void =>
    change(at, [...lengths, { name: `Size ${lengths.length + 1}`, finished_mm: 20, faces: 2 }])
  return (
    <>
      {keyed(lengths, ({ name }) => name).map(({ key, row: length, index: place }) => {
        const worked = finished?.lengths[place]
        return (
          <FigureRow
            key={key}
            name={length.name}
            about={
              <>
                finished <Asked path={`${at}/${place}/finished_mm`} title={`${length.name}, finished`} />
              </>
            }
          >
            {worked === undefined ? <span className="muted">open</span> : <Figure of={worked.wax} range />}
          </FigureRow>
        )
      })}
      <FigureRow
        name={
          <button type="button" className="quiet" onClick={add}>
            A size of {piece.name} that must come out
          </button>
        }
      >
        {''}
      </FigureRow>
    </>
  )
}

export const FinishPage = () => {
  const { plan } = usePlan()
  const pour = usePour()
  const units = useUnits()
  const { finish } = plan
  const seats = finish.pieces.filter((piece) => piece.seat !== undefined)
  return (
    <div className="part-page">
      <h2 className="sh">
        In this order <small>heavy rust edge: heat</small>
      </h2>
      <ol className="steps-rule">
        {finish.steps.map((step, index) => (
          <li key={step.name} className={step.heat ? 'hot' : ''}>
            <b>
              {index + 1} {step.name}
              {step.heat && <span className="vh">, with heat</span>}
            </b>
            <small>
              <Say words={step.words} />
            </small>
            {/^set /i.test(step.name) && <small className="no-flame">no flame, no pickle from here on</small>}
          </li>
        ))}
      </ol>
      <div className="cols3">
        <section aria-label="Finished">
          <div>
            <table>
              <caption>Lost in finishing, by piece</caption>
              <thead>
                <tr>
                  <th scope="col">Piece</th>
                  <th scope="col" className="n">
                    As cast, {units.mass}
                  </th>
                  <th scope="col" className="n">
                    Loses
                  </th>
                  <th scope="col" className="n">
                    Finished
                  </th>
                </tr>
              </thead>
              <tbody>
                {finish.pieces.map((piece) => (
                  <tr key={piece.id}>
                    <th scope="row">
                      {piece.name}
                      {piece.quantity > 1 && (
                        <>
                          {` × ${piece.quantity}, together`}
                          <small>
                            each <Figure of={piece.castMass} /> as cast, <Figure of={piece.finishedMass} />{' '}
                            finished
                          </small>
                        </>
                      )}
                      {piece.lossFrom === 'usual share' && (
                        <small>loss by a usual share, its surface is not known</small>
                      )}
                    </th>
                    <td className="n">
                      <Figure of={piece.quantity > 1 ? piece.castMassOfAll : piece.castMass} bare />
                    </td>
                    <td className="n">
                      <Figure of={piece.quantity > 1 ? piece.lossOfAll : piece.loss} bare />
                    </td>
                    <td className="n">
                      <Figure of={piece.quantity > 1 ? piece.finishedMassOfAll : piece.finishedMass} bare />
                    </td>
                  </tr>
                ))}
              </tbody>
              <tfoot>
                <tr>
                  <th scope="row">Whole pour</th>
                  <td className="n">
                    <Figure of={finish.castMass} bare />
                  </td>
                  <td className="n">
                    <Figure of={finish.loss} bare />
                  </td>
                  <td className="n">
                    <Figure of={finish.finishedMass} bare />
                  </td>
                </tr>
              </tfoot>
            </table>
          </div>
          <FigureRows label="Metal that stays with you">
            <FigureRow name="Finished, all">
              <Figure of={finish.finishedMass} range />
            </FigureRow>
            <FigureRow name="Sprues and button, back">
              <Figure of={finish.metalBack} range />
            </FigureRow>
            <FigureRow name="Filings to keep">
              <Figure of={finish.filings} range />
            </FigureRow>
            <FigureRow name="Of the charge, in the pieces" about="of 100">
              <Figure of={finish.yield} as="hundred" bare />
            </FigureRow>
            <FigureRow name="Taken off a face">
              <Asked path="/shop/finishing/perFace_mm" title="Finishing takes off a face" />
            </FigureRow>
          </FigureRows>
        </section>
        <section aria-label="Sizes and seats">
          {seats.map((piece) => (
            <div key={piece.id}>
              <FigureRows label={`The seat, ${piece.seat?.stone ?? ''}`}>
                <FigureRow name="Carve in wax, long" strong>
                  <Figure of={piece.seat?.length} range />
                </FigureRow>
                <FigureRow name="Carve in wax, wide" strong>
                  <Figure of={piece.seat?.width} range />
                </FigureRow>
                <FigureRow name="Gap asked on each side">
                  <Figure of={piece.seat?.gap} />
                </FigureRow>
                <FigureRow name="Strays from it by" about="nine in ten">
                  <Figure of={piece.seat?.spread} />
                </FigureRow>
                <FigureRow name="Stone will drop in">
                  <Figure of={piece.seat?.dropsIn} as="chance" />
                </FigureRow>
              </FigureRows>
              <p className="sm muted">Too tight? Ream the seat, not the stone.</p>
            </div>
          ))}
          <FigureRows label="Sizes: carve the wax to">
            {pour.pieces.map((piece, index) => (
              <Lengths key={piece.id} index={index} />
            ))}
          </FigureRows>
          {finish.pieces.some((piece) => piece.sizes !== undefined) && (
            <FigureRows label="Outside, when finished">
              {finish.pieces.map(
                (piece) =>
                  piece.sizes !== undefined && (
                    <FigureRow key={piece.id} name={piece.name}>
                      <Figure of={piece.sizes.length} bare /> × <Figure of={piece.sizes.width} bare /> ×{' '}
                      <Figure of={piece.sizes.height} />
                    </FigureRow>
                  ),
              )}
            </FigureRows>
          )}
        </section>
        <section aria-label="Pickle">
          <div className="fig">
            {finish.pickle.salt !== undefined && (
              <Stat name="Acid salt, into the water" size="big">
                <Figure of={finish.pickle.salt} />
              </Stat>
            )}
          </div>
          <FigureRows label="Pickle">
            <FigureRow name="Water, first">
              <Figure of={finish.pickle.water} />
            </FigureRow>
            <FigureRow name="Acid salt, into the water">
              <Figure of={finish.pickle.salt} />
            </FigureRow>
            <FigureRow name="Keep at">
              <Figure of={finish.pickle.temperature} />
            </FigureRow>
            <FigureRow name="For">
              <Figure of={finish.pickle.time} range />
            </FigureRow>
          </FigureRows>
          <PartVerdicts part="finish" />
        </section>
      </div>
    </div>
  )
}
