import { AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { MONEY, PLAIN } from './entry-forms.ts'
import { ListActions } from './list-actions.tsx'

export const Investments = () => {
  const { shop } = useDocuments()
  return (
    <section className="part" id="investments">
      <h2>
        Investment<small>the maker’s sheet comes first</small>
      </h2>
      <div>
        {shop.investments.map((investment, index) => {
          const at = `/shop/investments/${index}`
          return (
            <div key={investment.id}>
              <h3 className="sub">
                <AskedText path={`${at}/name`} title="Investment" />
              </h3>
              <ValueTable label={investment.name}>
                <ValueRow path={`${at}/inStock_kg`} title="In the bag" {...PLAIN} />
                <ValueRow path={`${at}/price_kg`} title="Price of a kilogram" {...MONEY} />
                <ValueRow path={`${at}/waterRatio/heavy`} title="Water, heavy work" as="hundred" />
                <ValueRow path={`${at}/waterRatio/medium`} title="Water, middling work" as="hundred" />
                <ValueRow path={`${at}/waterRatio/fine`} title="Water, fine work" as="hundred" />
                <ValueRow path={`${at}/glossOff_min`} title="Gloss goes after" stated />
                <ValueRow path={`${at}/glossOffAt_C`} title="timed at" />
                <ValueRow path={`${at}/set_min`} title="Sets in" />
                <ValueRow path={`${at}/beforeKiln_min`} title="Rests before the kiln" />
                <ValueRow path={`${at}/topHold_C`} title="Top of the burnout" />
                <ValueRow path={`${at}/ceiling_C`} title="Never above" />
                <ValueRow path={`${at}/particleDensity_g_cm3`} title="Density of the dry grains" stated />
                <tr>
                  <th scope="row">Bag opened</th>
                  <td colSpan={3}>
                    <AskedText path={`${at}/opened`} title="Bag opened" empty="not said" optional />
                  </td>
                </tr>
              </ValueTable>
              <p className="sm muted">{investment.source}</p>
              <ListActions list="investments" index={index} name={investment.name} />
            </div>
          )
        })}
      </div>
    </section>
  )
}
