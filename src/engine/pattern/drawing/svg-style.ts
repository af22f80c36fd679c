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
type Property = (typeof READ)[number]
const isRead = (name: string): name is Property => (READ as readonly string[]).includes(name)

/** What an element has for itself, before anything is inherited. */
export type Own = Partial<Record<Property, string>>

interface Rule {
  readonly tag?: string
  readonly id?: string
  readonly classes: readonly string[]
  readonly weight: number
  readonly declared: readonly Declared[]
}

interface Declared {
  readonly property: Property
  readonly value: string
  readonly important: boolean
}

const declarationsOf = (text: string): Declared[] =>
  text.split(';').flatMap((one) => {
    const [name = '', ...rest] = one.split(':')
    const property = name.trim().toLowerCase()
    const value = rest.join(':').trim()
    if (value === '' || !isRead(property)) return []
    const important = /\s*!\s*important$/i
    return [{ property, value: value.replace(important, ''), important: important.test(value) }]
  })

/** The rules of style sheets that name an element by tag, class or id; others are said and left out. */
export const rulesOf = (sheets: readonly string[], said: Said): Rule[] => {
  const rules: Rule[] = []
  for (const sheet of sheets) {
    let text = sheet.replace(/\/\*[\s\S]*?(\*\/|$)/g, ' ').replace(/<!--|-->/g, ' ')
    text = text.replace(/@import\s+([^;]*);?/gi, (_, target: string) => {
      said.say(drawingProblems.external(target.trim(), 'style'))
      return ' '
    })
    text = text.replace(/@[\w-]+[^{};]*(;|\{(?:[^{}]|\{[^{}]*\})*\})/g, (rule) => {
      if (!/^@(charset|namespace|font-face)/i.test(rule))
        said.say(drawingProblems.styleRule(rule.split('{')[0]?.trim() ?? ''))
      return ' '
    })
    for (const [, selectors = '', body = ''] of text.matchAll(/([^{}]+)\{([^{}]*)\}/g)) {
      const declared = declarationsOf(body)
      if (declared.length === 0) continue
      for (const selector of selectors.split(',').map((one) => one.trim())) {
        const simple = /^(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)$/.exec(selector)
        if (simple === null || selector === '') {
          said.say(drawingProblems.styleRule(selector))
          continue
        }
        const parts = simple[2]?.match(/[.#][\w-]+/g) ?? []
        const ids = parts.filter((part) => part.startsWith('#')).map((part) => part.slice(1))
        const classes = parts.filter((part) => part.startsWith('.')).map((part) => part.slice(1))
        const tag = simple[1] === '*' ? undefined : simple[1]
        const weight = ids.length * 10_000 + classes.length * 100 + (tag === undefined ? 0 : 1)
        rules.push({ tag, id: ids[0], classes, weight, declared })
      }
    }
  }
  // Sorting keeps the order of equals, so that a later rule of the same weight wins.
  return rules.sort((a, b) => a.weight - b.weight)
}

/** Attributes first, then rules from the least weight up, then the element's own style. */
export const ownStyle = ({ name, attributes }: Element, rules: readonly Rule[]): Own => {
  const own: Own = {}
  for (const property of READ) {
    const value = attributes.get(property)
    if (value !== undefined && property !== 'transform') own[property] = value.trim()
  }
  const classes = attributes.get('class')?.trim().split(/\s+/) ?? []
  const id = attributes.get('id')
  const declared = rules
    .filter(
      (rule) =>
        (rule.tag === undefined || rule.tag === name) &&
        (rule.id === undefined || rule.id === id) &&
        rule.classes.every((one) => classes.includes(one)),
    )
    .flatMap((rule) => rule.declared)
  const all = [...declared, ...declarationsOf(attributes.get('style') ?? '')]
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

/** The sixteen names that drawings use most, as numbers, so that one colour written two ways is one. */
const NAMED: Readonly<Record<string, string>> = {
  black: '#000000',
  white: '#ffffff',
  red: '#ff0000',
  lime: '#00ff00',
  green: '#008000',
  blue: '#0000ff',
  yellow: '#ffff00',
  aqua: '#00ffff',
  cyan: '#00ffff',
  fuchsia: '#ff00ff',
  magenta: '#ff00ff',
  silver: '#c0c0c0',
  gray: '#808080',
  grey: '#808080',
  maroon: '#800000',
  olive: '#808000',
  purple: '#800080',
  teal: '#008080',
  navy: '#000080',
}

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
  const parts = /^rgba?\(([^)]*)\)$/
    .exec(text)?.[1]
    ?.split(/[\s,/]+/)
    .filter((part) => part !== '')
  if (parts !== undefined && parts.length >= 3) {
    if (parts[3] !== undefined && share(parts[3], 1) <= 0) return undefined
    return `#${parts
      .slice(0, 3)
      .map((part) => hex(part.endsWith('%') ? Number.parseFloat(part) * 2.55 : Number.parseFloat(part)))
      .join('')}`
  }
  return NAMED[text] ?? text
}
