import { AskedChoice, AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { ListActions } from './list-actions.tsx'

export const Waxes = () => {
  const { shop } = useDocuments()
  return (
    <section className="part" id="waxes">
      <h2>
        Waxes<small>weight for the room they fill</small>
      </h2>
      <div>
        {shop.waxes.map((wax, index) => {
          const at = `/shop/waxes/${index}`
          return (
            <details key={wax.id} className="fold">
              <summary>{wax.name}</summary>
              <ValueTable label={wax.name}>
                <tr>
                  <th scope="row">Name</th>
                  <td>
                    <AskedText path={`${at}/name`} title="Wax" />
                  </td>
                  <td colSpan={2}>
                    <AskedChoice
                      path={`${at}/role`}
                      title="Used for"
                      choices={[
                        ['carving', 'carving'],
                        ['sprue', 'sprues'],
                        ['sheet', 'sheet'],
                        ['injection', 'injection'],
                        ['resin', 'printed resin'],
                      ]}
                    />
                  </td>
                </tr>
                <ValueRow
                  path={`${at}/density_g_cm3`}
                  title="Density"
                  about="sink a piece in alcohol to know yours"
                  stated
                />
                <ValueRow path={`${at}/melts_C`} title="Melts at" empty="not known" stated optional />
              </ValueTable>
              <ListActions list="waxes" index={index} name={wax.name} />
            </details>
          )
        })}
      </div>
    </section>
  )
}

export const Alloys = () => {
  const { shop } = useDocuments()
  return (
    <section className="part" id="alloys">
      <h2>
        Metals<small>you cast</small>
      </h2>
      <div>
        {shop.alloys.map((alloy, index) => {
          const at = `/shop/alloys/${index}`
          return (
            <details key={alloy.id} className="fold">
              <summary>{alloy.name}</summary>
              <ValueTable label={alloy.name}>
                <ValueRow path={`${at}/density_g_cm3`} title="Density, solid" stated />
                <ValueRow path={`${at}/liquidDensity_g_cm3`} title="Density, liquid" stated />
                <ValueRow path={`${at}/liquidus_C`} title="All liquid at" stated />
                <ValueRow path={`${at}/solidus_C`} title="Begins to melt at" stated />
                <ValueRow path={`${at}/freezesBy_C`} title="All solid by" stated />
                <ValueRow path={`${at}/superheat_K`} title="Poured above that by" stated />
                <ValueRow path={`${at}/heatToPour_kJ_kg`} title="Heat to melt and pour" stated />
                <ValueRow path={`${at}/freezingHeat_kJ_kg`} title="Heat given up in freezing" stated />
                <ValueRow path={`${at}/shrinkOnFreezing`} title="Shrinks in freezing" as="hundred" stated />
                <ValueRow
                  path={`${at}/castShrink`}
                  title="Wax to cold metal, shorter by"
                  as="hundred"
                  stated
                />
                <ValueRow
                  path={`${at}/flask_C/heavy`}
                  unitPath={`${at}/flask_C`}
                  title="Flask for heavy work"
                  stated
                />
                <ValueRow
                  path={`${at}/flask_C/medium`}
                  unitPath={`${at}/flask_C`}
                  title="Flask for middling work"
                  stated
                />
                <ValueRow
                  path={`${at}/flask_C/light`}
                  unitPath={`${at}/flask_C`}
                  title="Flask for light work"
                  stated
                />
              </ValueTable>
              <p className="sm muted">{alloy.source}</p>
              <ListActions list="alloys" index={index} name={alloy.name} />
            </details>
          )
        })}
      </div>
    </section>
  )
}
