import { type ReactNode, useId } from 'react'
import type { ThickPlace } from '../state/caliper-reading.ts'

const PLACES: readonly (readonly [ThickPlace, string, string])[] = [
  ['plate', 'a flat plate', 'wide beside its thickness, like a disc or a wall'],
  ['bar', 'a bar or wire', 'as thick as it is wide'],
  ['wide bar', 'a bar, wider than thick', 'its width is asked'],
  ['ball', 'a ball or lump', 'about as long as it is thick'],
]

/** The four sections cut across, at one scale. */
const CUT: Readonly<Record<ThickPlace, ReactNode>> = {
  plate: <rect x="1" y="8" width="42" height="6" />,
  bar: <rect x="18" y="7" width="8" height="8" />,
  'wide bar': <rect x="12" y="7" width="20" height="8" />,
  ball: <circle cx="22" cy="11" r="7" />,
}

/** What the thickest place is: it decides how long it stays liquid, and so how thick its sprue must be. */
export const ThickPlaceChoice = ({
  place,
  choose,
  width,
  path,
}: {
  place: ThickPlace | undefined
  choose: (place: ThickPlace) => void
  /** the entry for the width of a wide bar */
  width: ReactNode
  path?: string
}) => {
  const name = useId()
  return (
    <fieldset className="thick-place" data-path={path}>
      <legend>
        The thickest place is
        <small>a plate stays liquid longest and wants the thickest sprue</small>
      </legend>
      {PLACES.map(([value, title, about]) => (
        <div key={value} className={place === value ? 'on' : ''}>
          <label>
            <input type="radio" name={name} checked={place === value} onChange={() => choose(value)} />
            <svg viewBox="0 0 44 22" width="44" height="22" aria-hidden="true">
              {CUT[value]}
            </svg>
            <span>
              {title}
              <small>{about}</small>
            </span>
          </label>
          {value === 'wide bar' && place === 'wide bar' && <span className="row">{width}</span>}
        </div>
      ))}
    </fieldset>
  )
}
