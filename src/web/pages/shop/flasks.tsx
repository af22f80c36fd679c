import { Asked } from '../../parts/asked.tsx'
import { FlaskRack } from '../../parts/flask-rack.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { writeFlask } from '../../state/sizes.ts'
import { useUnits } from '../../state/units.ts'
import { PLAIN } from './entry-forms.ts'
import { freshId, ListActions, without } from './list-actions.tsx'

export const Flasks = () => {
  const { shop, changeShop } = useDocuments()
  const { length } = useUnits()
  const add = (): void => {
    const last = shop.flasks.at(-1)
    changeShop({
      ...shop,
      flasks: [
        ...shop.flasks,
        {
          id: freshId(shop.flasks, 'flask'),
          insideDiameter_mm: last?.insideDiameter_mm ?? 76.2,
          insideHeight_mm: last?.insideHeight_mm ?? 88.9,
          wall_mm: last?.wall_mm ?? 1.6,
          owned: true,
        },
      ],
    })
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
          <button type="button" className="btn" onClick={add}>
            Add a flask
          </button>
        </p>
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
