import { readStated } from '../../engine/documents/stated.ts'
import { useDocuments } from '../state/documents.tsx'
import { Asked } from './asked.tsx'

const WAYS = [
  ['altitude', 'Height above the sea', 'worked out for a standard day'],
  ['station', 'A barometer in the shop', 'as it reads there, not brought to sea level'],
  ['sea-level-weather', 'A weather report', 'which is brought down to sea level, so the height is asked too'],
] as const

/** The air outside, from one of three sources that are never mixed. */
export const PlaceEntry = ({ short }: { short?: boolean }) => {
  const { shop, changeShop } = useDocuments()
  const { pressure } = shop.place
  const heightNow = 'altitude_m' in pressure ? readStated(pressure.altitude_m).value : 0
  const choose = (from: (typeof WAYS)[number][0]): void => {
    if (from === pressure.from) return
    const altitude_m = 'altitude_m' in pressure ? pressure.altitude_m : heightNow
    changeShop({
      ...shop,
      place: {
        ...shop.place,
        pressure:
          from === 'altitude'
            ? { from, altitude_m }
            : from === 'station'
              ? { from, pressure_hPa: { value: 1013.25, low: 980, high: 1040, source: 'not yet set' } }
              : {
                  from,
                  altitude_m,
                  pressure_hPa: { value: 1013.25, low: 990, high: 1035, source: 'not yet set' },
                },
      },
    })
  }
  const base = '/shop/place/pressure'
  if (short === true)
    return (
      <div className="r">
        <span>
          {pressure.from === 'station' ? 'Barometer in the shop' : 'Height above the sea'}
          <small>sets the vacuum and the boil</small>
        </span>
        {pressure.from === 'station' ? (
          <Asked path={`${base}/pressure_hPa`} title="Barometer in the shop" />
        ) : (
          <Asked path={`${base}/altitude_m`} title="Height above the sea" />
        )}
      </div>
    )
  return (
    <fieldset className="ways">
      <legend className="lb">Outside pressure comes from</legend>
      {WAYS.map(([from, name, about]) => (
        <div key={from} className={`way-row ${pressure.from === from ? 'on' : ''}`}>
          <label>
            <input
              type="radio"
              name="pressure-from"
              checked={pressure.from === from}
              onChange={() => choose(from)}
            />
            <span>
              <b>{name}</b>
              <small>{about}</small>
            </span>
          </label>
          {pressure.from === from && (
            <span className="way-values">
              {'pressure_hPa' in pressure && (
                <Asked
                  path={`${base}/pressure_hPa`}
                  title={from === 'station' ? 'Barometer reading' : 'Pressure at sea level'}
                />
              )}
              {'altitude_m' in pressure && (
                <span>
                  {from === 'sea-level-weather' && 'at a height of '}
                  <Asked path={`${base}/altitude_m`} title="Height above the sea" />
                </span>
              )}
            </span>
          )}
        </div>
      ))}
    </fieldset>
  )
}
