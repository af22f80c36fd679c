import { useEffect, useRef, useState } from 'react'
import type { Shop } from '../../engine/documents/shop.ts'
import { Asked, AskedChoice, AskedText } from '../parts/asked.tsx'
import { FlaskRack } from '../parts/flask-rack.tsx'
import { ValueRow, ValueTable } from '../parts/measured-row.tsx'
import { Mind } from '../parts/mind.tsx'
import { PlaceEntry } from '../parts/place-entry.tsx'
import { KeptLine, TwoScreens } from '../parts/shop-bar.tsx'
import { bringIn } from '../state/bring-in.ts'
import { choose, useChoice } from '../state/choice.ts'
import { useDocuments } from '../state/documents.tsx'
import { useOpenPath } from '../state/open-path.ts'
import { writeFlask } from '../state/sizes.ts'
import { useUnits } from '../state/units.ts'

const MONEY = { unit: 'money', scale: 1 } as const
const MONEY_HOUR = { unit: 'money', scale: 1 } as const
const MONEY_GRAM = { unit: 'money/kg', scale: 1000 } as const
const PLAIN = { plainMass: true } as const

const without = <T,>(list: readonly T[], index: number): T[] => list.filter((_one, at) => at !== index)

const freshId = (taken: readonly { id: string }[], stem: string): string => {
  let count = taken.length + 1
  while (taken.some(({ id }) => id === `${stem}-${count}`)) count += 1
  return `${stem}-${count}`
}

type ListKey = 'waxes' | 'investments' | 'kilns' | 'machines' | 'crucibles' | 'torches' | 'bases' | 'alloys'

/** Another of the same, begun as a copy of the last, and taking one away; the last one stays. */
const ListActions = ({ list, index, name }: { list: ListKey; index: number; name: string }) => {
  const { shop, changeShop } = useDocuments()
  const items = shop[list] as readonly { id: string; name?: string }[]
  const copy = (): void => {
    const from = items[index]
    if (from === undefined) return
    const made = { ...from, id: freshId(items, list), ...(from.name && { name: `${from.name}, another` }) }
    changeShop({ ...shop, [list]: [...items, made] })
  }
  return (
    <p className="row sm list-actions">
      <button type="button" className="quiet" onClick={copy}>
        Another like it<span className="vh">: {name}</span>
      </button>
      {items.length > 1 && (
        <button
          type="button"
          className="quiet"
          onClick={() => changeShop({ ...shop, [list]: without(items, index) })}
        >
          Take it away<span className="vh">: {name}</span>
        </button>
      )}
    </p>
  )
}

