import svgpath from 'svgpath'
import type { Pen } from './flatten.ts'
import { drawingProblems, type Said } from './problems.ts'
import { type Box, lengthIn, readLength, readNumbers } from './svg-lengths.ts'
import { type Element, whereOf } from './svg-tree.ts'

export const SHAPES = ['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'] as const

/** Draws one basic shape or path with the pen; `viewport` is what per cent is of. */
export const drawShape = (element: Element, pen: Pen, viewport: Box, said: Said): void => {
  const { attributes, name } = element
  const where = whereOf(element)
  const diagonal = Math.hypot(viewport.width, viewport.height) / Math.SQRT2
  const read = (key: string, whole: number): number | undefined => {
    const text = attributes.get(key)
    if (text === undefined || text.trim() === 'auto') return undefined
    const length = readLength(text)
    if (length !== undefined) return lengthIn(length, whole)
    said.say(drawingProblems.badNumber(key, text, where))
    return Number.NaN
  }
  const across = (key: string): number => read(key, viewport.width) ?? 0
  const down = (key: string): number => read(key, viewport.height) ?? 0
  switch (name) {
    case 'path':
      drawPath(attributes.get('d') ?? '', pen, where, said)
      return
    case 'rect': {
      const [x, y, width, height] = [across('x'), down('y'), across('width'), down('height')]
      if (!(width > 0 && height > 0)) return
      const rx = read('rx', viewport.width)
      const ry = read('ry', viewport.height)
      drawRectangle(
        pen,
        { x, y, width, height },
        Math.min(width / 2, Math.max(0, rx ?? ry ?? 0)),
        Math.min(height / 2, Math.max(0, ry ?? rx ?? 0)),
      )
      return
    }
    case 'circle': {
      const r = read('r', diagonal) ?? 0
      if (r > 0) pen.ellipse([across('cx'), down('cy')], [r, 0], [0, r])
      return
    }
    case 'ellipse': {
      const rx = read('rx', viewport.width)
      const ry = read('ry', viewport.height)
      const [a, b] = [rx ?? ry ?? 0, ry ?? rx ?? 0]
      if (a > 0 && b > 0) pen.ellipse([across('cx'), down('cy')], [a, 0], [0, b])
      return
    }
    case 'line':
      pen.move(across('x1'), down('y1'))
      pen.line(across('x2'), down('y2'))
      pen.lift(false)
      return
    default:
      drawPoints(element, pen, said)
  }
}

const drawPoints = (element: Element, pen: Pen, said: Said): void => {
  const text = element.attributes.get('points') ?? ''
  const numbers = readNumbers(text)
  if (numbers.length % 2 !== 0) said.say(drawingProblems.badPath('a point lacks its y', whereOf(element)))
  for (let i = 0; i + 1 < numbers.length; i += 2) {
    if (i === 0) pen.move(numbers[i] as number, numbers[i + 1] as number)
    else pen.line(numbers[i] as number, numbers[i + 1] as number)
  }
  pen.lift(element.name === 'polygon')
}

const drawRectangle = (pen: Pen, { x, y, width, height }: Box, rx: number, ry: number): void => {
  const [right, bottom] = [x + width, y + height]
  if (!(rx > 0 && ry > 0)) {
    pen.move(x, y)
    pen.line(right, y)
    pen.line(right, bottom)
    pen.line(x, bottom)
    pen.lift(true)
    return
  }
  const quarter = Math.PI / 2
  pen.move(x + rx, y)
  pen.line(right - rx, y)
  pen.arc([right - rx, y + ry], [rx, 0], [0, ry], -quarter, quarter, [right, y + ry])
  pen.line(right, bottom - ry)
  pen.arc([right - rx, bottom - ry], [rx, 0], [0, ry], 0, quarter, [right - rx, bottom])
  pen.line(x + rx, bottom)
  pen.arc([x + rx, bottom - ry], [rx, 0], [0, ry], quarter, quarter, [x, bottom - ry])
  pen.line(x, y + ry)
  pen.arc([x + rx, y + ry], [rx, 0], [0, ry], 2 * quarter, quarter, [x + rx, y])
  pen.lift(true)
}

const drawPath = (d: string, pen: Pen, where: string, said: Said): void => {
  if (d.trim() === '' || d.trim() === 'none') return
  const path = svgpath(d)
  // A path is drawn up to its fault, as the standard asks.
  const { err } = path as unknown as { readonly err: string }
  if (err) said.say(drawingProblems.badPath(err.replace(/^SvgPath: /, ''), where))
  let isDown = false
  path
    .abs()
    .unshort()
    .iterate((segment, _, x, y) => {
      const [command] = segment
      const n = segment.slice(1) as number[]
      const [a = 0, b = 0] = n
      if (command === 'M') {
        pen.lift(false)
        isDown = false
        return
      }
      if (command === 'Z' || command === 'z') {
        pen.lift(true)
        isDown = false
        return
      }
      if (!isDown) {
        pen.move(x, y)
        isDown = true
      }
      if (command === 'L') pen.line(a, b)
      else if (command === 'H') pen.line(a, y)
      else if (command === 'V') pen.line(x, a)
      else if (command === 'C' || command === 'Q') pen.bezier(x, y, ...n)
      else if (command === 'A') drawArc(pen, x, y, n)
      else said.say(drawingProblems.badPath(`"${command}" is no path command`, where))
    })
  // A path that comes back to its start without being closed still ends open here; its ends meet when joined.
  pen.lift(false)
}

/** From end points to centre: SVG 1.1, appendix F.6. */
const drawArc = (pen: Pen, x1: number, y1: number, numbers: readonly number[]): void => {
  const [rx0 = 0, ry0 = 0, turned = 0, large = 0, sweeps = 0, x2 = 0, y2 = 0] = numbers
  if (x1 === x2 && y1 === y2) return
  let [rx, ry] = [Math.abs(rx0), Math.abs(ry0)]
  if (rx === 0 || ry === 0) {
    pen.line(x2, y2)
    return
  }
  const phi = (turned * Math.PI) / 180
  const [c, s] = [Math.cos(phi), Math.sin(phi)]
  const [hx, hy] = [(x1 - x2) / 2, (y1 - y2) / 2]
  const [px, py] = [c * hx + s * hy, -s * hx + c * hy]
  const reach = (px / rx) ** 2 + (py / ry) ** 2
  if (reach > 1) {
    rx *= Math.sqrt(reach)
    ry *= Math.sqrt(reach)
  }
  const below = (rx * py) ** 2 + (ry * px) ** 2
  const root = Math.sqrt(Math.max(0, ((rx * ry) ** 2 - below) / below)) * (large === sweeps ? -1 : 1)
  const [qx, qy] = [(root * rx * py) / ry, (-root * ry * px) / rx]
  const centre = [c * qx - s * qy + (x1 + x2) / 2, s * qx + c * qy + (y1 + y2) / 2] as const
  const start = Math.atan2((py - qy) / ry, (px - qx) / rx)
  const end = Math.atan2((-py - qy) / ry, (-px - qx) / rx)
  let sweep = end - start
  if (sweeps && sweep < 0) sweep += 2 * Math.PI
  if (!sweeps && sweep > 0) sweep -= 2 * Math.PI
  pen.arc(centre, [rx * c, rx * s], [-ry * s, ry * c], start, sweep, [x2, y2])
}
