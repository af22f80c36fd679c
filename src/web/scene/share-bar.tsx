import { placeLabels } from './share-labels.ts'

/** Where a whole goes, as one ruled bar; every slice is named, the thin ones at the end of a leader. */
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
  const slices = kept.map((share) => {
    const wide = (share.value / total) * 892
    const slice = { from, wide, long: Math.max(share.name.length, share.text.length) * 8 + 8 }
    from += wide
    return slice
  })
  const places = placeLabels(
    kept.map((share, index) => {
      const { from = 0, wide = 0, long = 0 } = slices[index] ?? {}
      return { from, wide, words: wide > long ? long : (share.name.length + share.text.length + 1) * 8 + 8 }
    }),
    894,
  )
  const rows = Math.max(0, ...places.map((place) => (place.kind === 'leader' ? place.row + 1 : 0)))
  const lowest = places.some((place) => place.kind === 'under') ? 82 : 42
  return (
    <svg
      viewBox={`0 0 900 ${lowest + rows * 20}`}
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
      {kept.map((share, index) => {
        const { from: x = 0, wide = 0 } = slices[index] ?? {}
        return (
          <rect
            key={share.name}
            x={x}
            y="2"
            width={Math.max(1, wide - 2)}
            height="34"
            fill={FILL[share.tone]}
            stroke="var(--metal)"
          />
        )
      })}
      {kept.map((share, index) => {
        const place = places[index]
        if (place === undefined) return null
        if (place.kind === 'under')
          return (
            <g key={share.name} textAnchor="middle" fontSize="14.5">
              <text x={place.x - 1} y="55">
                {share.name}
              </text>
              <text x={place.x - 1} y="74" fontWeight="620">
                {share.text}
              </text>
            </g>
          )
        const y = lowest + place.row * 20 + 12
        return (
          <g key={share.name} fontSize="14.5">
            <path
              d={`M${place.x - 1} 37V${y - 5}h${place.anchor === 'start' ? 5 : -5}`}
              fill="none"
              stroke="var(--ink2)"
            />
            <text x={place.x + (place.anchor === 'start' ? 8 : -10)} y={y} textAnchor={place.anchor}>
              {share.name} <tspan fontWeight="620">{share.text}</tspan>
            </text>
          </g>
        )
      })}
    </svg>
  )
}
