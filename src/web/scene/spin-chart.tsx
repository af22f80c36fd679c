import type { Quantity } from '../../engine/quantity/quantity.ts'
import { type UnitChoice, writingOf } from '../../engine/quantity/units.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import type { SpinAnswer } from '../../engine/spin/index.ts'
import { axisFor, placing, tickText } from './axis.ts'

/** The trade's own half minute, drawn beside what the metal asks for [s]. */
const OFTEN_TOLD = [20, 30] as const

/** Pressure as the arm runs down, and when each part is solid: the arm must outlast the last of them. */
export const SpinChart = ({
  spin,
  units,
  narrow,
}: {
  spin: SpinAnswer
  units: UnitChoice
  narrow: boolean
}) => {
  const length = writingOf('m', units)
  // pressure is drawn as the column of metal that would press as hard
  const metal =
    spin.head !== undefined && spin.pressure !== undefined ? spin.head.value / spin.pressure.value : 0
  const scale = length.scale * metal
  const run = spin.time?.run.value
  if (spin.series.length === 0 || metal === 0 || run === undefined || spin.time === undefined) return null
  const width = narrow ? 358 : 930
  const left = narrow ? 40 : 72
  const parts: readonly Quantity[] = spin.time.parts
  const most = Math.max(...spin.series.map((point) => point.time_s), ...parts.map((part) => part.high))
  const time = axisFor(0, most, narrow ? 4 : 8)
  const press = axisFor(0, Math.max(...spin.series.map((point) => point.pressure_Pa)) * scale, 5)
  const rows = parts.length
  const foot = (narrow ? 60 : 40) + Math.max(250, rows * 42)
  const at = placing(time, left, width - 24)
  const up = placing(press, foot, 36)
  const curve = spin.series
    .filter((point) => point.time_s <= time.to)
    .map((point) => `${at(point.time_s).toFixed(1)} ${up(point.pressure_Pa * scale).toFixed(1)}`)
    .join('L')
  // on a phone the names stand clear of the curve, past the moment it may stop, where there is room for them
  const besideRun = narrow && at(run) < width * 0.57
  const flip = at(run) > width * 0.6
  return (
    <svg
      viewBox={`0 0 ${width} ${foot + 40}`}
      width="100%"
      role="img"
      aria-label={`Let it run ${writeDuration(run)}. ${parts.map((part) => `${part.title} ${writeDuration(part.value)}`).join(', ')}`}
    >
      {press.long.map((tick) => (
        <g key={tick}>
          <path d={`M${left} ${up(tick)}H${width - 24}`} stroke="var(--hair)" />
          <text x={left - 8} y={up(tick) + 5} fontSize="13.5" textAnchor="end">
            {tickText(tick, press.step)}
          </text>
        </g>
      ))}
      <text x="2" y="18" fontSize="13.5">
        {length.label} of metal
      </text>
      {!narrow && (
        <>
          <path
            d={`M${at(OFTEN_TOLD[0])} ${foot}V36H${at(OFTEN_TOLD[1])}V${foot}`}
            fill="none"
            stroke="var(--ink2)"
            strokeDasharray="4 3"
          />
          <text x={at(OFTEN_TOLD[1]) + 6} y={foot - 10} fontSize="13.5" className="l2 halo thick">
            often told, 20 to 30
          </text>
        </>
      )}
      <path d={`M${curve}`} fill="none" stroke="var(--ink)" strokeWidth="2.4" />
      <path d={`M${at(run)} 16V${foot}`} stroke="var(--pencil)" strokeWidth="3" />
      <path d={`M${at(run) - 8} 4h16v9l-8 8l-8 -8z`} fill="var(--pencil)" />
      {parts.map((part, index) => {
        const y = 66 + index * ((foot - 96) / Math.max(1, rows))
        const right = at(part.high) < width * 0.55
        return (
          <g key={part.id}>
            <path
              d={`M${at(part.low)} ${y}H${at(part.high)}M${at(part.low)} ${y - 6}v12M${at(part.high)} ${y - 6}v12`}
              stroke="var(--heat)"
              strokeWidth="2.4"
            />
            <circle cx={at(part.value)} cy={y} r="5.5" fill="var(--heat)" />
            <text
              x={
                besideRun ? at(run) + 10 : narrow ? left + 4 : right ? at(part.high) + 12 : at(part.low) - 12
              }
              y={narrow && !besideRun ? y - 11 : y + 5}
              fontSize="14"
              textAnchor={narrow || right ? 'start' : 'end'}
              className="halo thick"
            >
              {part.title.replace(/ freezes in$/, '')} {writeDuration(part.value)}
            </text>
          </g>
        )
      })}
      <text
        x={flip ? at(run) - 14 : at(run) + 14}
        y="17"
        fontSize="14.5"
        fontWeight="620"
        textAnchor={flip ? 'end' : 'start'}
        className="pencil halo thick"
      >
        let it run {writeDuration(run)}
      </text>
      <path d={`M${left} ${foot}H${width - 24}`} stroke="var(--ink)" strokeWidth="1.4" />
      {time.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} ${foot}v9`} stroke="var(--ink)" />
          <text x={at(tick)} y={foot + 27} fontSize="13.5" textAnchor="middle">
            {tickText(tick, time.step)}
            {tick === time.to ? ' s' : ''}
          </text>
        </g>
      ))}
    </svg>
  )
}
