import type { Drawing, Mark, PatternProblem } from '../drawing.ts'
import { BESIDE } from '../lines-beside.ts'
import { type Affine, chain, movedX, movedY, shift, stretch, unmoved } from './affine.ts'
import { type Ink, Pen, TooMuchInk } from './flatten.ts'
import { idByPlace, tellApart } from './names.ts'
import { drawingProblems, Said } from './problems.ts'
import type { DrawingOptions } from './read-drawing.ts'
import {
  type Box,
  fitViewBox,
  lengthIn,
  PX_MM,
  readLength,
  readTransform,
  readViewBox,
} from './svg-lengths.ts'
import { drawShape, SHAPES } from './svg-shapes.ts'
import {
  colourOf,
  firstPaint,
  inherit,
  isHidden,
  ownStyle,
  type Paint,
  rulesOf,
  STYLED_GEOMETRY,
  STYLED_MOVES,
} from './svg-style.ts'
import { type Element, readTree, type SvgTree, whereOf } from './svg-tree.ts'

const VISITS_AT_MOST = 200_000
/** Where the screen's size would be asked for, and none is known. */
const NO_VIEWPORT: Box = { x: 0, y: 0, width: 300, height: 150 }

const HOLDERS = ['svg', 'g', 'a', 'switch']
const NEVER_DRAWN = [
  'defs',
  'symbol',
  'clipPath',
  'mask',
  'marker',
  'pattern',
  'linearGradient',
  'radialGradient',
  'filter',
  'style',
  'title',
  'desc',
  'metadata',
  'view',
  'cursor',
  'font',
  'color-profile',
]
const UNREAD: Readonly<Record<string, readonly [thing: string, remedy: string]>> = {
  text: ['lettering', 'turn it into paths in the drawing program'],
  image: ['a picture', 'trace it in the drawing program, or take it in as a photo'],
  foreignObject: ['a foreign object', 'turn it into paths in the drawing program'],
  animate: ['movement', 'draw it as it should stand'],
  animateTransform: ['movement', 'draw it as it should stand'],
  animateMotion: ['movement', 'draw it as it should stand'],
  set: ['movement', 'draw it as it should stand'],
}

/** What an element finds round it. */
interface Surroundings {
  readonly to_mm: Affine
  readonly paint: Paint
  readonly viewport: Box
  /** ids of the `use` elements it is drawn through */
  readonly through: string
  /** one of them has no id, so that ids inside it tell nothing apart */
  readonly isUnnamed: boolean
  readonly active: readonly Element[]
}

interface Visit {
  readonly tree: SvgTree
  readonly rules: ReturnType<typeof rulesOf>
  readonly said: Said
  readonly ink: Ink
  readonly marks: Mark[]
  visits: number
}

/** Reads an SVG drawing; nothing in it is run or fetched. */
export const readSvg = (text: string, options: DrawingOptions, pointsAtMost: number): Drawing => {
  const said = new Said()
  const tree = readTree(text, said)
  const stopped = (problem: PatternProblem): Drawing => ({
    format: 'svg',
    marks: [],
    units: { is: options.units ?? 'px', said: false },
    scaleSpread: 0,
    outlineSpread_mm: 0,
    problems: [...said.all(), problem],
  })
  if ('kind' in tree) return stopped(tree)
  const sheet = sheetOf(tree.root, options)
  const visit: Visit = {
    tree,
    rules: rulesOf(tree.styles, said),
    said,
    ink: { most: pointsAtMost, points: 0 },
    marks: [],
    visits: 0,
  }
  const around: Surroundings = {
    to_mm: sheet.to_mm,
    paint: firstPaint,
    viewport: sheet.viewport,
    through: '',
    isUnnamed: false,
    active: [],
  }
  try {
    drawInside(tree.root, around, visit)
  } catch (trouble) {
    if (!(trouble instanceof TooMuchInk)) throw trouble
    return stopped(drawingProblems.tooMany(pointsAtMost))
  }
  const drawn = withoutBackground(visit.marks, sheet, said)
  const placed = sheet.hasHeight ? drawn : raised(drawn)
  const marks = tellApart(
    placed.map((mark) =>
      mark.id.endsWith('@') ? { ...mark, id: idByPlace(mark.id.slice(0, -1), mark.runs) } : mark,
    ),
  )
  if (sheet.isAsked) {
    const [w, h] = sheet.size_px ?? (spanOf(marks).map((mm) => mm / sheet.unit_mm) as [number, number])
    const sizes = { px: [w * PX_MM, h * PX_MM], mm: [w, h] } as const
    said.say(sheet.isPlain ? drawingProblems.plainSize(sizes) : drawingProblems.noSize(sizes, 'px'))
  }
  if (marks.length === 0) said.say(drawingProblems.nothingDrawn())
  return {
    format: 'svg',
    marks,
    units: sheet.units,
    scaleSpread: 0,
    outlineSpread_mm: 0,
    problems: said.all(),
  }
}

