import type { Heights } from '../../../../engine/documents/heights.ts'
import type { Drawing, Regions } from '../../../../engine/pattern/drawing.ts'
import { massOf, writeFigure } from '../../../../engine/quantity/words.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { usePlan } from '../../../state/plan.tsx'
import { writeFlask } from '../../../state/sizes.ts'
import { useUnits } from '../../../state/units.ts'
import { frameOfBounds, pathOn } from './frame.ts'
import { type ChangeHeights, useLengths } from './use-heights.ts'

const MM_PER = { mm: 1, in: 25.4, px: 25.4 / 96, cm: 10, m: 1000, ft: 304.8 } as const

const READINGS = [
  ['mm', 'Millimetres'],
  ['px', '96 to the inch'],
  ['in', 'Inches'],
] as const

/** A drawing that names no unit, in each reading at one scale beside the caster's flask; press decides. */
export const UnitsAsked = ({
  drawing,
  regions,
  heights,
  change,
  volume_mm3,
}: {
  drawing: Drawing
  regions: Regions
  heights: Heights
  change: ChangeHeights
  /** of the relief, its drawing read as it is now */
  volume_mm3: number | undefined
}) => {
  const { shop } = useDocuments()
  const { plan } = usePlan()
  const units = useUnits()
  const { write, label } = useLengths()
  const bounds = regions.bounds_mm
  if (bounds === null) return null
  const flask = plan.flask?.flask ?? shop.flasks.filter((one) => one.owned).at(-1)
  const now = heights.units ?? drawing.units.is
  const [wide, high] = [bounds.max[0] - bounds.min[0], bounds.max[1] - bounds.min[1]]
  const frame = frameOfBounds(bounds)
  const path = regions.regions
    .flatMap((region) => [region.outer, ...region.holes])
    .map((loop) => pathOn(frame, loop, true))
    .join('')
  const density = plan.conditions.metalDensity.value
  const ratioOf = (unit: 'mm' | 'px' | 'in'): number => MM_PER[unit] / MM_PER[drawing.units.is]
  return (
    <section aria-label="Which size is it?" className="units-asked">
      <h3 className="sub">The file names no unit. Which size is yours?</h3>
      <div className="three-readings">
        {READINGS.map(([unit, name]) => {
          const ratio = ratioOf(unit)
          const ring = flask?.insideDiameter_mm ?? 60
          const field = Math.max(ring, wide * ratio, high * ratio) * 1.12
          const size = `${write(wide * ratio)} × ${write(high * ratio)} ${label}`
          return (
            <div key={unit}>
              <svg
                viewBox={`${-field / 2} ${-field / 2} ${field} ${field}`}
                width="100%"
                role="img"
                aria-label={`${name}: ${size}, beside your flask`}
              >
                <circle r={ring / 2} fill="none" stroke="var(--ink)" strokeWidth={field / 120} />
                <g
                  transform={`scale(${ratio}) translate(${-frame.width / 2} ${-frame.height / 2})`}
                  strokeWidth={field / 160 / ratio}
                >
                  <path d={path} fill="var(--wax-t)" fillRule="evenodd" stroke="var(--wax)" />
                </g>
              </svg>
              <button
                type="button"
                className="choice"
                aria-pressed={unit === now}
                onClick={() => change({ ...heights, units: unit })}
              >
                <b>{name}</b>
                <br />
                <span className="sm">
                  {size}
                  {volume_mm3 !== undefined && (
                    <>
                      <br />
                      {/* heights are entered by themselves, so that the weight goes with the area */}
                      about {writeFigure(massOf(volume_mm3 * 1e-9 * density * ratio ** 2), units)} cast
                    </>
                  )}
                </span>
              </button>
            </div>
          )
        })}
      </div>
      {flask !== undefined && (
        <p className="sm muted">
          The ring in each is your {writeFlask(flask, units.length)} {units.length} flask, seen from above.
          {heights.units === undefined &&
            ` ${READINGS.find(([unit]) => unit === now)?.[1] ?? now} are taken until you press one.`}
        </p>
      )}
    </section>
  )
}
