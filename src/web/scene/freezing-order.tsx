import type { Quantity } from '../../engine/quantity/quantity.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import { axisFor, placing, tickText } from './axis.ts'

/** Freezing times in order, first at the top, each with its range on one scale of seconds. */
export const FreezingOrder = ({
  order,
  narrow,
}: {
  order: readonly { readonly id: string; readonly name: string; readonly time: Quantity }[]
  narrow: boolean
}) => {
  const width = narrow ? 360 : 860
  const left = narrow ? 12 : 250
  const step = narrow ? 44 : 34
  const axis = axisFor(0, Math.max(...order.map((one) => one.time.high)), narrow ? 4 : 8)
  const at = placing(axis, left, width - 20)
  const foot = order.length * step + 8
  return (
    <svg
      viewBox={`0 0 ${width} ${foot + 34}`}
      width="100%"
      role="img"
      aria-label={`Order of freezing: ${order.map((one) => `${one.name} ${writeDuration(one.time.value)}`).join(', ')}`}
    >
      {order.map((one, index) => {
        const y = index * step + (narrow ? 30 : 20)
        return (
          <g key={one.id}>
            <text
              x={narrow ? left : left - 14}
              y={narrow ? y - 12 : y + 5}
              fontSize="14.5"
              textAnchor={narrow ? 'start' : 'end'}
            >
              {one.name}
            </text>
            <path
              d={`M${at(Math.max(0, one.time.low))} ${y}H${at(one.time.high)}M${at(Math.max(0, one.time.low))} ${y - 5}v10M${at(one.time.high)} ${y - 5}v10`}
              stroke="var(--heat)"
              strokeWidth="2"
            />
            <circle cx={at(one.time.value)} cy={y} r="5" fill="var(--heat)" />
            {!narrow && at(one.time.high) < width - 90 && (
              <text x={at(one.time.high) + 9} y={y + 5} fontSize="13.5" className="l2">
                {writeDuration(one.time.value)}
              </text>
            )}
          </g>
        )
      })}
      <path d={`M${left} ${foot}H${width - 20}`} stroke="var(--ink)" strokeWidth="1.4" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} ${foot}v8`} stroke="var(--ink)" />
          <text x={at(tick)} y={foot + 25} fontSize="13.5" textAnchor="middle">
            {tickText(tick, axis.step)}
            {tick === axis.to ? ' s' : ''}
          </text>
        </g>
      ))}
      {axis.short.map((tick) => (
        <path key={tick} d={`M${at(tick)} ${foot}v4`} stroke="var(--line)" />
      ))}
    </svg>
  )
}