const Place = () => (
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

const Flasks = () => {
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

const Kilns = () => {
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

const Scales = () => (
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

const Casting = () => {
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
                <ValueRow path={`${at}/flaskEnd_mm`} title="Pivot to the flask’s far end" />
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

const Waxes = () => {
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

const Alloys = () => {
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

const Investments = () => {
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

const Rules = () => (
  <section className="part" id="rules">
    <h2>
      Rules<small>what you hold to</small>
    </h2>
    <ValueTable label="Rules">
      <ValueRow path="/shop/rules/wallClearance_mm" title="Wax to the flask’s wall, at least" />
      <ValueRow path="/shop/rules/waxToWax_mm" title="Wax to wax, at least" />
      <ValueRow path="/shop/rules/topPerDiameter" title="Above the wax, by the flask’s width" as="hundred" />
      <ValueRow path="/shop/rules/topLeast_mm" title="Above the wax, never under" />
      <ValueRow path="/shop/rules/shortChance" title="A charge may fall short" as="one in" />
      <ValueRow path="/shop/rules/buttonChance" title="A button may be too small" as="one in" />
      <ValueRow path="/shop/rules/returnedMost" title="Metal cast before, at most" as="hundred" />
      <ValueRow path="/shop/rules/wasteAllowance" title="Slurry spare for the bowl" as="hundred" />
      <ValueRow path="/shop/rules/crucibleFillMost" title="Fill the crucible, at most" as="hundred" />
      <ValueRow
        path="/shop/rules/spreadOfFreezing"
        title="How far off a freezing time may be"
        about="one part in a hundred either way, twice in three"
        as="hundred"
      />
    </ValueTable>
  </section>
)

const ClockAndFinishing = () => (
  <>
    <section className="part" id="clock">
      <h2>
        Mixing clock<small>your own pace</small>
      </h2>
      <ValueTable label="Mixing clock">
        <ValueRow path="/shop/clock/mix_min" title="Powder in, mix" />
        <ValueRow path="/shop/clock/vacuumMix_min" title="Vacuum on the bowl" />
        <ValueRow path="/shop/clock/pour_min" title="Pour" />
        <ValueRow path="/shop/clock/vacuumFlask_min" title="Vacuum on the flask" />
        <ValueRow path="/shop/clock/stillBefore_min" title="Still before the gloss goes" />
      </ValueTable>
    </section>
    <section className="part" id="finishing">
      <h2>
        After the spin<small>quench, pickle, polish</small>
      </h2>
      <ValueTable label="After the spin">
        <ValueRow path="/shop/finishing/quenchOpens_C" title="Quench opens at" stated />
        <ValueRow path="/shop/finishing/quenchCloses_C" title="Quench closes at" stated />
        <ValueRow path="/shop/finishing/pickle_C" title="Pickle kept at" />
        <ValueRow path="/shop/finishing/perFace_mm" title="Finishing takes off a face" stated />
      </ValueTable>
    </section>
  </>
)

const METALS = [
  ['Ag', 'Silver'],
  ['Cu', 'Copper'],
  ['Au', 'Gold'],
] as const

const Prices = () => {
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
          <ValueRow path="/shop/prices/labour_h" title="An hour at the bench" {...MONEY_HOUR} />
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

const Copies = () => {
  const file = useRef<HTMLInputElement>(null)
  const [said, setSaid] = useState<string | undefined>(undefined)
  const { keys } = useChoice()
  const bring = async (chosen: File | undefined): Promise<void> => {
    if (chosen === undefined) return
    try {
      const id = await bringIn(chosen)
      location.assign(id === undefined ? '/' : `/pours/${id}`)
    } catch (error) {
      setSaid(`${chosen.name}: ${(error as Error).message}. What stands here is unchanged.`)
    }
  }
  return (
    <section className="part" id="copies">
      <h2>
        Copies<small>everything in one file</small>
      </h2>
      <div>
        <p className="text sm">
          Pours, shop, metal, models and printed sheets together. Restoring puts a file’s contents in place of
          what is here, and keeps what was here as a backup beside it.
        </p>
        <p className="row after">
          <a className="btn" href="/api/backup" download>
            Save a backup
          </a>
          <button type="button" className="btn" onClick={() => file.current?.click()}>
            Restore from a file
          </button>
          <input
            ref={file}
            type="file"
            hidden
            aria-label="A backup, or a pour file"
            onChange={(event) => void bring(event.target.files?.[0])}
          />
        </p>
        {said !== undefined && (
          <Mind level="stop" live>
            {said}
          </Mind>
        )}
        <label className="tick">
          <input
            type="checkbox"
            checked={keys}
            onChange={(event) => choose({ keys: event.target.checked })}
          />{' '}
          single keys work on a plan: 1 to 9 and 0, [ and ], E, U, P, ?
        </label>
      </div>
    </section>
  )
}

export const ShopPage = () => {
  useOpenPath()
  useEffect(() => {
    document.title = 'Shop · Pourwright'
  }, [])
  const { shop } = useDocuments()
  return (
    <>
      <TwoScreens />
      <main className="page narrow-page shop-page" id="main">
        <div className="tp">
          <h1>Shop</h1>
          <span className="muted">
            {shopName(shop)}What every plan rests on. Blue is yours to change; a double rule was measured
            here.
          </span>
          <span className="sp" />
          <KeptLine />
        </div>
        <Place />
        <Scales />
        <Flasks />
        <Kilns />
        <Casting />
        <Investments />
        <Waxes />
        <Alloys />
        <Rules />
        <ClockAndFinishing />
        <Prices />
        <Copies />
      </main>
    </>
  )
}

const shopName = (shop: Shop): string => (shop.name === 'My shop' ? '' : `${shop.name}. `)
