import { COLOURS } from './colours.ts'
import { drawingProblems, type Said } from './problems.ts'
import type { Element } from './svg-tree.ts'

const READ = [
  'fill',
  'fill-rule',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'color',
  'visibility',
  'opacity',
  'overflow',
  'display',
  'clip-path',
  'mask',
  'filter',
  'marker',
  'marker-start',
  'marker-mid',
  'marker-end',
  'transform',
] as const
/** Places and sizes that SVG 2 lets a style give; here they are read as attributes only, and said where a style has them. */
export const STYLED_GEOMETRY = ['d', 'x', 'y', 'width', 'height', 'cx', 'cy', 'r', 'rx', 'ry'] as const
/** What moves a shape beside its transform. */
export const STYLED_MOVES = [
  'transform-origin',
  'translate',
  'rotate',
  'scale',
  'offset-path',
  'zoom',
] as const
const OF_STYLE_ONLY: readonly string[] = [...STYLED_GEOMETRY, ...STYLED_MOVES, 'transform']

type Property = (typeof READ | typeof STYLED_GEOMETRY | typeof STYLED_MOVES)[number]
const isRead = (name: string): name is Property =>
  (READ as readonly string[]).includes(name) || OF_STYLE_ONLY.includes(name)

/** What an element has for itself, before anything is inherited. */
export type Own = Partial<Record<Property, string>>

interface Rule {
  readonly tag?: string
  readonly id?: string
  readonly classes: readonly string[]
  readonly weight: number
  readonly declared: readonly Declared[]
  /** place among all rules, the last of which wins */
  readonly order: number
}

interface Declared {
  readonly property: Property
  readonly value: string
  readonly important: boolean
}

/** Values are no longer than this; a longer one is none that is read. */
const LONGEST_VALUE = 300
/** More rules than this are not read. */
const RULES_AT_MOST = 5000

const declarationsOf = (text: string): Declared[] =>
  text.split(';').flatMap((one) => {
    const colon = one.indexOf(':')
    const property = one.slice(0, Math.max(0, colon)).trim().toLowerCase()
    const value = one.slice(colon + 1).trim()
    if (value === '' || !isRead(property)) return []
    // of these it is only said that they are there
    if (OF_STYLE_ONLY.includes(property)) return [{ property, value: value.slice(0, 20), important: false }]
    if (value.length > LONGEST_VALUE) return []
    const plain = withoutImportant(value)
    return [{ property, value: plain ?? value, important: plain !== undefined }]
  })

const withoutImportant = (value: string): string | undefined => {
  if (!value.toLowerCase().endsWith('important')) return undefined
  const before = value.slice(0, -'important'.length).trimEnd()
  return before.endsWith('!') ? before.slice(0, -1).trimEnd() : undefined
}

/** Rules by what they name, so that an element looks only at those that could be meant for it. */
export interface Rules {
  readonly byKey: ReadonlyMap<string, readonly Rule[]>
  /** every class that a rule names */
  readonly named: ReadonlySet<string>
  /** declarations by tag, id and classes, since most elements of a drawing have the same */
  readonly known: Map<string, readonly Declared[]>
}

/** The rules of style sheets that name an element by tag, class or id; others are said and left out. */
export const rulesOf = (sheets: readonly string[], said: Said): Rules => {
  const rules: Omit<Rule, 'order'>[] = []
  for (const sheet of sheets)
    for (const { selectors, body } of blocksOf(withoutComments(sheet), said)) {
      const declared = declarationsOf(body)
      if (declared.length === 0) continue
      for (const selector of selectors.split(',').map((one) => one.trim())) {
        const rule = ruleOf(selector, declared)
        if (rule === undefined || rules.length >= RULES_AT_MOST) said.say(drawingProblems.styleRule(selector))
        else rules.push(rule)
      }
    }
  // Sorting keeps the order of equals, so that a later rule of the same weight wins.
  rules.sort((a, b) => a.weight - b.weight)
  const byKey = new Map<string, Rule[]>()
  rules.forEach((rule, order) => {
    const key = keyOfRule(rule)
    const same = byKey.get(key)
    if (same === undefined) byKey.set(key, [{ ...rule, order }])
    else same.push({ ...rule, order })
  })
  return { byKey, named: new Set(rules.flatMap(({ classes }) => classes)), known: new Map() }
}

const withoutComments = (sheet: string): string =>
  sheet.replace(/\/\*[\s\S]*?(\*\/|$)/g, ' ').replace(/<!--|-->/g, ' ')