interface Sheet {
  readonly to_mm: Affine
  readonly viewport: Box
  readonly units: Drawing['units']
  readonly unit_mm: number
  readonly size_px?: readonly [number, number]
  readonly isAsked: boolean
  /** its width or height is a plain number, which the standard takes for px */
  readonly isPlain: boolean
  readonly hasHeight: boolean
}

const ASKED_MM = { mm: 1, in: 25.4, px: PX_MM } as const
const NAMED_UNIT: Readonly<Record<string, Drawing['units']['is']>> = {
  mm: 'mm',
  cm: 'cm',
  in: 'in',
  px: 'px',
  q: 'mm',
  pt: 'in',
  pc: 'in',
}

/** The outermost viewport: how large the sheet is, and how the drawing's numbers become millimetres on it. */
const sheetOf = (root: Element, options: DrawingOptions): Sheet => {
  const box = readViewBox(root.attributes.get('viewBox'))
  const stated = (key: string): ReturnType<typeof readLength> => {
    const length = readLength(root.attributes.get(key))
    return length === undefined || length.unit === '%' || !(length.number > 0) ? undefined : length
  }
  const [width, height] = [stated('width'), stated('height')]
  const unit = width?.unit || height?.unit || ''
  const isSaid = unit !== ''
  const unit_mm = isSaid ? PX_MM : ASKED_MM[options.units ?? 'px']
  const ratio = box === undefined ? undefined : box.height / box.width
  let w = width === undefined ? undefined : lengthIn(width, 0)
  let h = height === undefined ? undefined : lengthIn(height, 0)
  // One side alone gives the other by the viewBox's shape; neither leaves the viewBox's own numbers.
  if (ratio !== undefined) {
    w ??= h === undefined ? box?.width : h / ratio
    h ??= (w ?? 0) * ratio
  }
  const viewport: Box = { x: 0, y: 0, width: w ?? NO_VIEWPORT.width, height: h ?? NO_VIEWPORT.height }
  const fit =
    box === undefined ? unmoved : fitViewBox(box, viewport, root.attributes.get('preserveAspectRatio'))
  return {
    to_mm: chain(shift(0, h === undefined ? 0 : h * unit_mm), stretch(unit_mm, -unit_mm), fit),
    viewport: box ?? viewport,
    units: {
      is: isSaid
        ? ((Object.hasOwn(NAMED_UNIT, unit) ? NAMED_UNIT[unit] : undefined) ?? 'px')
        : (options.units ?? 'px'),
      said: isSaid,
    },
    unit_mm,
    size_px: w === undefined || h === undefined ? undefined : [w, h],
    isAsked: !isSaid && options.units === undefined,
    isPlain: !isSaid && (width !== undefined || height !== undefined),
    hasHeight: h !== undefined,
  }
}

const spanOf = (marks: readonly Mark[]): [number, number] => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { runs } of marks)
    for (const { points } of runs)
      for (let i = 0; i < points.length; i += 2) {
        minX = Math.min(minX, points[i] as number)
        maxX = Math.max(maxX, points[i] as number)
        minY = Math.min(minY, points[i + 1] as number)
        maxY = Math.max(maxY, points[i + 1] as number)
      }
  return maxX < minX ? [0, 0] : [maxX - minX, maxY - minY]
}

