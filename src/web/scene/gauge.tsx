import { axisFor, tickText } from './axis.ts'

const START = 225
const SWEEP = 270

/** A vacuum gauge: the needle where the slurry's water boils; past "no air left" the scale is out of reach. */
export const Gauge = ({
  boils,
  pump,
  noAir,
  label,
  decimals,
}: {
  /** readings in the unit shown */
  boils: number
  pump: number
  noAir: number
  label: string
  decimals: number
}) => {
  const axis = axisFor(0, Math.max(noAir * 1.03, label === 'inHg' ? 30 : 0), 6)
  const angle = (reading: number): number => ((START - (reading / axis.to) * SWEEP) * Math.PI) / 180
  const spot = (reading: number, radius: number): readonly [number, number] => [
    140 + radius * Math.cos(angle(reading)),
    140 - radius * Math.sin(angle(reading)),
  ]
  const line = (reading: number, from: number, to: number): string => {
    const [a, b] = [spot(reading, from), spot(reading, to)]
    return `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`
  }
  const arc = (from: number, to: number, radius: number): string => {
    const [a, b] = [spot(from, radius), spot(to, radius)]
    const large = ((to - from) / axis.to) * SWEEP > 180 ? 1 : 0
    return `M${a[0]} ${a[1]}A${radius} ${radius} 0 ${large} 1 ${b[0]} ${b[1]}`
  }
  return (
    <svg
      viewBox="0 0 280 280"
      className="gauge"
      role="img"
      aria-label={`The water boils at ${boils.toFixed(decimals)} ${label} on the gauge; the pump reaches ${pump.toFixed(decimals)}; no air is left at ${noAir.toFixed(decimals)}`}
    >
      <circle cx="140" cy="140" r="132" fill="var(--sheet)" stroke="var(--ink)" strokeWidth="2" />
      <path
        d={arc(Math.min(noAir, axis.to), axis.to, 112)}
        stroke="var(--line)"
        strokeWidth="17"
        strokeDasharray="2 3"
        fill="none"
      />
      {axis.short.map((tick) => (
        <path key={tick} d={line(tick, 112, 121)} stroke="var(--ink)" />
      ))}
      {axis.long.map((tick) => {
        const [x, y] = spot(tick, 88)
        return (
          <g key={tick}>
            <path d={line(tick, 103, 121)} stroke="var(--ink)" strokeWidth="2" />
            <text x={x} y={y + 5} fontSize="15" textAnchor="middle">
              {tickText(tick, axis.step)}
            </text>
          </g>
        )
      })}
      <path d={line(pump, 96, 124)} stroke="var(--pencil)" strokeWidth="4" />
      <path d={line(boils, -14, 104)} stroke="var(--ink)" strokeWidth="4.5" strokeLinecap="round" />
      <circle cx="140" cy="140" r="7" fill="var(--ink)" />
      <text x="140" y="192" fontSize="31" fontWeight="560" textAnchor="middle">
        {boils.toFixed(decimals)}
      </text>
      <text x="140" y="212" fontSize="14" textAnchor="middle" className="l2">
        {label}
      </text>
    </svg>
  )
}
