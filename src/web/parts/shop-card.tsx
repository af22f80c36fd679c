import type { Shop } from '../../engine/documents/shop.ts'
import { usualShop } from '../../engine/materials/usual-shop.ts'
import { canonical } from '../../engine/quantity/key.ts'
import { useDocuments } from '../state/documents.tsx'
import { useUnits } from '../state/units.ts'
import { Asked } from './asked.tsx'
import { FlaskRack } from './flask-rack.tsx'
import { PlaceEntry } from './place-entry.tsx'

/** Which of the five entries differ from the usual shop's. */
export const enteredOf = (shop: Shop): readonly boolean[] => {
  const usual = usualShop()
  const differs = (...keys: readonly ('flasks' | 'scales' | 'machines' | 'crucibles' | 'kilns')[]): boolean =>
    keys.some((key) => canonical(shop[key]) !== canonical(usual[key]))
  return [
    canonical(shop.place.pressure) !== canonical(usual.place.pressure),
    differs('flasks'),
    differs('scales'),
    differs('machines', 'crucibles'),
    differs('kilns'),
  ]
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
        {done} of 5. The rest have usual values, marked on every plan until you change them.
      </p>
      <ol>
        <li>
          <b>1</b>
          <PlaceEntry short />
        </li>
        <li>
          <b>2</b>
          <div>
            <span>
              Flasks on your rack, {units.length === 'in' ? 'inches' : 'millimetres'}
              <small>press those you own: diameter × height inside; another size is added under Shop</small>
            </span>
            <FlaskRack scale={0.68} />
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
        </li>
      </ol>
    </>
  )
}
