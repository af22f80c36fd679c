import type { Quench } from '../../engine/heat/quench.ts'
import type { Quantity } from '../../engine/quantity/quantity.ts'
import { toUser, type UnitChoice } from '../../engine/quantity/units.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import { axisFor, placing, tickText } from './axis.ts'

/** Cooling in still air, with the window: the sure part white, its unsure edges hatched between dashed lines. */
export const QuenchChart = ({
  quench,
  opensAt,
  closesAt,
  units,
  narrow,
}: {
  quench: Quench
  opensAt: Quantity | undefined
  closesAt: Quantity | undefined
  units: UnitChoice
  narrow: boolean
}) => {
  const curve = quench.curve ?? []
  const { opens, closes, window, planned } = quench
  if (curve.length < 2 || opens === undefined || closes === undefined) return null
  const width = narrow ? 358 : 930
  const left = narrow ? 46 : 70
  const last = Math.max(closes.high * 1.08, opens.high * 1.5)
  const time = axisFor(0, last / 60, narrow ? 4 : 7)
  const shown = (kelvin: number): number => toUser(kelvin, 'K', units)
  const drawn = curve.filter((point) => point.s >= 0 && point.s / 60 <= time.to)
  const heat = axisFor(0, Math.max(...drawn.map((point) => shown(Math.max(point.high, point.outer)))), 7)
  const foot = narrow ? 330 : 470
  const at = placing(time, left, width - 20)
  const up = placing(heat, foot, 52)
  const x = (seconds: number): number => Math.min(width - 20, at(seconds / 60))
  const line = (of: (point: (typeof curve)[number]) => number): string =>
    drawn.map((point) => `${x(point.s).toFixed(1)} ${up(shown(of(point))).toFixed(1)}`).join('L')
  const band = `M${line((point) => point.high)}L${drawn
    .toReversed()
    .map((point) => `${x(point.s).toFixed(1)} ${up(shown(point.low)).toFixed(1)}`)
    .join('L')}Z`
  const mid = drawn[Math.floor(drawn.length * 0.3)] ?? drawn[0]
  if (mid === undefined) return null
  const [from, to] = [window?.from ?? opens.high, window?.to ?? closes.low]
  return (
    <svg
      viewBox={`0 0 ${width} ${foot + 42}`}
      width="100%"
      role="img"
      aria-label={`Quench opens ${writeDuration(opens.low)} to ${writeDuration(opens.high)} after the spin and closes ${writeDuration(closes.low)} to ${writeDuration(closes.high)} after it`}
    >
      <defs>
        <pattern id="unsure" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V8" stroke="var(--line)" strokeWidth="1" />
        </pattern>
      </defs>
      {to > from && (
        <rect x={x(from)} y="52" width={x(to) - x(from)} height={foot - 52} fill="var(--sheet)" />
      )}
      {heat.long.map((tick) => (
        <g key={tick}>
          <path d={`M${left} ${up(tick)}H${width - 20}`} stroke="var(--hair)" />
          <text x={left - 8} y={up(tick) + 5} fontSize="13.5" textAnchor="end">
            {tickText(tick, heat.step)}
          </text>
        </g>
      ))}
      <text x={left - 8} y="38" fontSize="13.5" textAnchor="end">
        °{units.temperature}
      </text>
      <path d={band} fill="var(--heat-t)" />
      {[
        [opens.low, opens.high],
        [closes.low, closes.high],
      ].map(([low = 0, high = 0]) => (
        <g key={low}>
          <rect
            x={x(low)}
            y="52"
            width={Math.max(0, x(high) - x(low))}
            height={foot - 52}
            fill="url(#unsure)"
          />
          <path d={`M${x(low)} 52V${foot}M${x(high)} 52V${foot}`} stroke="var(--ink)" strokeDasharray="5 4" />
        </g>
      ))}
      <path d={`M${line((point) => point.castings)}`} fill="none" stroke="var(--heat)" strokeWidth="3.4" />
      <path
        d={`M${line((point) => point.outer)}`}
        fill="none"
        stroke="var(--heat)"
        strokeWidth="1.8"
        strokeDasharray="8 5"
      />
      {[
        [opensAt, 'may be quenched below'],
        [closesAt, 'mould no longer bursts away below'],
      ].map(([limit, words]) => {
        if (limit === undefined || typeof limit === 'string') return null
        const y = up(shown(limit.value))
        return (
          <g key={limit.id}>
            <path d={`M${left} ${y}H${width - 20}`} stroke="var(--ink)" strokeDasharray="10 3 2 3" />
            {!narrow && (
              <text x={width - 24} y={y - 7} fontSize="13.5" textAnchor="end" className="halo">
                {shown(limit.value).toFixed(0)} °{units.temperature}, {words as string}
              </text>
            )}
          </g>
        )
      })}
      {to > from && (
        <>
          <path d={`M${x(from)} 44H${x(to)}`} stroke="var(--ink)" />
          <path d={`M${x(from)} 44l6 -2v4zM${x(to)} 44l-6 -2v4z`} fill="var(--ink)" />
          <text x={(x(from) + x(to)) / 2} y="36" fontSize="14.5" fontWeight="650" textAnchor="middle">
            quench in here
          </text>
        </>
      )}
      {planned !== undefined && (
        <>
          <path d={`M${x(planned)} 54V${foot}`} stroke="var(--pencil)" strokeWidth="3" />
          <text x={x(planned) + 8} y="74" fontSize="14.5" fontWeight="620" className="pencil halo">
            planned
          </text>
        </>
      )}
      {!narrow && (
        <>
          <text x={x(mid.s) + 10} y={up(shown(mid.high)) - 8} fontSize="14" className="heat halo">
            castings, nine in ten
          </text>
          <text x={x(mid.s) + 10} y={up(shown(mid.outer)) + 34} fontSize="13.5" className="heat halo">
            dashed: the outside of the mould
          </text>
        </>
      )}
      <path d={`M${left} ${foot}H${width - 20}`} stroke="var(--ink)" strokeWidth="1.4" />
      {time.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} ${foot}v9`} stroke="var(--ink)" />
          <text x={at(tick)} y={foot + 28} fontSize="13.5" textAnchor={tick === 0 ? 'start' : 'middle'}>
            {tick === 0 ? 'spin ends' : tickText(tick, time.step)}
            {tick === time.to ? ' min' : ''}
          </text>
        </g>
      ))}
    </svg>
  )
}
