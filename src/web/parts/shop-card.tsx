import { useDocuments } from '../state/documents.tsx'
import { type Entry, enteredOf } from '../state/entered.ts'
import { useUnits } from '../state/units.ts'
import { Asked } from './asked.tsx'
import { FlaskRack } from './flask-rack.tsx'
import { PlaceEntry } from './place-entry.tsx'

/** A usual value may be the caster's own by chance: a press says so, and it counts as entered. */
const Mine = ({ entry, entered, name }: { entry: Entry; entered: boolean; name: string }) => {
  const { shop, changeShop } = useDocuments()
  if (entered) return null
  return (
    <div className="r second">
      <button
        type="button"
        className="quiet small"
        onClick={() => changeShop({ ...shop, mine: [...(shop.mine ?? []), entry] })}
      >
        this is mine<span className="vh">: {name}</span>
      </button>
    </div>
  )
}

/** The shop in the five entries that a plan leans on most; each has a usual value, so any may be skipped. */
export const ShopCard = () => {
  const { shop } = useDocuments()
  const units = useUnits()
  const touched = enteredOf(shop)
  const done = touched.filter(Boolean).length
  return (
    <>
      <div className="cnt" role="img" aria-label={`${done} of 5 entered`}>
        {touched.map((entered, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: five fixed entries
          <i key={index} className={entered ? 'd' : ''} />
        ))}
      </div>
      <p className="lb">
        {done} of 5. The rest have usual values, marked on every plan until you change them or call them
        yours.
      </p>
      <ol>
        <li>
          <b>1</b>
          <div>
            <PlaceEntry short />
            <Mine entry="place" entered={touched[0] === true} name="height above the sea" />
          </div>
        </li>
        <li>
          <b>2</b>
          <div>
            <span>
              Flasks on your rack, {units.length === 'in' ? 'inches' : 'millimetres'}
              <small>
                diameter × height inside; ticked ones count as yours, so unpick those you don’t own; another
                size is added under Shop
              </small>
            </span>
            <FlaskRack scale={0.68} />
            <Mine entry="flasks" entered={touched[1] === true} name="the rack as ticked" />
          </div>
        </li>
        <li>
          <b>3</b>
          <div className="r">
            <span>
              Metal scale reads to, and takes at most
              <small>
                powder scale:{' '}
                <Asked path="/shop/scales/powder/resolution_g" title="Powder scale reads to" plainMass />, wax
                scale: <Asked path="/shop/scales/wax/resolution_g" title="Wax scale reads to" plainMass />
              </small>
            </span>
            <span className="row tight">
              <Asked path="/shop/scales/metal/resolution_g" title="Metal scale reads to" plainMass />
              <Asked path="/shop/scales/metal/most_g" title="Metal scale takes at most" plainMass />
            </span>
          </div>
          <Mine entry="scales" entered={touched[2] === true} name="the scales" />
        </li>
        <li>
          <b>4</b>
          <div className="r">
            <span>
              Casting machine
              <small>usual: {shop.machines[0]?.name.toLowerCase()}; wind it this many turns</small>
            </span>
            <Asked path="/shop/machines/0/turns" title="Turns wound" as="count" />
          </div>
          <div className="r second">
            <small>the crucible holds, level full</small>
            <Asked path="/shop/crucibles/0/holds_g" title="Crucible holds" />
          </div>
          <Mine entry="machines" entered={touched[3] === true} name="casting machine and crucible" />
        </li>
        <li>
          <b>5</b>
          <div className="r">
            <span>
              Kiln
              <small>usual: reads true; climbs at most</small>
            </span>
            <Asked path="/shop/kilns/0/fastestRise_C_h" title="Fastest climb of the kiln" />
          </div>
          <Mine entry="kilns" entered={touched[4] === true} name="the kiln" />
        </li>
      </ol>
    </>
  )
}
