import { placing } from '../scene/axis.ts'

const TICKS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]

/** A dot on a bar with end stops over a graduated base line; a heavy upright is a limit. All shown units. */
export const Whisker = ({
  value,
  low,
  high,
  from,
  to,
  limit,
  label,
  width = 110,
}: {
  value: number
  low: number
  high: number
  from: number
  to: number
  limit?: number
  label: string
  width?: number
}) => {
  const at = placing({ from, to }, 4, width - 4)
  const inside = (x: number): number => Math.min(width - 2, Math.max(2, at(x)))
  return (
    <svg className="wk" width={width} height="20" viewBox={`0 0 ${width} 20`} role="img" aria-label={label}>
      <path d={`M4 15.5H${width - 4}`} stroke="var(--line)" strokeWidth="1" />
      {TICKS.map((tick) => (
        <path
          key={tick}
          d={`M${4 + ((width - 8) * tick) / 10} 15.5v${tick % 5 === 0 ? 4 : 2}`}
          stroke="var(--line)"
        />
      ))}
      {limit !== undefined && <path d={`M${inside(limit)} 1v17`} stroke="var(--ink)" strokeWidth="3" />}
      <path
        d={`M${inside(low)} 9H${inside(high)}M${inside(low)} 5.5v7M${inside(high)} 5.5v7`}
        stroke="var(--ink)"
        strokeWidth="1.4"
      />
      <circle cx={inside(value)} cy="9" r="3.4" fill="var(--ink)" />
    </svg>
  )
}