interface Block {
  readonly selectors: string
  readonly body: string
}

/** Selectors and what they declare; rules of their own kind (`@`) are said and left out. Each sign is read once. */
const blocksOf = (text: string, said: Said): Block[] => {
  const blocks: Block[] = []
  let [head, body, depth] = [0, 0, 0]
  let selectors = ''
  for (const { 0: sign, index } of text.matchAll(/[{};]/g)) {
    if (sign === '{') {
      if (depth === 0) {
        selectors = text.slice(head, index).trim()
        body = index + 1
      }
      depth += 1
      continue
    }
    if (sign === ';' && depth > 0) continue
    if (sign === ';') sayOwnKind(text.slice(head, index).trim(), said)
    else if (depth === 1 && selectors.startsWith('@')) sayOwnKind(selectors, said)
    else if (depth === 1) blocks.push({ selectors, body: text.slice(body, index) })
    if (sign === '}') depth = Math.max(0, depth - 1)
    if (depth === 0) head = index + 1
  }
  return blocks
}

const sayOwnKind = (rule: string, said: Said): void => {
  const short = rule.slice(0, LONGEST_VALUE)
  const target = /^@import\s+(.*)/is.exec(short)?.[1]
  if (target !== undefined) said.say(drawingProblems.external(target, 'style'))
  else if (short.startsWith('@') && !/^@(charset|namespace|font-face)/i.test(short))
    said.say(drawingProblems.styleRule(short))
}

