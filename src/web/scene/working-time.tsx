import type { WorkingTime } from '../../engine/investment/clock.ts'
import { writeDuration } from '../../engine/quantity/words.ts'
import { axisFor, placing, tickText } from './axis.ts'

const Hatch = ({ id }: { id: string }) => (
  <defs>
    <pattern id={id} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <path d="M0 0V7" stroke="var(--line)" strokeWidth="1.3" />
    </pattern>
  </defs>
)

const said = (time: WorkingTime): string =>
  `All still at ${writeDuration(time.allStill.value)}. Before ${writeDuration(time.notBefore_s)} is too early, after ${writeDuration(time.stopBy_s)} too late. The gloss goes between ${writeDuration(time.glossOff.low)} and ${writeDuration(time.glossOff.high)}.`

/** Working time, laid along: what is done, when all must be still, too early hatched, too late crossed. */
export const WorkingTimeWide = ({ time }: { time: WorkingTime }) => {
  const steps = time.steps.filter((step) => step.id !== 'still')
  const axis = axisFor(0, (Math.max(time.glossOff.high, time.allStill.value) / 60) * 1.12, 11)
  const at = placing(axis, 8, 1360)
  const x = (seconds: number): number => at(seconds / 60)
  const { notBefore_s, stopBy_s } = time
  const still = x(time.allStill.value)
  return (
    <svg viewBox="0 0 1376 176" width="100%" role="img" aria-label={said(time)}>
      <Hatch id="early" />
      {steps.map((step, index) => (
        <g key={step.id}>
          <rect
            x={x(step.from_s)}
            y="42"
            width={Math.max(1, x(step.to_s) - x(step.from_s) - 2)}
            height="30"
            fill={index % 2 === 0 ? 'var(--metal-t)' : 'var(--metal-s)'}
            stroke="var(--metal)"
          />
          <text x={(x(step.from_s) + x(step.to_s)) / 2} y="34" fontSize="14" textAnchor="middle">
            {step.name.toLowerCase()}
          </text>
          <text
            x={(x(step.from_s) + x(step.to_s)) / 2}
            y="62"
            fontSize="14"
            fontWeight="620"
            textAnchor="middle"
          >
            {writeDuration(step.to_s - step.from_s)}
          </text>
        </g>
      ))}
      <path d={`M${still} 14V104`} stroke="var(--pencil)" strokeWidth="3" />
      <path d={`M${still - 8} 2h16v9l-8 8l-8 -8z`} fill="var(--pencil)" />
      <text x={still + 14} y="16" fontSize="14.5" fontWeight="620" className="pencil">
        all still, {writeDuration(time.allStill.value)}
      </text>
      <path
        d={`M${x(time.glossOff.low)} 57H${x(time.glossOff.high)}M${x(time.glossOff.low)} 50v14M${x(time.glossOff.high)} 50v14`}
        stroke="var(--ink)"
        strokeWidth="1.6"
      />
      <circle cx={x(time.glossOff.value)} cy="57" r="5" fill="var(--ink)" />
      <text x={x(time.glossOff.high) + 10} y="54" fontSize="14" fontWeight="620">
        gloss goes, {writeDuration(time.glossOff.value)}
      </text>
      <text x={x(time.glossOff.high) + 10} y="71" fontSize="13" className="l2">
        {writeDuration(time.glossOff.low)} to {writeDuration(time.glossOff.high)}
      </text>
      <rect
        x={x(0)}
        y="88"
        width={x(Math.min(notBefore_s, stopBy_s)) - x(0)}
        height="15"
        fill="url(#early)"
        stroke="var(--line)"
      />
      {stopBy_s > notBefore_s && (
        <rect x={x(notBefore_s)} y="88" width={x(stopBy_s) - x(notBefore_s)} height="15" fill="var(--ink)" />
      )}
      <path
        d={`M${x(stopBy_s)} 88H1360V103H${x(stopBy_s)}ZL1360 103M${x(stopBy_s)} 103L1360 88`}
        fill="none"
        stroke="var(--line)"
      />
      <text x={(x(0) + x(notBefore_s)) / 2} y="122" fontSize="14" textAnchor="middle">
        stop in here and it is too early: water parts from the plaster and leaves trails
      </text>
      {stopBy_s > notBefore_s && (
        <text
          x={(x(notBefore_s) + x(stopBy_s)) / 2}
          y="122"
          fontSize="14"
          fontWeight="650"
          textAnchor="middle"
        >
          stop here
        </text>
      )}
      <text x={(x(stopBy_s) + 1360) / 2 + 20} y="122" fontSize="14" textAnchor="middle">
        too late: it stiffens round the wax
      </text>
      <path d="M8 138H1360" stroke="var(--ink)" strokeWidth="1.4" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M${at(tick)} 138v11`} stroke="var(--ink)" />
          <text x={at(tick)} y="168" fontSize="13.5" textAnchor={tick === axis.to ? 'end' : 'middle'}>
            {tickText(tick, axis.step)}
            {tick === axis.to ? ' min' : ''}
          </text>
        </g>
      ))}
      {axis.short.map((tick) => (
        <path key={tick} d={`M${at(tick)} 138v5`} stroke="var(--line)" />
      ))}
    </svg>
  )
}

/** The same, with time running down, for a narrow page. */
export const WorkingTimeNarrow = ({ time }: { time: WorkingTime }) => {
  const steps = time.steps.filter((step) => step.id !== 'still')
  const axis = axisFor(0, (Math.max(time.glossOff.high, time.allStill.value) / 60) * 1.1, 11)
  const at = placing(axis, 8, 440)
  const y = (seconds: number): number => at(seconds / 60)
  const { notBefore_s, stopBy_s } = time
  const still = y(time.allStill.value)
  return (
    <svg viewBox="0 0 358 452" width="100%" role="img" aria-label={said(time)}>
      <Hatch id="early-down" />
      <path d="M42 8V440" stroke="var(--ink)" strokeWidth="1.4" />
      {axis.long.map((tick) => (
        <g key={tick}>
          <path d={`M42 ${at(tick)}h-9`} stroke="var(--ink)" />
          <text x="28" y={at(tick) + 5} fontSize="13.5" textAnchor="end">
            {tickText(tick, axis.step)}
          </text>
        </g>
      ))}
      {steps.map((step, index) => (
        <g key={step.id}>
          <rect
            x="48"
            y={y(step.from_s)}
            width="44"
            height={Math.max(1, y(step.to_s) - y(step.from_s) - 2)}
            fill={index % 2 === 0 ? 'var(--metal-t)' : 'var(--metal-s)'}
            stroke="var(--metal)"
          />
          <text x="100" y={(y(step.from_s) + y(step.to_s)) / 2 + 5} fontSize="14">
            {step.name.toLowerCase()}, {writeDuration(step.to_s - step.from_s)}
          </text>
        </g>
      ))}
      <rect
        x="238"
        y={y(0)}
        width="14"
        height={y(Math.min(notBefore_s, stopBy_s)) - y(0)}
        fill="url(#early-down)"
        stroke="var(--line)"
      />
      {stopBy_s > notBefore_s && (
        <rect x="238" y={y(notBefore_s)} width="14" height={y(stopBy_s) - y(notBefore_s)} fill="var(--ink)" />
      )}
      <path
        d={`M238 ${y(stopBy_s)}H252V440H238ZL252 440M252 ${y(stopBy_s)}L238 440`}
        fill="none"
        stroke="var(--line)"
      />
      <text x="260" y={y(notBefore_s / 2)} fontSize="14">
        too early:
      </text>
      <text x="260" y={y(notBefore_s / 2) + 18} fontSize="14">
        water trails
      </text>
      <text x="260" y={(y(notBefore_s) + y(stopBy_s)) / 2 + 5} fontSize="14" fontWeight="650">
        stop here
      </text>
      <text x="260" y={(y(stopBy_s) + 440) / 2 + 5} fontSize="14">
        too late: stiff
      </text>
      <path d={`M44 ${still}H252`} stroke="var(--pencil)" strokeWidth="2.5" />
      <text x="100" y={still + 17} fontSize="14" fontWeight="620" className="pencil">
        all still, {writeDuration(time.allStill.value)}
      </text>
      <path
        d={`M70 ${y(time.glossOff.low)}V${y(time.glossOff.high)}M64 ${y(time.glossOff.low)}h12M64 ${y(time.glossOff.high)}h12`}
        stroke="var(--ink)"
        strokeWidth="1.6"
      />
      <circle cx="70" cy={y(time.glossOff.value)} r="4.5" fill="var(--ink)" />
      <text x="100" y={Math.max(y(time.glossOff.value) + 5, still + 36)} fontSize="14">
        gloss, {writeDuration(time.glossOff.value)}
      </text>
    </svg>
  )
}
