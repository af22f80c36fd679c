import type { Flask } from '../../engine/documents/shop.ts'
import { useDocuments } from '../state/documents.tsx'
import { useNarrow } from '../state/narrow.ts'
import { writeFlask } from '../state/sizes.ts'
import { useUnits } from '../state/units.ts'

/** The rack at one scale: press a flask to say whether it is yours. */
export const FlaskRack = ({ chosen, scale = 0.82 }: { chosen?: string; scale?: number }) => {
  const { shop, change } = useDocuments()
  const { length } = useUnits()
  const narrow = useNarrow()
  const shown = narrow ? Math.min(scale, 0.48) : scale
  const tallest = Math.max(40, ...shop.flasks.map((flask) => flask.insideHeight_mm))
  return (
    <ul className="rack">
      {shop.flasks.map((flask, index) => (
        <li key={flask.id}>
          <button
            type="button"
            aria-pressed={flask.owned}
            aria-label={`${writeFlask(flask, length)} ${length}, ${flask.owned ? 'on your rack' : 'not yours'}`}
            data-path={`/shop/flasks/${index}/owned`}
            onClick={() => change(`/shop/flasks/${index}/owned`, !flask.owned)}
          >
            <FlaskOutline flask={flask} tallest={tallest} scale={shown} chosen={flask.id === chosen} />
            <span className={flask.owned ? 'own' : ''}>{writeFlask(flask, length)}</span>
          </button>
        </li>
      ))}
    </ul>
  )
}

const FlaskOutline = ({
  flask,
  tallest,
  scale,
  chosen,
}: {
  flask: Flask
  tallest: number
  scale: number
  chosen: boolean
}) => {
  const radius = (flask.insideDiameter_mm * scale) / 2
  const height = flask.insideHeight_mm * scale
  const tilt = radius * 0.18
  const top = (tallest - flask.insideHeight_mm) * scale + tilt + 2
  const whole = tallest * scale + 2 * tilt + 4
  const stroke = flask.owned ? 2 : 1
  return (
    <svg width={radius * 2 + 4} height={whole} viewBox={`0 0 ${radius * 2 + 4} ${whole}`} aria-hidden="true">
      <path
        d={`M2 ${top}V${top + height}A${radius} ${tilt} 0 0 0 ${2 + 2 * radius} ${top + height}V${top}`}
        fill={flask.owned ? (chosen ? 'var(--metal-s)' : 'var(--metal-t)') : 'none'}
        stroke="var(--ink)"
        strokeWidth={stroke}
        strokeDasharray={flask.owned ? undefined : '4 3'}
      />
      <ellipse
        cx={2 + radius}
        cy={top}
        rx={radius}
        ry={tilt}
        fill="var(--sheet)"
        stroke="var(--ink)"
        strokeWidth={stroke}
      />
      {flask.owned && (
        <path
          d={`M${radius - 7} ${top + height / 2 + 3}l6 7 13-15`}
          fill="none"
          stroke="var(--ink)"
          strokeWidth="2.6"
        />
      )}
    </svg>
  )
}
