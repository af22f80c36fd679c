import { useMemo } from 'react'
import { type BenchTree, letterSpot, type StandingWax, shownOf } from '../../engine/arrange/index.ts'

type Looking = 'above' | 'side'
type Flat = readonly [right: number, up: number]

const pathOf = (rounds: readonly (readonly Flat[])[], isClosed: boolean): string =>
  rounds.map((round) => `M${round.map(([x, y]) => `${x} ${-y}`).join('L')}${isClosed ? 'Z' : ''}`).join('')

const Wax = ({ wax, looking }: { wax: StandingWax; looking: Looking }) => {
  const { outline, inner } = wax[looking]
  return (
    <g strokeLinejoin="round" strokeLinecap="round" stroke="var(--wax)">
      <path d={pathOf(outline, true)} fill="var(--wax-t)" strokeWidth=".5" />
      {inner.length > 0 && <path d={pathOf(inner, false)} fill="none" strokeWidth=".25" />}
    </g>
  )
}

const Bar = ({ from, to, across }: { from: Flat; to: Flat; across: number }) => {
  const line = `M${from[0]} ${-from[1]}L${to[0]} ${-to[1]}`
  return (
    <>
      <path d={line} stroke="var(--wax)" strokeWidth={across + 0.5} />
      <path d={line} stroke="var(--wax-t)" strokeWidth={Math.max(0.2, across - 0.5)} />
    </>
  )
}

/** Letters are put on this many waxes; where there are more, on the nearest of each kind. */
const MOST_LETTERED = 8

const LETTER = 4.8

const lettersOf = (waxes: readonly StandingWax[], looking: Looking): readonly (readonly [string, Flat])[] => {
  const shown = shownOf(waxes.map((wax) => ({ seen: wax[looking], near: wax.near[looking] })))
  const nearest = new Map<string, number>()
  waxes.forEach((wax, k) => {
    const held = waxes[nearest.get(wax.piece) ?? -1]
    if (held === undefined || wax.near[looking] > held.near[looking]) nearest.set(wax.piece, k)
  })
  return waxes.flatMap(({ piece, tag }, k): (readonly [string, Flat])[] => {
    const isAlone = waxes.length > MOST_LETTERED
    if (isAlone && nearest.get(piece) !== k) return []
    const text = isAlone ? (tag.split(' ')[0] ?? '') : tag
    const spot = letterSpot(shown[k] ?? new Set(), text.length * LETTER * 0.6, LETTER)
    return spot === undefined ? [] : [[text, spot]]
  })
}

/** Waxes, sprues and main sprue where they were found, what is nearer over what is farther; in the flask's mm. */
export const FoundTree = ({ tree, looking }: { tree: BenchTree; looking: Looking }) => {
  const { base, stem, sprues, waxes } = tree
  const flat = ([x, y, z]: readonly [number, number, number]): Flat => [x, looking === 'above' ? y : z]
  const nearness = ([, y, z]: readonly [number, number, number]): number => (looking === 'above' ? z : -y)
  const radius = (stem?.diameter ?? 0) / 2
  const letters = useMemo(() => lettersOf(waxes, looking), [waxes, looking])
  const parts = [
    ...waxes.map((wax) => ({
      near: wax.near[looking],
      key: `${wax.piece}/${wax.copy}`,
      drawn: <Wax wax={wax} looking={looking} />,
    })),
    ...sprues.map(({ number, from_mm, to_mm, diameter, stemEnd }) => ({
      near: (nearness(from_mm) + nearness(to_mm)) / 2,
      key: `sprue/${number}`,
      drawn: <Bar from={flat(from_mm)} to={flat(to_mm)} across={(diameter + stemEnd) / 2} />,
    })),
    ...(stem === null
      ? []
      : [
          {
            near: looking === 'above' ? stem.end : 0,
            key: 'stem',
            drawn: (
              <g fill="var(--wax-t)" stroke="var(--wax)" strokeWidth=".5">
                {looking === 'above' ? (
                  <circle r={radius} />
                ) : (
                  <path
                    d={`M${-radius} ${-base.depth_mm}V${radius - stem.end}A${radius} ${radius} 0 0 1 ${radius} ${radius - stem.end}V${-base.depth_mm}Z`}
                  />
                )}
              </g>
            ),
          },
        ]),
  ].toSorted((a, b) => a.near - b.near)
  return (
    <>
      {parts.map(({ key, drawn }) => (
        <g key={key}>{drawn}</g>
      ))}
      {letters.map(([tag, [x, y]]) => (
        <text
          key={tag}
          x={x}
          y={-y + 1.7}
          fontSize={LETTER}
          fontWeight="600"
          textAnchor="middle"
          className="dimension"
        >
          {tag}
        </text>
      ))}
    </>
  )
}
