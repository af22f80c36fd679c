import type { Burnout } from '../../engine/heat/burnout.ts'
import { type ChartPoint, coreMarks, setpointKnots } from '../../engine/heat/burnout-lines.ts'
import { toUser, type UnitChoice } from '../../engine/quantity/units.ts'
import { writeTime } from '../state/cast-time.ts'
import { axisFor, placing, tickText } from './axis.ts'

interface Curve {
  readonly hours: number
  readonly shown: number
}

interface Mark extends Curve {
  readonly name: string
}

/** h between two marks under which only the first is named. */
const CLOSE = 0.4

/** Of two marks that fall together only the first is drawn. */
const apart = (marks: readonly Mark[]): readonly Mark[] =>
  marks.reduce<readonly Mark[]>(
    (kept, mark) =>
      kept.every(({ hours }) => Math.abs(hours - mark.hours) > CLOSE) ? [...kept, mark] : kept,
    [],
  )

/** Setpoint thin with open knots, steel dashed, core heavy with its band; the cast at the end, counted back along the top. */
export const BurnoutChart = ({
  burnout,
  units,
  zone,
  narrow,
}: {
  burnout: Burnout
  units: UnitChoice
  zone: string
  narrow: boolean
}) => {
  const shown = (kelvin: number): number => toUser(kelvin, 'K', units)
  const placed = <T extends ChartPoint>(point: T) => ({
    ...point,
    hours: point.s / 3600,
    shown: shown(point.K),
  })
  const knots = setpointKnots(burnout).map(placed)
  const last = knots.at(-1)
  if (last === undefined) return null
  const total = last.hours
  const core = burnout.core?.curve ?? []
  const others = (burnout.load ?? []).map(({ id, core: { curve } }, index) => ({
    key: `${index} ${id}`,
    points: curve.map(({ s, K }) => ({ hours: s / 3600, shown: toUser(K, 'K', units) })),
  }))
  const marks = apart(coreMarks(burnout).map(placed))
  const hottest = Math.max(...knots.map((knot) => knot.shown))
  const heat = axisFor(0, hottest * 1.04, narrow ? 4 : 7)
  const other = units.temperature === 'F' ? 'C' : 'F'
  const label = `Kiln from ${burnout.start === undefined ? 'the start' : writeTime(burnout.start, zone)}, ${total.toFixed(1)} hours; top ${hottest.toFixed(0)} °${units.temperature}; flask at the cast ${shown(burnout.castingTemperature.value).toFixed(0)} °${units.temperature}`
  const hours = Array.from({ length: Math.floor(total) + 1 }, (_, index) => index)
  const steel = core.flatMap(({ s, wall }) =>
    wall === undefined ? [] : [{ hours: s / 3600, shown: shown(wall) }],
  )

  if (narrow) {
    const along = placing({ from: 0, to: total }, 54, 54 + total * 34)
    const across = placing(heat, 66, 340)
    const height = along(total) + 26
    const line = (points: readonly Curve[]): string =>
      points.map((point) => `${across(point.shown).toFixed(1)} ${along(point.hours).toFixed(1)}`).join('L')
    const band = [
      ...core.map((point) => ({ hours: point.s / 3600, shown: shown(point.high) })),
      ...core.toReversed().map((point) => ({ hours: point.s / 3600, shown: shown(point.low) })),
    ]
    return (
      <svg viewBox={`0 0 358 ${height}`} width="100%" role="img" aria-label={label}>
        {heat.long.map((tick) => (
          <g key={tick}>
            <path d={`M${across(tick)} 48V${along(total)}`} stroke="var(--hair)" />
            <path d={`M${across(tick)} 38v10`} stroke="var(--ink)" />
            <text x={across(tick)} y="30" fontSize="13.5" textAnchor="middle">
              {tickText(tick, heat.step)}
            </text>
          </g>
        ))}
        <text x="4" y="14" fontSize="13.5">
          °{units.temperature}
        </text>
        {band.length > 0 && <path d={`M${line(band)}Z`} fill="var(--heat-t)" />}
        {steel.length > 0 && (
          <path
            d={`M${line(steel)}`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth="1.5"
            strokeDasharray="5 4"
          />
        )}
        <path d={`M${line(knots)}`} fill="none" stroke="var(--ink)" strokeWidth="1.5" />
        {others.map(({ key, points }) => (
          <path key={key} d={`M${line(points)}`} fill="none" stroke="var(--heat)" strokeWidth="1.5" />
        ))}
        {core.length > 0 && (
          <path
            d={`M${line(core.map((point) => ({ hours: point.s / 3600, shown: shown(point.K) })))}`}
            fill="none"
            stroke="var(--heat)"
            strokeWidth="4"
          />
        )}
        {knots.map((knot) => (
          <circle
            key={knot.hours}
            cx={across(knot.shown)}
            cy={along(knot.hours)}
            r="4.5"
            fill="var(--sheet)"
            stroke="var(--ink)"
            strokeWidth="1.5"
          />
        ))}
        {marks.map((mark) => (
          <g key={mark.name}>
            <path
              d={`M${across(mark.shown) - 6} ${along(mark.hours)}l6 -6 6 6 -6 6z`}
              fill="var(--sheet)"
              stroke="var(--ink)"
              strokeWidth="1.5"
            />
            <text
              x={across(mark.shown) + (across(mark.shown) > 200 ? -12 : 12)}
              y={along(mark.hours) + 15}
              fontSize="13.5"
              textAnchor={across(mark.shown) > 200 ? 'end' : 'start'}
              className="halo"
            >
              {mark.name}
            </text>
          </g>
        ))}
        {hours
          .filter((hour) => hour % (total > 10 ? 2 : 1) === 0)
          .map((hour) => (
            <g key={hour}>
              <path d={`M58 ${along(hour)}h8`} stroke="var(--ink)" />
              <text x="54" y={along(hour) + 4} fontSize="13" textAnchor="end">
                {burnout.start === undefined
                  ? `${hour} h`
                  : writeTime(burnout.start + hour * 3_600_000, zone).replace(' ', '')}
              </text>
            </g>
          ))}
        <path d={`M66 ${along(total)}H346`} stroke="var(--ink)" strokeWidth="3" />
        <text x="66" y={along(total) + 18} fontSize="14" fontWeight="620">
          cast
        </text>
      </svg>
    )
  }

  const at = placing({ from: 0, to: total }, 66, 1300)
  const up = placing(heat, 426, 40)
  const line = (points: readonly Curve[]): string =>
    points.map((point) => `${at(point.hours).toFixed(1)} ${up(point.shown).toFixed(1)}`).join('L')
  const band = [
    ...core.map((point) => ({ hours: point.s / 3600, shown: shown(point.high) })),
    ...core.toReversed().map((point) => ({ hours: point.s / 3600, shown: shown(point.low) })),
  ]
  const every = total > 16 ? 2 : 1
  const far =
    units.temperature === 'F'
      ? [0, 100, 200, 300, 400, 500, 600, 700, 800]
      : [200, 400, 600, 800, 1000, 1200, 1400]
  const inShown = (degrees: number): number =>
    units.temperature === 'F' ? degrees * 1.8 + 32 : (degrees - 32) / 1.8
  return (
    <svg viewBox="0 0 1376 466" width="100%" role="img" aria-label={label}>
      {heat.long.map((tick) => (
        <g key={tick}>
          <path d={`M66 ${up(tick)}H1300`} stroke="var(--hair)" />
          <path d={`M56 ${up(tick)}h10`} stroke="var(--ink)" />
          <text x="50" y={up(tick) + 5} fontSize="14" textAnchor="end">
            {tickText(tick, heat.step)}
          </text>
        </g>
      ))}
      <text x="50" y="22" fontSize="14" textAnchor="end">
        °{units.temperature}
      </text>
      {far
        .filter((degrees) => inShown(degrees) <= heat.to && inShown(degrees) >= heat.from)
        .map((degrees) => (
          <g key={degrees}>
            <path d={`M1300 ${up(inShown(degrees))}h8`} stroke="var(--line)" />
            <text x="1314" y={up(inShown(degrees)) + 5} fontSize="14" className="l2">
              {degrees}
            </text>
          </g>
        ))}
      <text x="1374" y="22" fontSize="14" textAnchor="end" className="l2">
        °{other}
      </text>
      {band.length > 0 && <path d={`M${line(band)}Z`} fill="var(--heat-t)" />}
      {steel.length > 0 && (
        <path d={`M${line(steel)}`} fill="none" stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="5 4" />
      )}
      <path d={`M${line(knots)}`} fill="none" stroke="var(--ink)" strokeWidth="1.5" />
      {others.map(({ key, points }) => (
        <path key={key} d={`M${line(points)}`} fill="none" stroke="var(--heat)" strokeWidth="1.5" />
      ))}
      {core.length > 0 && (
        <path
          d={`M${line(core.map((point) => ({ hours: point.s / 3600, shown: shown(point.K) })))}`}
          fill="none"
          stroke="var(--heat)"
          strokeWidth="4"
          strokeLinejoin="round"
        />
      )}
      {knots.map((knot) => (
        <circle
          key={knot.hours}
          cx={at(knot.hours)}
          cy={up(knot.shown)}
          r="4.5"
          fill="var(--sheet)"
          stroke="var(--ink)"
          strokeWidth="1.5"
        />
      ))}
      {marks.map((mark) => (
        <g key={mark.name}>
          <path
            d={`M${at(mark.hours) - 6} ${up(mark.shown)}l6 -6 6 6 -6 6z`}
            fill="var(--sheet)"
            stroke="var(--ink)"
            strokeWidth="1.5"
          />
          <text x={at(mark.hours) + 11} y={up(mark.shown) + 17} fontSize="14" className="halo">
            {mark.name}
          </text>
        </g>
      ))}
      {knots.slice(1).map((knot, index) => {
        const before = knots[index]
        if (before === undefined || Math.abs(before.shown - knot.shown) > 1) return null
        const falling = index > 1 && (knots[index - 1]?.shown ?? 0) > knot.shown
        return (
          <text
            key={`hold ${knot.hours}`}
            x={(at(before.hours) + at(knot.hours)) / 2}
            y={up(knot.shown) + (falling ? 24 : -11)}
            fontSize="14.5"
            fontWeight="600"
            textAnchor="middle"
            className="halo"
          >
            {knot.shown.toFixed(0)} °{units.temperature}
          </text>
        )
      })}
      <path d="M66 426H1300" stroke="var(--ink)" strokeWidth="1.5" />
      <path d="M1300 24V432" stroke="var(--ink)" strokeWidth="3.4" />
      <path d="M1291 24h18l-9 11z" fill="var(--ink)" />
      <text x="1300" y="15" fontSize="14" textAnchor="middle">
        cast
      </text>
      {hours
        .filter((hour) => hour % every === 0)
        .map((hour) => (
          <g key={hour}>
            <path d={`M${at(hour)} 426v11`} stroke="var(--ink)" />
            <text x={at(hour)} y="458" fontSize="14" textAnchor="middle">
              {burnout.start === undefined ? `${hour} h` : writeTime(burnout.start + hour * 3_600_000, zone)}
            </text>
          </g>
        ))}
      {Array.from({ length: Math.floor(total / 2) }, (_, index) => (index + 1) * 2)
        .filter((back) => total - back > 0.4)
        .map((back) => (
          <text key={back} x={at(total - back)} y="15" fontSize="13" textAnchor="middle" className="l2">
            {back} h before
          </text>
        ))}
    </svg>
  )
}