/** Drawing programs lay a white sheet under everything; it would make the piece as large as the paper. */
const withoutBackground = (
  marks: readonly Mark[],
  { size_px, unit_mm }: Sheet,
  said: Said,
): readonly Mark[] => {
  const [first, ...rest] = marks
  if (first?.fill?.colour !== '#ffffff' || first.line || size_px === undefined || rest.length === 0)
    return marks
  const [run, ...more] = first.runs
  if (run === undefined || more.length > 0 || run.points.length !== 8) return marks
  const [wide, high] = spanOf([first])
  if (wide < 0.995 * size_px[0] * unit_mm || high < 0.995 * size_px[1] * unit_mm) return marks
  said.say(drawingProblems.background(first.id.endsWith('@') ? first.id.slice(0, -1) : first.id))
  return rest
}

/** Without a sheet there is no lower left corner: the lowest point becomes zero. */
const raised = (marks: readonly Mark[]): Mark[] => {
  let lowest = Infinity
  for (const { runs } of marks)
    for (const { points } of runs)
      for (let i = 1; i < points.length; i += 2) lowest = Math.min(lowest, points[i] as number)
  return marks.map((mark) => ({
    ...mark,
    runs: mark.runs.map(({ points, closed }) => ({
      closed,
      points: points.map((value, i) => (i % 2 === 0 ? value : value - lowest)),
    })),
  }))
}

const drawInside = (element: Element, around: Surroundings, visit: Visit): void => {
  const within = enter(element, around, visit)
  if (within !== undefined) for (const child of element.children) draw(child, within, visit)
}

/** The surroundings that an element gives to what it holds; undefined where it is hidden with all of it. */
const enter = (element: Element, around: Surroundings, visit: Visit): Surroundings | undefined => {
  const { said } = visit
  const where = whereOf(element)
  const own = ownStyle(element, visit.rules)
  if (isHidden(own)) return undefined
  const cut = (value: string | undefined): boolean => value !== undefined && value !== 'none'
  if (cut(own['clip-path']))
    said.say(
      drawingProblems.notRead(
        'its clip path',
        where,
        'it is drawn whole: cut the shape itself in the drawing program',
      ),
    )
  if (cut(own.mask))
    said.say(
      drawingProblems.notRead(
        'its mask',
        where,
        'it is drawn whole: cut the shape itself in the drawing program',
      ),
    )
  if (cut(own.filter)) said.say(drawingProblems.notRead('its filter', where, 'it is drawn without it'))
  if (cut(own.marker) || cut(own['marker-start']) || cut(own['marker-mid']) || cut(own['marker-end']))
    said.say(
      drawingProblems.notRead(
        'its arrowhead or marker',
        where,
        'turn it into a path if it belongs to the piece',
      ),
    )
  if (own.transform !== undefined)
    said.say(
      drawingProblems.notRead(
        'a transform in its style',
        where,
        'apply it in the drawing program, and save it again',
      ),
    )
  const turns = own.transform !== undefined || element.attributes.has('transform')
  const moves = STYLED_MOVES.filter(
    (name) => own[name] !== undefined && (turns || name !== 'transform-origin'),
  )
  if ((turns && element.attributes.has('transform-origin')) || moves.length > 0)
    said.say(
      drawingProblems.notRead(
        `what moves it beside its transform (${moves[0] ?? 'transform-origin'})`,
        where,
        'apply it in the drawing program, and save it again',
      ),
    )
  const sized = STYLED_GEOMETRY.filter((name) => own[name] !== undefined)
  if (sized.length > 0 && (SHAPES as readonly string[]).includes(element.name))
    said.say(
      drawingProblems.notRead(
        `a place or size in its style (${sized[0]})`,
        where,
        'save the drawing with places and sizes as attributes',
      ),
    )
  const text = element.attributes.get('transform')
  const transform = text === undefined ? unmoved : readTransform(text)
  if (transform === undefined) said.say(drawingProblems.badTransform(text ?? '', where))
  return {
    ...around,
    to_mm: chain(around.to_mm, transform ?? unmoved),
    paint: inherit(around.paint, own),
  }
}

