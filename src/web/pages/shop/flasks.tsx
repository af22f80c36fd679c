import { useState } from 'react'
import { Asked } from '../../parts/asked.tsx'
import { FiguresForm } from '../../parts/figures-form.tsx'
import { FlaskRack } from '../../parts/flask-rack.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { type Refusal, refusalOf } from '../../state/limits.ts'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'
import { PLAIN } from './entry-forms.ts'
import { freshId, ListActions, without } from './list-actions.tsx'

type FlaskSizes = { insideDiameter_mm: number; insideHeight_mm: number; wall_mm: number }

export const Flasks = () => {
  const { shop, changeShop } = useDocuments()
  const { length } = useUnits()
  const [adding, setAdding] = useState(false)
  const add = async (sizes: FlaskSizes): Promise<Refusal | undefined> => {
    const flask = { id: freshId(shop.flasks, 'flask'), ...sizes, owned: true }
    const next = { ...shop, flasks: [...shop.flasks, flask] }
    const refusal = await refusalOf('shop', next)
    if (refusal !== undefined) return refusal
    changeShop(next)
    setAdding(false)
    return undefined
  }
  return (
    <section className="part" id="flasks">
      <h2>
        Flasks<small>on the rack, diameter × height inside, {length === 'in' ? 'inches' : 'mm'}</small>
      </h2>
      <div>
        <FlaskRack />
        <p className="sm muted">Press a flask to say whether it is yours. Dashed ones are not.</p>
        <div className="wide-table">
          <table>
            <caption className="vh">Flasks</caption>
            <thead>
              <tr>
                <th scope="col">Flask</th>
                <th scope="col" className="n">
                  Inside, across
                </th>
                <th scope="col" className="n">
                  Inside, high
                </th>
                <th scope="col" className="n">
                  Wall
                </th>
                <th scope="col" className="n">
                  Empty, weighs
                </th>
                <th scope="col">
                  <span className="vh">Change</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {shop.flasks.map((flask, index) => {
                const name = writeFlask(flask, length)
                const at = `/shop/flasks/${index}`
                return (
                  <tr key={flask.id}>
                    <th scope="row">{name}</th>
                    <td className="n">
                      <Asked path={`${at}/insideDiameter_mm`} title={`${name}, inside across`} />
                    </td>
                    <td className="n">
                      <Asked path={`${at}/insideHeight_mm`} title={`${name}, inside high`} />
                    </td>
                    <td className="n">
                      <Asked path={`${at}/wall_mm`} title={`${name}, wall`} />
                    </td>
                    <td className="n">
                      <Asked
                        path={`${at}/mass_g`}
                        title={`${name}, empty`}
                        empty="by its steel"
                        optional
                        {...PLAIN}
                      />
                    </td>
                    <td>
                      <button
                        type="button"
                        className="quiet"
                        onClick={() => changeShop({ ...shop, flasks: without(shop.flasks, index) })}
                      >
                        Take it away<span className="vh">: {name}</span>
                      </button>
                    </td>
                  </tr>
                )
              })}
            </tbody>
          </table>
        </div>
        <p className="row after">
          <button type="button" className="btn" aria-expanded={adding} onClick={() => setAdding(!adding)}>
            Add a flask
          </button>
        </p>
        {adding && (
          <FiguresForm<keyof FlaskSizes>
            label="A new flask"
            fields={[
              ['insideDiameter_mm', 'Inside, across'],
              ['insideHeight_mm', 'Inside, high'],
              ['wall_mm', 'Wall'],
            ]}
            submit="Put it on the rack"
            add={add}
            leave={() => setAdding(false)}
          />
        )}
        {shop.bases.map((base, index) => (
          <div key={base.id}>
            <h3 className="sub">Sprue base{shop.bases.length > 1 ? ` ${index + 1}` : ''}</h3>
            <ValueTable label={`Sprue base ${index + 1}`}>
              <ValueRow path={`/shop/bases/${index}/mouthDiameter_mm`} title="Dome, across its foot" />
              <ValueRow path={`/shop/bases/${index}/neckDiameter_mm`} title="Dome, across its top" />
              <ValueRow path={`/shop/bases/${index}/depth_mm`} title="Dome, high" />
              <ValueRow
                path={`/shop/bases/${index}/mass_g`}
                title="Weighs"
                empty="not weighed"
                optional
                stated
                {...PLAIN}
              />
            </ValueTable>
            <ListActions list="bases" index={index} name={`sprue base ${index + 1}`} />
          </div>
        ))}
      </div>
    </section>
  )
}
