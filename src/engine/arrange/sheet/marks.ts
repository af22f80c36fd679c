import type { Flat, Silhouette } from './silhouette.ts'
import { widthOf } from './text-width.ts'

/** How a line is drawn: its width and dash, and whether it is wax. */
export type LineKind = 'wide' | 'narrow' | 'centre' | 'limit' | 'hidden' | 'wax' | 'wax-narrow' | 'none'
export type FillKind = 'none' | 'paper' | 'wax' | 'sprue' | 'base' | 'ink'

/** What stands on a page, mm from its upper left corner, down. */
export type Mark =
  | {
      readonly kind: 'path'
      readonly rounds: readonly (readonly Flat[])[]
      readonly closed: boolean
      readonly line: LineKind
      readonly fill: FillKind
    }
  | {
      readonly kind: 'circle'
      readonly at: Flat
      readonly radius: number
      readonly line: LineKind
      readonly fill: FillKind
    }
  | {
      readonly kind: 'text'
      /** on its line, at its beginning, middle or end */
      readonly at: Flat
      readonly text: string
      readonly size: number
      readonly align: 'start' | 'middle' | 'end'
      readonly bold: boolean
      /** reads upward, from the right */
      readonly upward: boolean
    }

export const TEXT = 3
const ARROW = 2.5

export const line = (from: Flat, to: Flat, kind: LineKind): Mark => ({
  kind: 'path',
  rounds: [[from, to]],
  closed: false,
  line: kind,
  fill: 'none',
})
export const shape = (rounds: readonly (readonly Flat[])[], kind: LineKind, fill: FillKind): Mark => ({
  kind: 'path',
  rounds,
  closed: true,
  line: kind,
  fill,
})
export const circle = (at: Flat, radius: number, kind: LineKind, fill: FillKind = 'none'): Mark => ({
  kind: 'circle',
  at,
  radius,
  line: kind,
  fill,
})
export const words = (
  at: Flat,
  text: string,
  {
    size = TEXT,
    align = 'start',
    bold = false,
    upward = false,
  }: Partial<Pick<Extract<Mark, { kind: 'text' }>, 'size' | 'align' | 'bold' | 'upward'>> = {},
): Mark => ({ kind: 'text', at, text, size, align, bold, upward })

const arrow = ([x, y]: Flat, [u, v]: Flat): Mark => {
  const half = ARROW * Math.tan((7.5 * Math.PI) / 180)
  const [a, b] = [x - ARROW * u, y - ARROW * v]
  return shape(
    [
      [
        [x, y],
        [a - half * v, b + half * u],
        [a + half * v, b - half * u],
      ],
    ],
    'none',
    'ink',
  )
}

/** Room for the value and both arrows; else they stand outside. */
const roomFor = (span: number, text: string): boolean => span >= widthOf(text, TEXT) + 2 * ARROW + 1

/** A dimension from left to right, drawn at the level `y`, with extension lines from the two points. */
export const across = (from: Flat, to: Flat, y: number, text: string): Mark[] => {
  const [left, right] = from[0] <= to[0] ? [from, to] : [to, from]
  const fits = roomFor(right[0] - left[0], text)
  const beyond = fits ? 0 : ARROW + 2
  const extension = ([x, start]: Flat): Mark =>
    line([x, start + Math.sign(y - start)], [x, y + 1.2 * Math.sign(y - start)], 'narrow')
  return [
    extension(left),
    extension(right),
    line([left[0] - beyond, y], [right[0] + beyond, y], 'narrow'),
    arrow([left[0], y], [fits ? -1 : 1, 0]),
    arrow([right[0], y], [fits ? 1 : -1, 0]),
    fits
      ? words([(left[0] + right[0]) / 2, y - 0.8], text, { align: 'middle' })
      : words([right[0] + beyond + 0.6, y + 1], text),
  ]
}

