import { useMemo } from 'react'
import { Mind } from '../../../parts/mind.tsx'
import { frameOfBounds, pathOn } from './frame.ts'
import type { RegionGroup } from './groups.ts'
import { useLengths } from './use-heights.ts'

/** Where the page can draw no 3D: the relief from above, each region with its number and height. */
export const MeasuredRelief = ({
  bounds,
  groups,
  tops,
  name,
}: {
  bounds: { readonly min: readonly number[]; readonly max: readonly number[] }
  groups: readonly RegionGroup[]
  tops: ReadonlyMap<string, number>
  name: string
}) => {
  const { write, label } = useLengths()
  const [left = 0, low = 0] = bounds.min
  const [right = 0, high = 0] = bounds.max
  const frame = useMemo(
    () => frameOfBounds({ min: [left, low], max: [right, high] }),
    [left, low, right, high],
  )
  const letter = frame.width / 36
  const tallest = Math.max(...tops.values(), 0.1)
  return (
    <>
      <Mind level="note">
        This browser draws nothing in three dimensions here. The relief from above and its sections say the
        same.
      </Mind>
      <svg
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        width="100%"
        className="measured"
        role="img"
        aria-label={`${name} from above, heights in ${label}: ${groups
          .map((group) => `${group.number} ${write(tops.get(group.regions[0]?.id ?? '') ?? 0)}`)
          .join(', ')}`}
      >
        {groups.flatMap((group) =>
          group.regions.map((region) => (
            <path
              key={region.id}
              d={[region.outer, ...region.holes].map((loop) => pathOn(frame, loop, true)).join('')}
              fill="var(--wax-s)"
              fillOpacity={
                group.setting.role === 'through' ? 0 : 0.15 + (0.7 * (tops.get(region.id) ?? 0)) / tallest
              }
              fillRule="evenodd"
              stroke="var(--wax)"
              strokeWidth={frame.width / 320}
            />
          )),
        )}
        {groups.map((group) => {
          const [first] = group.regions
          if (first === undefined) return null
          const [x, y] = frame.toView(first.at_mm)
          return (
            <text key={group.key} x={x} y={y} fontSize={letter} textAnchor="middle" fontWeight="600">
              {group.number}: {write(tops.get(first.id) ?? 0)}
            </text>
          )
        })}
      </svg>
    </>
  )
}
