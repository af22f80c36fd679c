/** Where a whole goes, as one ruled bar; what is small is named in the list beneath. */
export interface Share {
  readonly name: string
  readonly value: number
  readonly text: string
  readonly tone: 'metal' | 'light' | 'plain' | 'stone' | 'hatched'
}

const FILL = {
  metal: 'var(--metal-s)',
  light: 'var(--metal-t)',
  plain: 'var(--sheet)',
  stone: 'var(--stone)',
  hatched: 'url(#share-hatch)',
} as const

export const ShareBar = ({
  shares,
  label,
  narrow,
}: {
  shares: readonly Share[]
  label: string
  narrow: boolean
}) => {
  const kept = shares.filter((share) => share.value > 0)
  const total = kept.reduce((sum, share) => sum + share.value, 0)
  if (total <= 0) return null
  if (narrow)
    return (
      <ul className="share-list" aria-label={label}>
        {kept.map((share) => (
          <li key={share.name}>
            <span>{share.name}</span>
            <svg viewBox="0 0 100 16" width="100%" height="16" preserveAspectRatio="none" aria-hidden="true">
              <rect
                x="0.5"
                y="1"
                width={Math.max(0.6, (share.value / total) * 99)}
                height="14"
                fill={share.tone === 'hatched' ? 'var(--sheet)' : FILL[share.tone]}
                stroke="var(--metal)"
                vectorEffect="non-scaling-stroke"
              />
            </svg>
            <b>{share.text}</b>
          </li>
        ))}
      </ul>
    )
  let from = 2
  return (
    <svg
      viewBox="0 0 900 82"
      width="100%"
      role="img"
      aria-label={`${label}: ${kept.map((s) => `${s.name} ${s.text}`).join(', ')}`}
    >
      <defs>
        <pattern
          id="share-hatch"
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V7" stroke="var(--metal)" strokeWidth="1.4" />
        </pattern>
      </defs>
      {kept.map((share) => {
        const x = from
        const wide = (share.value / total) * 892
        from += wide
        return (
          <g key={share.name}>
            <rect
              x={x}
              y="2"
              width={Math.max(1, wide - 2)}
              height="34"
              fill={FILL[share.tone]}
              stroke="var(--metal)"
            />
            {wide > Math.max(share.name.length, share.text.length) * 8 + 8 && (
              <>
                <text x={x + wide / 2 - 1} y="55" fontSize="14.5" textAnchor="middle">
                  {share.name}
                </text>
                <text x={x + wide / 2 - 1} y="74" fontSize="14.5" fontWeight="620" textAnchor="middle">
                  {share.text}
                </text>
              </>
            )}
          </g>
        )
      })}
    </svg>
  )
}
