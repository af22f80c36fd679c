export type SignLevel = 'note' | 'check' | 'stop' | 'caution' | 'warning' | 'danger' | 'pass'

export const SIGN_WORD: Readonly<Record<SignLevel, string>> = {
  note: 'Note',
  check: 'Check',
  stop: 'Stop',
  caution: 'Caution',
  warning: 'Warning',
  danger: 'Danger',
  pass: 'Passed',
}

const DIAMOND = 'M12 2.5L21.5 12 12 21.5 2.5 12Z'
const TRIANGLE = 'M12 2.5L22.5 21H1.5Z'

const Shape = ({ level }: { level: SignLevel }) => {
  switch (level) {
    case 'pass':
      return <path d="M3.5 13L9.5 19 20.5 5.5" fill="none" stroke="var(--ink)" strokeWidth="3.2" />
    case 'note':
      return <path d={DIAMOND} fill="none" stroke="var(--ink)" strokeWidth="1.8" />
    case 'check':
      return (
        <>
          <path d={DIAMOND} fill="none" stroke="var(--ink)" strokeWidth="1.8" />
          <path d="M12 2.5V21.5L2.5 12Z" fill="var(--ink)" />
        </>
      )
    case 'stop':
      return (
        <>
          <path d="M12 1.5L22.5 12 12 22.5 1.5 12Z" fill="var(--alert)" />
          <path d="M7 12h10" stroke="var(--on-alert)" strokeWidth="3" />
        </>
      )
    case 'caution':
      return (
        <>
          <path d={TRIANGLE} fill="none" stroke="var(--ink)" strokeWidth="1.8" strokeLinejoin="round" />
          <path d="M12 9v6" stroke="var(--ink)" strokeWidth="2" />
          <circle cx="12" cy="17.8" r="1.3" fill="var(--ink)" />
        </>
      )
    case 'warning':
      return (
        <>
          <path
            d={TRIANGLE}
            fill="var(--yellow)"
            stroke="var(--ink)"
            strokeWidth="1.8"
            strokeLinejoin="round"
          />
          <path d="M12 9v6" stroke="#161E1D" strokeWidth="2.2" />
          <circle cx="12" cy="17.8" r="1.4" fill="#161E1D" />
        </>
      )
    case 'danger':
      return (
        <>
          <path d="M12 1.5L23.5 22H.5Z" fill="var(--alert)" />
          <path d="M12 8.5v7" stroke="var(--on-alert)" strokeWidth="2.6" />
          <circle cx="12" cy="18.5" r="1.6" fill="var(--on-alert)" />
        </>
      )
  }
}

/** Shape says who is at risk, fill says how badly. `label` names it where no word stands beside it. */
export const Sign = ({
  level,
  size = 24,
  label,
  className,
}: {
  level: SignLevel
  size?: number
  label?: string
  className?: string
}) => (
  <svg
    width={size}
    height={size}
    viewBox="0 0 24 24"
    className={className}
    role={label === undefined ? undefined : 'img'}
    aria-label={label}
    aria-hidden={label === undefined}
  >
    <Shape level={level} />
  </svg>
)