const draw = (element: Element, around: Surroundings, visit: Visit): void => {
  const { said } = visit
  const { name } = element
  visit.visits += 1
  if (visit.visits > VISITS_AT_MOST) throw new TooMuchInk()
  if (element.attributes.has(BESIDE)) {
    said.say(drawingProblems.besideDrawing(whereOf(element)))
    return
  }
  if ((SHAPES as readonly string[]).includes(name)) {
    drawMark(element, around, visit)
    return
  }
  if (name === 'use') {
    drawUse(element, around, visit)
    return
  }
  if (name === 'svg') {
    drawViewport(element, around, visit, element.attributes)
    return
  }
  if (HOLDERS.includes(name)) {
    drawInside(name === 'switch' ? chosenOf(element, said) : element, around, visit)
    return
  }
  if (NEVER_DRAWN.includes(name)) return
  const unread = Object.hasOwn(UNREAD, name) ? UNREAD[name] : undefined
  if (unread === undefined) {
    said.say(drawingProblems.unknownElement(name, whereOf(element)))
    return
  }
  const target = element.attributes.get('href')
  if (target !== undefined && !/^(#|data:)/.test(target))
    said.say(drawingProblems.external(target, whereOf(element)))
  said.say(drawingProblems.notRead(unread[0], whereOf(element), unread[1]))
}

/** A switch offers the same thing several ways, and one is drawn: the first that is neither foreign nor lettering. */
const chosenOf = (element: Element, said: Said): Element => {
  const isPlain = ({ name, attributes }: Element): boolean =>
    !Object.hasOwn(UNREAD, name) && (attributes.get('requiredExtensions') ?? '').trim() === ''
  const offered = element.children.filter(({ name }) => !NEVER_DRAWN.includes(name))
  const [first, ...others] = offered.filter(isPlain)
  if (first === undefined) return { ...element, children: offered.slice(0, 1) }
  if (others.length > 0)
    said.say(
      drawingProblems.notRead(
        'what a switch offers beside its first part',
        whereOf(element),
        'see that the part drawn is the one that is meant, or take the switch out',
      ),
    )
  return { ...element, children: [first] }
}

const CLIPPED_WITHIN_MM = 0.01

/** Whether anything lies outside a box, given in the numbers that `to_mm` takes. */
const reachesOut = (marks: readonly Mark[], { x, y, width, height }: Box, to_mm: Affine): boolean => {
  const [a, b, c, d] = to_mm
  const turned = a * d - b * c
  const [ox, oy] = [movedX(to_mm, x, y), movedY(to_mm, x, y)]
  const [across, along] = [Math.hypot(a, b), Math.hypot(c, d)]
  if (turned === 0) return false
  return marks.some(({ runs }) =>
    runs.some(({ points }) => {
      for (let i = 0; i < points.length; i += 2) {
        const [dx, dy] = [(points[i] as number) - ox, (points[i + 1] as number) - oy]
        const u = ((d * dx - c * dy) / turned) * across
        const v = ((a * dy - b * dx) / turned) * along
        const isOut = (at: number, size: number): boolean =>
          at < -CLIPPED_WITHIN_MM || at > size + CLIPPED_WITHIN_MM
        if (isOut(u, width * across) || isOut(v, height * along)) return true
      }
      return false
    }),
  )
}

/** A nested viewport, or a symbol drawn through `use`, which may give it another width and height. */
const drawViewport = (
  element: Element,
  around: Surroundings,
  visit: Visit,
  sized: ReadonlyMap<string, string>,
): void => {
  const { viewport } = around
  const read = (key: string, whole: number, from: ReadonlyMap<string, string>): number | undefined => {
    const length = readLength(
      from.get(key) ?? (from === element.attributes ? undefined : element.attributes.get(key)),
    )
    return length === undefined ? undefined : lengthIn(length, whole)
  }
  const own = element.attributes
  const box: Box = {
    x: element.name === 'svg' ? (read('x', viewport.width, own) ?? 0) : 0,
    y: element.name === 'svg' ? (read('y', viewport.height, own) ?? 0) : 0,
    width: read('width', viewport.width, sized) ?? viewport.width,
    height: read('height', viewport.height, sized) ?? viewport.height,
  }
  if (!(box.width > 0 && box.height > 0)) return
  const within = enter(element, around, visit)
  if (within === undefined) return
  const view = readViewBox(own.get('viewBox'))
  const fit = view === undefined ? shift(box.x, box.y) : fitViewBox(view, box, own.get('preserveAspectRatio'))
  const inside: Surroundings = {
    ...within,
    to_mm: chain(within.to_mm, fit),
    viewport: view ?? { ...box, x: 0, y: 0 },
  }
  const before = visit.marks.length
  for (const child of element.children) draw(child, inside, visit)
  const { overflow = 'hidden' } = ownStyle(element, visit.rules)
  const shows = /^(visible|auto)$/.test(overflow)
  if (!shows && reachesOut(visit.marks.slice(before), box, within.to_mm))
    visit.said.say(
      drawingProblems.notRead(
        'the edge of its inner sheet, over which it reaches,',
        whereOf(element),
        'it is drawn whole: cut what lies outside in the drawing program',
      ),
    )
}

const drawUse = (element: Element, around: Surroundings, visit: Visit): void => {
  const { said, tree } = visit
  const where = whereOf(element)
  const href = element.attributes.get('href')?.trim() ?? ''
  if (!href.startsWith('#')) {
    if (href !== '') said.say(drawingProblems.external(href, where))
    return
  }
  const target = tree.byId.get(href.slice(1))
  if (target === undefined) {
    said.say(drawingProblems.missing(href.slice(1), where))
    return
  }
  if (target === tree.root || around.active.includes(target) || around.active.length > 40) {
    said.say(drawingProblems.circular(where))
    return
  }
  const within = enter(element, around, visit)
  if (within === undefined) return
  const read = (key: string, whole: number): number => {
    const length = readLength(element.attributes.get(key))
    return length === undefined ? 0 : lengthIn(length, whole)
  }
  const id = element.attributes.get('id')
  const inside: Surroundings = {
    ...within,
    to_mm: chain(within.to_mm, shift(read('x', around.viewport.width), read('y', around.viewport.height))),
    through: `${around.through}${id ?? ''}${id === undefined ? '' : '.'}`,
    isUnnamed: around.isUnnamed || id === undefined,
    active: [...around.active, target],
  }
  if (target.name === 'symbol' || target.name === 'svg')
    drawViewport(target, inside, visit, element.attributes)
  else draw(target, inside, visit)
}

const drawMark = (element: Element, around: Surroundings, visit: Visit): void => {
  const { said, tree } = visit
  const where = whereOf(element)
  const within = enter(element, around, visit)
  if (within === undefined || !within.paint.visible) return
  const { paint, viewport } = within
  const painted = (text: string, opacity: number): string | undefined => {
    const colour = opacity > 0 ? colourOf(text, paint.colour) : undefined
    const server = /^url\(([^)]*)\)(.*)$/s.exec(colour ?? '')
    if (colour === undefined || server === null) return colour
    const target = (server[1] ?? '').replace(/['"\s]/g, '')
    const otherwise = (server[2] ?? '').trim()
    if (!target.startsWith('#')) {
      said.say(drawingProblems.external(target, where))
      return colourOf(otherwise, paint.colour)
    }
    const paintServer = tree.byId.get(target.slice(1))
    if (paintServer === undefined) {
      said.say(drawingProblems.missing(target.slice(1), where))
      return colourOf(otherwise, paint.colour)
    }
    if (paintServer.name === 'pattern')
      said.say(
        drawingProblems.notRead(
          'its pattern fill',
          where,
          'it counts as filled evenly: draw the pattern as paths if it belongs to the piece',
        ),
      )
    return target
  }
  const colour = element.name === 'line' ? undefined : painted(paint.fill, paint.fillOpacity)
  const stroke = painted(paint.stroke, paint.strokeOpacity)
  const width = readLength(paint.strokeWidth)
  const line = stroke !== undefined && (width === undefined || width.number > 0)
  if (colour === undefined && !line) return
  const pen = new Pen(within.to_mm, visit.ink)
  drawShape(element, pen, viewport, said)
  const runs = pen.runs.filter(({ points }) => points.every(Number.isFinite))
  if (runs.length < pen.runs.length)
    said.say(drawingProblems.badNumber(element.name, 'not a number or endless', where))
  if (runs.length === 0) return
  const id = element.attributes.get('id')
  visit.marks.push({
    // Without an id of its own the place is its name, known only once everything is read.
    id: `${around.through}${id ?? element.name}${id === undefined || around.isUnnamed ? '@' : ''}`,
    runs,
    ...(colour === undefined ? {} : { fill: { rule: paint.rule, colour } }),
    line,
  })
}