/** The same upward, drawn at `x`. @param ending  where the value stands that has no room between the arrows */
export const upright = (
  from: Flat,
  to: Flat,
  x: number,
  text: string,
  ending: 'above' | 'below' = 'above',
): Mark[] => {
  const [high, low] = from[1] <= to[1] ? [from, to] : [to, from]
  const fits = roomFor(low[1] - high[1], text)
  const beyond = fits ? 0 : ARROW + 2
  const extension = ([start, y]: Flat): Mark =>
    line([start + Math.sign(x - start), y], [x + 1.2 * Math.sign(x - start), y], 'narrow')
  const middle = (high[1] + low[1]) / 2
  return [
    extension(high),
    extension(low),
    line([x, high[1] - beyond], [x, low[1] + beyond], 'narrow'),
    arrow([x, high[1]], [0, fits ? -1 : 1]),
    arrow([x, low[1]], [0, fits ? 1 : -1]),
    fits
      ? words([x - 0.8, middle], text, { align: 'middle', upward: true })
      : ending === 'above'
        ? words([x - 0.8, high[1] - beyond - 0.6], text, { upward: true })
        : words([x + 1, low[1] + beyond + 0.6], text, { align: 'end', upward: true }),
  ]
}

/** A silhouette put on the page, as large as the scale has it, its own up upward. */
export const solid = ({ outline, inner }: Silhouette, origin: Flat, scale: number): Mark[] => {
  const put = ([x, y]: Flat): Flat => [origin[0] + scale * x, origin[1] - scale * y]
  return [
    shape(
      outline.map((round) => round.map(put)),
      'wax',
      'wax',
    ),
    ...(inner.length === 0
      ? []
      : [
          {
            kind: 'path',
            rounds: inner.map(([from, to]) => [put(from), put(to)]),
            closed: false,
            line: 'wax-narrow',
            fill: 'none',
          } as const,
        ]),
  ]
}

const FLARE = 4

/** A round bar seen from any side: its outline, wider or thinner at the far end, and a fillet where it begins. */
export const bar = (from: Flat, to: Flat, diameter: number, end = diameter, fillet = 0): Mark => {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1])
  const r = diameter / 2
  if (size < 0.05) return circle(from, Math.max(r, end / 2), 'wax', 'sprue')
  const way: Flat = [(to[0] - from[0]) / size, (to[1] - from[1]) / size]
  const at = (along: number, off: number): Flat => [
    from[0] + along * way[0] + off * way[1],
    from[1] + along * way[1] - off * way[0],
  ]
  const f = Math.min(fillet, size / 2)
  const flare = Array.from({ length: FLARE + 1 }, (_, k) => {
    const turn = (Math.PI / 2) * (k / FLARE)
    return [f * (1 - Math.cos(turn)), r + f * (1 - Math.sin(turn))] as const
  })
  return shape(
    [
      [
        ...flare.map(([along, off]) => at(along, off)),
        at(size, end / 2),
        at(size, -end / 2),
        ...[...flare].reverse().map(([along, off]) => at(along, -off)),
      ],
    ],
    'wax',
    'sprue',
  )
}

export const BALLOON = 2.5

/** A number in a ring. */
export const balloon = (at: Flat, number: number): Mark[] => [
  circle(at, BALLOON, 'narrow', 'paper'),
  words([at[0], at[1] + 1.05], String(number), { align: 'middle', bold: true }),
]

/** The box that a text takes up: left, top, right, foot. */
export const boxOf = (mark: Extract<Mark, { kind: 'text' }>): readonly [number, number, number, number] => {
  const { at, text, size, align, bold, upward } = mark
  const wide = widthOf(text, size, bold)
  const before = align === 'start' ? 0 : align === 'middle' ? wide / 2 : wide
  const [x, y] = at
  return upward
    ? [x - 0.75 * size, y - (wide - before), x + 0.22 * size, y + before]
    : [x - before, y - 0.75 * size, x + (wide - before), y + 0.22 * size]
}
