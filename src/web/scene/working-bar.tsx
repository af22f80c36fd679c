import type { WorkingTime } from '../../engine/investment/clock.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import { axisFor, placing, tickText } from './axis.ts'

const SHORT: Readonly<Record<string, string>> = {
  mix: 'mix',
  'vacuum-mix': 'vac',
  pour: 'pour',
  'vacuum-flask': 'vac',
}

/** The working time in small: what is done when, the moment all is still, and when the gloss goes. */
export const WorkingBar = ({ time }: { time: WorkingTime }) => {
  const steps = time.steps.filter((step) => step.id !== 'still')
  const axis = axisFor(0, Math.max(time.glossOff.high, time.allStill.value) / 60, 6)
  const at = placing(axis, 4, 396)
  const x = (seconds: number): number => at(seconds / 60)
  return (
    <svg
      viewBox="0 0 420 74"
      className="working-bar"
      width="100%"
      role="img"
      aria-label={`All still at ${writeDuration(time.allStill.value)}; stop between ${writeDuration(time.notBefore_s)} and ${writeDuration(time.stopBy_s)}; the gloss goes between ${writeDuration(time.glossOff.low)} and ${writeDuration(time.glossOff.high)}`}
    >
      {steps.map((step, index) => (
        <g key={step.id}>
          <rect
            x={x(step.from_s)}
            y="4"
            width={Math.max(0, x(step.to_s) - x(step.from_s) - 1.5)}
            height="26"
            fill={index % 2 === 0 ? 'var(--metal-t)' : 'var(--metal-s)'}
            stroke="var(--metal)"
          />
          {x(step.to_s) - x(step.from_s) > 26 && (
            <text x={(x(step.from_s) + x(step.to_s)) / 2} y="22" fontSize="14" textAnchor="middle">
              {SHORT[step.id] ?? step.name}
            </text>
          )}
        </g>
      ))}
      {time.stopBy_s > time.notBefore_s && (
        <rect
          x={x(time.notBefore_s)}
          y="34"
          width={x(time.stopBy_s) - x(time.notBefore_s)}
          height="7"
          fill="var(--ink)"
        />
      )}
      <path
        d={`M${x(time.glossOff.low)} 17H${x(time.glossOff.high)}M${x(time.glossOff.low)} 11v12M${x(time.glossOff.high)} 11v12`}
        stroke="var(--ink)"
        strokeWidth="1.4"
      />
      <circle cx={x(time.glossOff.value)} cy="17" r="4" fill="var(--ink)" />
      <path d="M4 47H396" stroke="var(--ink)" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} 47v7`} stroke="var(--ink)" />
          <text x={at(tick)} y="70" fontSize="13.5" textAnchor="middle">
            {tickText(tick, axis.step)}
            {tick === axis.to ? ' min' : ''}
          </text>
        </g>
      ))}
    </svg>
  )
}
