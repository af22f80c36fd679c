import { AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { MONEY, MONEY_GRAM } from './entry-forms.ts'

const METALS = [
  ['Ag', 'Silver'],
  ['Cu', 'Copper'],
  ['Au', 'Gold'],
] as const

export const Prices = () => {
  const { shop, changeShop } = useDocuments()
  const { record } = shop
  return (
    <>
      <section className="part" id="prices">
        <h2>
          Prices<small>in {shop.currency}, entered by you</small>
        </h2>
        <ValueTable label="Prices">
          {METALS.map(([element, name]) => (
            <ValueRow
              key={element}
              path={`/shop/prices/metal_g/${element}`}
              title={name}
              about="for a gram of it, fine"
              empty="not entered"
              optional
              {...MONEY_GRAM}
            />
          ))}
          <tr>
            <th scope="row">Metal prices as of</th>
            <td colSpan={3}>
              <AskedText path="/shop/prices/asOf" title="Metal prices as of" empty="not said" optional />
            </td>
          </tr>
          <ValueRow path="/shop/prices/labour_h" title="An hour at the bench" {...MONEY} />
          <ValueRow path="/shop/prices/wax_g" title="Wax, a gram" {...MONEY_GRAM} />
          <ValueRow path="/shop/prices/energy_kWh" title="Electricity" />
          <ValueRow path="/shop/prices/gas_pour" title="Gas for a pour" {...MONEY} />
          <ValueRow path="/shop/prices/mould" title="A rubber mould of a wax" {...MONEY} />
          <ValueRow
            path="/shop/prices/unrecoveredLoss"
            title="Of metal lost, never comes back"
            as="hundred"
          />
          <ValueRow path="/shop/prices/overhead" title="For the shop’s keep" as="hundred" />
          <ValueRow path="/shop/prices/margin" title="Margin" as="hundred" />
        </ValueTable>
      </section>
      <section className="part" id="record">
        <h2>
          Trials and record<small>what has been tried</small>
        </h2>
        <div>
          <ValueTable label="Trials">
            {(
              [
                ['kilnChanged', 'Kiln last changed'],
                ['powderChanged', 'Powder bag last changed'],
                ['machineChanged', 'Casting machine last changed'],
                ['last', 'Scrap-wax trial last cast'],
              ] as const
            ).map(([key, name]) => (
              <tr key={key}>
                <th scope="row">{name}</th>
                <td colSpan={3}>
                  <DateEntry path={`/shop/trial/${key}`} title={name} />
                </td>
              </tr>
            ))}
            {record !== undefined && (
              <>
                <ValueRow path="/shop/record/pours" title="Pours cast" as="count" />
                <ValueRow path="/shop/record/spoiled" title="Of those, spoiled" as="count" />
              </>
            )}
          </ValueTable>
          {record === undefined && (
            <button
              type="button"
              className="btn after"
              onClick={() => changeShop({ ...shop, record: { pours: 0, spoiled: 0 } })}
            >
              Enter your own count of pours
            </button>
          )}
        </div>
      </section>
    </>
  )
}

const DateEntry = ({ path, title }: { path: string; title: string }) => {
  const { read, change } = useDocuments()
  const standing = read(path)
  return (
    <input
      type="date"
      className="fld long"
      aria-label={title}
      data-path={path}
      value={typeof standing === 'string' ? standing : ''}
      onChange={(event) => change(path, event.target.value === '' ? undefined : event.target.value)}
    />
  )
}
