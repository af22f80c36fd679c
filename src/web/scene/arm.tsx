import type { Balance } from '../../engine/spin/balance.ts'

/** The arm from above, to scale: counterweight, pivot, crucible and flask, in the unit shown. */
export const Arm = ({
  balance,
  flaskLength,
  flaskAcross,
  write,
  masses,
  narrow,
}: {
  balance: Balance
  /** mm */
  flaskLength: number
  flaskAcross: number
  write: (length_mm: number) => string
  narrow: boolean
  masses: { readonly weight: string; readonly flask: string; readonly metal: string }
}) => {
  const weightAt = balance.counterweightAt.value * 1000
  const flaskAt = balance.flaskAt.value * 1000
  const metalAt = balance.metalInCrucibleAt.value * 1000
  const right = flaskAt + flaskLength / 2
  const left = -Math.max(weightAt, balance.reach.most.value * 1000) - 24
  const span = right - left + 20
  const half = Math.max(flaskAcross / 2, 34)
  const font = span / (narrow ? 25 : 46)
  return (
    <svg
      viewBox={`${left - 6} ${-half - font * 3.4} ${span} ${2 * half + font * 8.4}`}
      width="100%"
      role="img"
      aria-label={`The arm from above: counterweight ${write(weightAt)} from the pivot, the flask's middle ${write(flaskAt)} from it`}
    >
      <rect
        x={left}
        y="-6"
        width={flaskAt - flaskLength / 2 - left}
        height="12"
        fill="var(--metal-t)"
        stroke="var(--metal)"
      />
      <rect
        x={-weightAt - 20}
        y="-24"
        width="40"
        height="48"
        fill="var(--base)"
        stroke="var(--ink)"
        strokeWidth="1.2"
      />
      <text x={-weightAt} y={-30} fontSize={font} textAnchor="middle">
        weight {masses.weight}
      </text>
      <circle r="11" fill="var(--sheet)" stroke="var(--ink)" strokeWidth="1.4" />
      <path
        d={`M0 ${-half - 4}V${half + 6}M-16 0H16`}
        stroke="var(--ink)"
        strokeWidth=".7"
        strokeDasharray="8 2 2 2"
      />
      {!narrow && (
        <text x="0" y={-half - 8} fontSize={font} textAnchor="middle">
          pivot
        </text>
      )}
      <path
        d={`M${metalAt - 26} -19H${metalAt + 10}L${flaskAt - flaskLength / 2 - 1} -6V6L${metalAt + 10} 19H${metalAt - 26}Z`}
        fill="var(--sheet)"
        stroke="var(--ink)"
        strokeWidth="1.2"
      />
      <text
        x={flaskAt - flaskLength / 2 - 8}
        y={narrow ? half * 0.9 : -27}
        fontSize={font}
        textAnchor="end"
        className="heat"
      >
        metal {masses.metal}
      </text>
      <rect
        x={flaskAt - flaskLength / 2}
        y={-flaskAcross / 2}
        width={flaskLength}
        height={flaskAcross}
        fill="var(--inv)"
        stroke="var(--ink)"
        strokeWidth="1.6"
      />
      <path
        d={`M${flaskAt - flaskLength / 2} ${-flaskAcross * 0.22}L${flaskAt - flaskLength * 0.3} -3H${flaskAt + flaskLength * 0.28}V3H${flaskAt - flaskLength * 0.3}L${flaskAt - flaskLength / 2} ${flaskAcross * 0.22}Z`}
        fill="var(--heat-t)"
        stroke="var(--heat)"
        strokeWidth="1.2"
      />
      <text x={right} y={-half - 8} fontSize={font} textAnchor="end">
        {narrow ? 'flask' : 'flask, burned out,'} {masses.flask}
      </text>
      {(
        [
          [-weightAt, 0],
          [0, flaskAt],
        ] as const
      ).map(([from, to]) => (
        <g key={from}>
          <path
            d={`M${from} ${half + 4}v14M${to} ${half + 4}v14M${from} ${half + 14}H${to}`}
            stroke="var(--ink)"
            strokeWidth=".7"
          />
          <path d={`M${from} ${half + 14}l5 -1.6v3.2zM${to} ${half + 14}l-5 -1.6v3.2z`} fill="var(--ink)" />
          <text
            x={(from + to) / 2}
            y={half + 14 + font * 1.5}
            fontSize={font}
            fontWeight="620"
            textAnchor="middle"
          >
            {write(Math.abs(to - from))}
          </text>
        </g>
      ))}
    </svg>
  )
}
