import { AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { PLAIN } from './entry-forms.ts'
import { ListActions } from './list-actions.tsx'

export const Kilns = () => {
  const { shop } = useDocuments()
  return (
    <section className="part" id="kiln">
      <h2>
        Kiln<small>how fast, how true</small>
      </h2>
      <div>
        {shop.kilns.map((kiln, index) => {
          const at = `/shop/kilns/${index}`
          return (
            <div key={kiln.id}>
              <h3 className="sub">
                <AskedText path={`${at}/name`} title="Kiln" />
              </h3>
              <ValueTable label={kiln.name}>
                <ValueRow
                  path={`${at}/readsHigh_K`}
                  title="Reads high by"
                  about="a minus sign when it reads low"
                  stated
                />
                <ValueRow path={`${at}/fastestRise_C_h`} title="Fastest climb" />
                <ValueRow path={`${at}/fall_C_h`} title="Falls, door shut" />
                <ValueRow path={`${at}/overshoot_K`} title="Runs over by" />
                <ValueRow path={`${at}/steps`} title="Steps its controller takes" as="count" />
                <ValueRow path={`${at}/power_kW`} title="Power" />
                <ValueRow path={`${at}/width_mm`} title="Inside, wide" />
                <ValueRow path={`${at}/height_mm`} title="Inside, high" />
                <ValueRow path={`${at}/depth_mm`} title="Inside, deep" />
              </ValueTable>
              <ListActions list="kilns" index={index} name={kiln.name} />
            </div>
          )
        })}
      </div>
    </section>
  )
}

export const Scales = () => (
  <section className="part" id="scales">
    <h2>
      Scales<small>three</small>
    </h2>
    <ValueTable label="Scales">
      {(
        [
          ['metal', 'Metal'],
          ['wax', 'Wax'],
          ['powder', 'Powder'],
        ] as const
      ).map(([key, name]) => [
        <ValueRow
          key={`${key}-to`}
          path={`/shop/scales/${key}/resolution_g`}
          title={`${name}, reads to`}
          {...PLAIN}
        />,
        <ValueRow
          key={`${key}-up`}
          path={`/shop/scales/${key}/most_g`}
          title={`${name}, up to`}
          {...PLAIN}
        />,
      ])}
    </ValueTable>
  </section>
)
