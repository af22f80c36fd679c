import { type Affine, chain, shift, stretch, turn, unmoved } from './affine.ts'

/** CSS: 96 px to the inch of 25.4 mm, whatever the screen. */
export const PX_MM = 25.4 / 96
const IN_PX: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  in: 96,
  mm: 96 / 25.4,
  cm: 960 / 25.4,
  q: 96 / 101.6,
  pt: 96 / 72,
  pc: 16,
  em: 16,
  ex: 8,
}

const NUMBER = '[-+]?(?:\\d+\\.?\\d*|\\.\\d+)(?:e[-+]?\\d+)?'
const LENGTH = new RegExp(`^\\s*(${NUMBER})\\s*([a-z]+|%)?\\s*$`, 'i')

export interface Length {
  readonly number: number
  /** lower case, '' where none is written */
  readonly unit: string
}

export const readLength = (text: string | undefined): Length | undefined => {
  const found = text === undefined ? null : LENGTH.exec(text)
  if (found === null) return undefined
  const unit = (found[2] ?? '').toLowerCase()
  return unit === '%' || unit in IN_PX ? { number: Number(found[1]), unit } : undefined
}

/** In user units (px); a share of `whole` where it is written in per cent. */
export const lengthIn = ({ number, unit }: Length, whole: number): number =>
  unit === '%' ? (number / 100) * whole : number * (IN_PX[unit] ?? Number.NaN)

export const readNumbers = (text: string | undefined): number[] =>
  (text?.match(new RegExp(NUMBER, 'gi')) ?? []).map(Number)

export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export const readViewBox = (text: string | undefined): Box | undefined => {
  const [x, y, width, height, ...more] = readNumbers(text)
  if (x === undefined || y === undefined || width === undefined || height === undefined) return undefined
  return more.length === 0 && width > 0 && height > 0 ? { x, y, width, height } : undefined
}

/** How a viewBox is laid into its viewport (SVG 1.1, 7.7 and 7.8). */
export const fitViewBox = (box: Box, viewport: Box, keep: string | undefined): Affine => {
  const [align = 'xMidYMid', mode = 'meet'] = (keep ?? '')
    .trim()
    .replace(/^defer\s+/, '')
    .split(/\s+/)
    .filter(Boolean)
  let sx = viewport.width / box.width
  let sy = viewport.height / box.height
  if (align !== 'none') {
    const both = mode === 'slice' ? Math.max(sx, sy) : Math.min(sx, sy)
    sx = both
    sy = both
  }
  const part = (which: string | undefined): number => (which === 'Min' ? 0 : which === 'Max' ? 1 : 0.5)
  const [, ax, ay] = /^x(Min|Mid|Max)Y(Min|Mid|Max)$/.exec(align) ?? []
  const isStretched = align === 'none'
  const dx = isStretched ? 0 : (viewport.width - box.width * sx) * part(ax)
  const dy = isStretched ? 0 : (viewport.height - box.height * sy) * part(ay)
  return chain(shift(viewport.x + dx, viewport.y + dy), stretch(sx, sy), shift(-box.x, -box.y))
}

/** A list of transforms; undefined where any of it is not understood. */
export const readTransform = (text: string): Affine | undefined => {
  const left = text.replace(/([a-zA-Z]+)\s*\(([^)]*)\)[\s,]*/g, '').trim()
  if (left !== '' && left !== 'none') return undefined
  const all: Affine[] = []
  for (const [, name = '', inside = ''] of text.matchAll(/([a-zA-Z]+)\s*\(([^)]*)\)/g)) {
    const numbers = readNumbers(inside)
    if (inside.replace(new RegExp(NUMBER, 'gi'), '').replace(/[\s,]/g, '') !== '') return undefined
    const one = transformOf(name, numbers)
    if (one === undefined || !one.every(Number.isFinite)) return undefined
    all.push(one)
  }
  return all.length === 0 ? unmoved : chain(...all)
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180

const transformOf = (name: string, n: readonly number[]): Affine | undefined => {
  const [a, b, c, d, e, f] = n
  if (a === undefined) return undefined
  switch (name) {
    case 'matrix':
      return b !== undefined &&
        c !== undefined &&
        d !== undefined &&
        e !== undefined &&
        f !== undefined &&
        n.length === 6
        ? [a, b, c, d, e, f]
        : undefined
    case 'translate':
      return n.length <= 2 ? shift(a, b ?? 0) : undefined
    case 'scale':
      return n.length <= 2 ? stretch(a, b ?? a) : undefined
    case 'rotate':
      if (n.length === 1) return turn(radians(a))
      return b !== undefined && c !== undefined && n.length === 3
        ? chain(shift(b, c), turn(radians(a)), shift(-b, -c))
        : undefined
    case 'skewX':
      return n.length === 1 ? [1, 0, Math.tan(radians(a)), 1, 0, 0] : undefined
    case 'skewY':
      return n.length === 1 ? [1, Math.tan(radians(a)), 0, 1, 0, 0] : undefined
    default:
      return undefined
  }
}