/** undefined where it names more than a tag, an id and classes. */
const ruleOf = (selector: string, declared: readonly Declared[]): Omit<Rule, 'order'> | undefined => {
  if (selector === '' || selector.length > LONGEST_VALUE) return undefined
  const simple = /^(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)$/.exec(selector)
  if (simple === null) return undefined
  const parts = simple[2]?.match(/[.#][\w-]+/g) ?? []
  const ids = parts.filter((part) => part.startsWith('#')).map((part) => part.slice(1))
  const classes = parts.filter((part) => part.startsWith('.')).map((part) => part.slice(1))
  const tag = simple[1] === '*' ? undefined : simple[1]
  const weight = ids.length * 10_000 + classes.length * 100 + (tag === undefined ? 0 : 1)
  return { tag, id: ids[0], classes, weight, declared }
}

const keyOfRule = ({ tag, id, classes }: Omit<Rule, 'order'>): string =>
  id === undefined ? (classes[0] === undefined ? (tag ?? '*') : `.${classes[0]}`) : `#${id}`

/** More classes than this of one element are not looked at. */
const CLASSES_AT_MOST = 50

/** Of each property the last that is declared, and the last that is declared important. */
const lastOfEach = (all: readonly Declared[]): Declared[] => [
  ...new Map(all.map((one) => [`${one.property} ${one.important}`, one])).values(),
]

const declaredFor = ({ name, attributes }: Element, { byKey, named, known }: Rules): readonly Declared[] => {
  if (byKey.size === 0) return []
  const id = attributes.get('id')
  const written = attributes.get('class')?.trim() ?? ''
  // classes that no rule names tell elements apart for nothing
  const classes = new Set(
    written
      .split(/\s+/)
      .filter((one) => named.has(one))
      .slice(0, CLASSES_AT_MOST),
  )
  const key = `${name} ${id !== undefined && byKey.has(`#${id}`) ? id : ''} ${[...classes].join(' ')}`
  const before = known.get(key)
  if (before !== undefined) return before
  const declared = ['*', name, `#${id}`, ...[...classes].map((one) => `.${one}`)]
    .flatMap((one) => byKey.get(one) ?? [])
    .filter(
      (rule) =>
        (rule.tag === undefined || rule.tag === name) &&
        (rule.id === undefined || rule.id === id) &&
        rule.classes.every((one) => classes.has(one)),
    )
    .sort((a, b) => a.order - b.order)
    .flatMap((rule) => rule.declared)
  const last = lastOfEach(declared)
  known.set(key, last)
  return last
}

/** Attributes first, then rules from the least weight up, then the element's own style. */
export const ownStyle = (element: Element, rules: Rules): Own => {
  const { attributes } = element
  const own: Own = {}
  for (const property of READ) {
    const value = attributes.get(property)
    if (value !== undefined && value.length <= LONGEST_VALUE && property !== 'transform')
      own[property] = value.trim()
  }
  const all = [...declaredFor(element, rules), ...declarationsOf(attributes.get('style') ?? '')]
  for (const important of [false, true])
    for (const one of all) if (one.important === important) own[one.property] = one.value
  return own
}

/** What passes from a group to what it holds. */
export interface Paint {
  readonly fill: string
  readonly rule: 'nonzero' | 'evenodd'
  readonly fillOpacity: number
  readonly stroke: string
  readonly strokeWidth: string
  readonly strokeOpacity: number
  readonly colour: string
  readonly visible: boolean
}

export const firstPaint: Paint = {
  fill: 'black',
  rule: 'nonzero',
  fillOpacity: 1,
  stroke: 'none',
  strokeWidth: '1',
  strokeOpacity: 1,
  colour: 'black',
  visible: true,
}

const share = (value: string | undefined, otherwise: number): number => {
  if (value === undefined) return otherwise
  const number = Number.parseFloat(value)
  return Number.isFinite(number) ? (value.endsWith('%') ? number / 100 : number) : otherwise
}

export const inherit = (above: Paint, own: Own): Paint => {
  const value = (property: Property): string | undefined =>
    own[property] === 'inherit' || own[property] === '' ? undefined : own[property]
  const rule = value('fill-rule')
  const visibility = value('visibility')
  return {
    fill: value('fill') ?? above.fill,
    rule: rule === 'evenodd' || rule === 'nonzero' ? rule : above.rule,
    fillOpacity: share(value('fill-opacity'), above.fillOpacity),
    stroke: value('stroke') ?? above.stroke,
    strokeWidth: value('stroke-width') ?? above.strokeWidth,
    strokeOpacity: share(value('stroke-opacity'), above.strokeOpacity),
    colour: value('color') ?? above.colour,
    visible: visibility === undefined ? above.visible : visibility === 'visible',
  }
}

/** A group that is not rendered, with everything in it. */
export const isHidden = (own: Own): boolean => own.display === 'none' || share(own.opacity, 1) <= 0

const hex = (value: number): string =>
  Math.min(255, Math.max(0, Math.round(value)))
    .toString(16)
    .padStart(2, '0')

/** A paint as one text for one colour; undefined where it leaves nothing. `url(#id)` stays as it is. */
export const colourOf = (paint: string, current: string): string | undefined => {
  const text = paint.trim().toLowerCase()
  if (text === 'none' || text === 'transparent' || text === '') return undefined
  if (text === 'currentcolor')
    return current.trim().toLowerCase() === text ? '#000000' : colourOf(current, 'black')
  if (text.startsWith('url(')) return paint.trim()
  const digits = /^#([\da-f]{3,8})$/.exec(text)?.[1]
  if (digits !== undefined) {
    const full = digits.length < 6 ? [...digits].map((one) => one + one).join('') : digits
    return full.length === 8 && full.endsWith('00') ? undefined : `#${full.slice(0, 6)}`
  }
  const called = /^(rgb|hsl)a?\(([^)]*)\)$/.exec(text)
  const parts = called?.[2]?.split(/[\s,/]+/).filter((part) => part !== '')
  if (called !== null && parts !== undefined && parts.length >= 3) {
    if (parts[3] !== undefined && share(parts[3], 1) <= 0) return undefined
    const levels =
      called[1] === 'hsl'
        ? levelsOfHue(parts)
        : parts
            .slice(0, 3)
            .map((part) => (part.endsWith('%') ? Number.parseFloat(part) * 2.55 : Number.parseFloat(part)))
    return `#${levels.map(hex).join('')}`
  }
  return Object.hasOwn(COLOURS, text) ? COLOURS[text] : text
}

const TURN_DEG: Readonly<Record<string, number>> = { deg: 1, grad: 0.9, rad: 180 / Math.PI, turn: 360 }

/** Red, green and blue, 0 to 255, of hue, saturation and lightness: CSS Color 4, 7.1. */
const levelsOfHue = ([hue = '', ...rest]: readonly string[]): number[] => {
  const unit = /[a-z]+$/.exec(hue)?.[0] ?? 'deg'
  const degrees = Number.parseFloat(hue) * (Object.hasOwn(TURN_DEG, unit) ? (TURN_DEG[unit] as number) : 1)
  const [saturation = 0, lightness = 0] = rest.map((part) =>
    Math.min(1, Math.max(0, Number.parseFloat(part) / 100)),
  )
  const reach = saturation * Math.min(lightness, 1 - lightness)
  return [0, 8, 4].map((shift) => {
    const place = (((shift + degrees / 30) % 12) + 12) % 12
    return 255 * (lightness - reach * Math.max(-1, Math.min(place - 3, 9 - place, 1)))
  })
}
