import type { ReactNode } from 'react'
import type { BenchTree, StandingWax } from '../../engine/arrange/index.ts'
import { ModelFigure } from './model-figure.tsx'
import type { ModelForm } from './model-form.ts'
import { placedFrame } from './model-frames.ts'
import { directionsOf, nearness, type Place, pathOf, project, type Spot, type View } from './view.ts'

const TONES = { top: 'var(--wax-t)', light: 'var(--wax-s)', dark: 'var(--wax-d)' } as const

/** How bodies are drawn on the plate, mm and pixels to the mm. */
export interface BodyLines {
  readonly outline: number
  readonly hidden: number
  readonly dash: string
  readonly scale: number
}

/** Something on the plate: how near the reader it is, and its drawing; waxes with their letter and where it points. */
export interface PlateBody {
  readonly key: string
  readonly near: number
  readonly drawn: ReactNode
  /** as it shows through what is nearer */
  readonly hidden?: ReactNode
  readonly call?: { readonly letter: string; readonly at: Spot }
}

const put = (m: readonly number[], [x, y, z]: Place): Place => {
  const part = (k: number): number =>
    (m[k] ?? 0) * x + (m[3 + k] ?? 0) * y + (m[6 + k] ?? 0) * z + (m[9 + k] ?? 0)
  return [part(0), part(1), part(2)]
}

const middleOf = ({ ownBox: { low, high } }: StandingWax): Place => [
  (low[0] + high[0]) / 2,
  (low[1] + high[1]) / 2,
  (low[2] + high[2]) / 2,
]

const SIDES = [
  [0, 0],
  [0, 1],
  [1, 0],
  [1, 1],
  [2, 0],
  [2, 1],
] as const

/** The sides of a wax's own box that look at the reader, for a wax without a model. */
const sidesOf = (
  { ownBox, motion }: StandingWax,
  view: View,
): { path: string; tone: keyof typeof TONES }[] => {
  const corner = (ends: readonly number[]): Place =>
    put(
      motion,
      [0, 1, 2].map((k) => (ends[k] === 0 ? ownBox.low[k] : ownBox.high[k]) ?? 0) as unknown as Place,
    )
  const { toward, right } = directionsOf(view)
  return SIDES.flatMap(([axis, end]) => {
    const sign = end === 0 ? -1 : 1
    const out = [0, 1, 2].map((k) => sign * (motion[axis * 3 + k] ?? 0)) as unknown as Place
    const dot = (way: Place): number => out.reduce((sum, value, k) => sum + value * (way[k] ?? 0), 0)
    if (dot(toward) <= 1e-6) return []
    const spots = (
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ] as const
    ).map(([one, other]) => {
      const ends = [0, 0, 0]
      ends[axis] = end
      ends[(axis + 1) % 3] = one
      ends[(axis + 2) % 3] = other
      return project(corner(ends), view)
    })
    const tone = out[2] > 0.7 ? 'top' : dot(right) > 0 ? 'dark' : 'light'
    return [{ path: pathOf(spots), tone }]
  })
}

const Wax = ({
  wax,
  form,
  view,
  lines,
  hidden = false,
}: {
  wax: StandingWax
  form: ModelForm | undefined
  view: View
  lines: BodyLines
  hidden?: boolean
}) => {
  if (form === undefined)
    return sidesOf(wax, view).map(({ path, tone }) => (
      <path
        key={path}
        d={path}
        fill={hidden ? 'none' : TONES[tone]}
        stroke="var(--wax)"
        strokeWidth={hidden ? lines.hidden : lines.outline}
        strokeDasharray={hidden ? lines.dash : undefined}
        strokeLinejoin="round"
      />
    ))
  const [x, y] = project(put(wax.motion, middleOf(wax)), view)
  const { low, high } = wax.ownBox
  // a drawing is carved larger than it is by the shrink
  const over = (high[0] - low[0]) / Math.max(form.size[0], 1e-6)
  return (
    <g transform={`translate(${x} ${y}) scale(${over})`}>
      <ModelFigure
        form={form}
        frame={placedFrame(form, wax.motion, directionsOf(view))}
        scale={lines.scale}
        line={hidden ? lines.hidden : lines.outline}
        {...(hidden && { dash: lines.dash })}
      />
    </g>
  )
}

/** Waxes and sprues where they were placed, the farthest first. */
export const foundBodies = (
  { waxes, sprues }: BenchTree,
  forms: ReadonlyMap<string, ModelForm>,
  view: View,
  lines: BodyLines,
): PlateBody[] =>
  [
    ...waxes.map((wax): PlateBody => {
      const half = put(wax.motion, middleOf(wax))
      const drawing = { wax, form: forms.get(wax.piece), view, lines }
      return {
        key: `${wax.piece}/${wax.copy}`,
        near: nearness(half, view),
        drawn: <Wax {...drawing} />,
        hidden: <Wax {...drawing} hidden />,
        call: { letter: wax.tag.split(' ')[0] ?? '', at: project(half, view) },
      }
    }),
    ...sprues.map(({ number, from_mm, to_mm, diameter, stemEnd }): PlateBody => {
      const [from, to] = [project(from_mm, view), project(to_mm, view)]
      const line = `M${from[0]} ${from[1]}L${to[0]} ${to[1]}`
      const across = (diameter + stemEnd) / 2
      return {
        key: `sprue/${number}`,
        near: (nearness(from_mm, view) + nearness(to_mm, view)) / 2,
        drawn: (
          <>
            <path d={line} stroke="var(--wax)" strokeWidth={across + lines.outline} />
            <path d={line} stroke="var(--wax-t)" strokeWidth={Math.max(0.2, across - lines.outline)} />
          </>
        ),
      }
    }),
  ].toSorted((a, b) => a.near - b.near)
