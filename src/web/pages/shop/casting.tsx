import { AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { useDocuments } from '../../state/documents.tsx'
import { PLAIN } from './entry-forms.ts'
import { ListActions } from './list-actions.tsx'

export const Casting = () => {
  const { shop } = useDocuments()
  return (
    <section className="part" id="casting">
      <h2>
        Casting<small>arm, crucible, torch</small>
      </h2>
      <div>
        {shop.machines.map((machine, index) => {
          const at = `/shop/machines/${index}`
          return (
            <div key={machine.id}>
              <h3 className="sub">
                <AskedText path={`${at}/name`} title="Casting machine" />
              </h3>
              <ValueTable label={machine.name}>
                <ValueRow path={`${at}/turns`} title="Turns wound" as="count" />
                <ValueRow path={`${at}/preload_turns`} title="Turns of it that only hold" as="count" />
                <ValueRow path={`${at}/speedAtTurns_rpm`} title="Speed at those turns" stated />
                <ValueRow
                  path={`${at}/coastDown_s`}
                  title="Runs down in"
                  about="to a stand, from full speed"
                  stated
                />
                <ValueRow path={`${at}/flaskEnd_mm`} title="Pivot to the flask’s mouth" />
                <ValueRow path={`${at}/crucibleAt_mm`} title="Pivot to the metal in the crucible" />
                <ValueRow path={`${at}/cradle_g`} title="Cradle and crucible, weigh" {...PLAIN} />
                <ValueRow path={`${at}/cradleAt_mm`} title="Pivot to the cradle’s balance point" />
                <ValueRow path={`${at}/counterweight_g`} title="Counterweight" {...PLAIN} />
                <ValueRow path={`${at}/counterweightLeast_mm`} title="Counterweight, nearest" />
                <ValueRow path={`${at}/counterweightMost_mm`} title="Counterweight, farthest" />
                <ValueRow path={`${at}/mostCharge_g`} title="Most metal" />
                <ValueRow path={`${at}/mostFlask_g`} title="Heaviest flask" {...PLAIN} />
                <ValueRow path={`${at}/mostFlaskDiameter_mm`} title="Widest flask" />
                <ValueRow path={`${at}/mostFlaskHeight_mm`} title="Tallest flask" />
              </ValueTable>
              <ListActions list="machines" index={index} name={machine.name} />
            </div>
          )
        })}
        {shop.crucibles.map((crucible, index) => (
          <div key={crucible.id}>
            <h3 className="sub">
              <AskedText path={`/shop/crucibles/${index}/name`} title="Crucible" />
            </h3>
            <ValueTable label={crucible.name}>
              <ValueRow path={`/shop/crucibles/${index}/holds_g`} title="Holds, level full" />
              <ValueRow path={`/shop/crucibles/${index}/retention_g`} title="Keeps back of a charge" stated />
            </ValueTable>
            <ListActions list="crucibles" index={index} name={crucible.name} />
          </div>
        ))}
        {shop.torches.map((torch, index) => (
          <div key={torch.id}>
            <h3 className="sub">
              <AskedText path={`/shop/torches/${index}/name`} title="Torch" />
            </h3>
            <ValueTable label={torch.name}>
              <ValueRow path={`/shop/torches/${index}/power_kW`} title="Burns" stated />
              <ValueRow
                path={`/shop/torches/${index}/intoMetal`}
                title="Of that, into the metal"
                as="hundred"
                stated
              />
              <ValueRow
                path={`/shop/torches/${index}/minutesWilling`}
                title="Longest you will melt, minutes"
                as="count"
              />
              <CheckRow path={`/shop/torches/${index}/airFed`} title="Draws its air from the room" />
            </ValueTable>
            <ListActions list="torches" index={index} name={torch.name} />
          </div>
        ))}
      </div>
    </section>
  )
}

const CheckRow = ({ path, title }: { path: string; title: string }) => {
  const { read, change } = useDocuments()
  return (
    <tr>
      <th scope="row">{title}</th>
      <td colSpan={3}>
        <label className="tick">
          <input
            type="checkbox"
            checked={read(path) === true}
            onChange={(e) => change(path, e.target.checked)}
          />{' '}
          yes
          <span className="vh">, {title}</span>
        </label>
      </td>
    </tr>
  )
}
