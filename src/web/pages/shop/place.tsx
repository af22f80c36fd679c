import { AskedText } from '../../parts/asked.tsx'
import { ValueRow, ValueTable } from '../../parts/measured-row.tsx'
import { PlaceEntry } from '../../parts/place-entry.tsx'

export const Place = () => (
  <section className="part" id="place">
    <h2>
      Place<small>air, clock, money</small>
    </h2>
    <div>
      <PlaceEntry />
      <ValueTable label="Place">
        <ValueRow
          path="/shop/vacuumLeaves_hPa"
          title="Pressure the pump leaves"
          about="with a glass of water under the bell"
          stated
        />
        <tr>
          <th scope="row">Clocks</th>
          <td colSpan={3}>
            <AskedText path="/shop/timeZone" title="Time zone" />
          </td>
        </tr>
        <tr>
          <th scope="row">Currency</th>
          <td colSpan={3}>
            <AskedText path="/shop/currency" title="Currency, three letters" />
          </td>
        </tr>
        <tr>
          <th scope="row">Shop’s name</th>
          <td colSpan={3}>
            <AskedText path="/shop/name" title="Shop’s name" />
          </td>
        </tr>
      </ValueTable>
      <p className="sm muted">
        This browser’s clocks are in {Intl.DateTimeFormat().resolvedOptions().timeZone.replaceAll('_', ' ')}.
      </p>
    </div>
  </section>
)
