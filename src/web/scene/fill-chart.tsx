import type { Quantity } from '../../engine/quantity/quantity.ts'
import { toUser, type UnitChoice } from '../../engine/quantity/units.ts'
import { writeChance } from '../../engine/quantity/words.ts'
import { axisFor, placing, tickText } from './axis.ts'
import { pileOf } from './grain-pile.ts'

const GRAINS = 80
const RADIUS = 10.5

/** Will it fill? One grain for each equal chance of what the pour needs; those past the charge are crossed. */
export const FillChart = ({
  fill,
  charge,
  short,
  units,
  narrow,
}: {
  fill: Quantity
  charge: Quantity
  short: number
  units: UnitChoice
  narrow: boolean
}) => {
  const width = narrow ? 360 : 900
  const shown = (value: number): number => toUser(value, 'kg', units)
  const spread = Math.max(fill.u, 1e-6)
  const least = shown(Math.min(fill.value - 3 * spread, charge.value - spread))
  const most = shown(Math.max(fill.value + 3 * spread, charge.value + spread))
  const axis = axisFor(least, most, narrow ? 4 : 8)
  const radius = narrow ? 5.4 : RADIUS
  const at = placing(axis, 24, width - 34)
  const step = ((axis.to - axis.from) / (width - 58)) * (2 * radius + 1.6)
  const grains = pileOf(shown(fill.value), shown(spread) - shown(0), GRAINS, step)
  const rows = Math.max(...grains.map((grain) => grain.row)) + 1
  const foot = rows * (2 * radius + 1) + 62
  const line = at(shown(charge.value))
  const right = line < width * 0.66
  return (
    <svg
      viewBox={`0 0 ${width} ${foot + 44}`}
      width="100%"
      role="img"
      aria-label={`Each dot is one pour in ${GRAINS}. Falls short: ${writeChance(short)}.`}
    >
      {grains.map((grain) => {
        const past = grain.value > shown(charge.value)
        const x = at(grain.column)
        const y = foot - radius - 1 - grain.row * (2 * radius + 1)
        const arm = radius * 0.45
        return (
          <g key={`${grain.column} ${grain.row}`}>
            <circle
              cx={x}
              cy={y}
              r={radius}
              fill={past ? 'var(--sheet)' : 'var(--metal-s)'}
              stroke={past ? 'var(--ink)' : 'var(--metal)'}
              strokeWidth={past ? 1.8 : 1}
            />
            {past && (
              <path
                d={`M${x - arm} ${y - arm}l${2 * arm} ${2 * arm}M${x + arm} ${y - arm}l${-2 * arm} ${2 * arm}`}
                stroke="var(--ink)"
                strokeWidth="1.8"
              />
            )}
          </g>
        )
      })}
      <path d={`M${line} 22V${foot}`} stroke="var(--pencil)" strokeWidth="3" />
      <path d={`M${line - 11} 4h22v13l-11 10l-11 -10z`} fill="var(--pencil)" />
      <text
        x={right ? line + 18 : line - 18}
        y="20"
        fontSize={narrow ? 14 : 16}
        fontWeight="620"
        className="pencil"
        textAnchor={right ? 'start' : 'end'}
      >
        {shown(charge.value).toFixed(units.mass === 'oz t' ? 3 : 1)} {units.mass} in the crucible
      </text>
      <path d={`M24 ${foot}H${width - 34}`} stroke="var(--ink)" strokeWidth="1.4" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} ${foot}v12`} stroke="var(--ink)" />
          <text x={at(tick)} y={foot + 31} fontSize="14" textAnchor="middle">
            {tickText(tick, axis.step)}
            {tick === axis.to ? ` ${units.mass}` : ''}
          </text>
        </g>
      ))}
      {axis.short.map((tick) => (
        <path key={tick} d={`M${at(tick)} ${foot}v6`} stroke="var(--line)" />
      ))}
    </svg>
  )
}
