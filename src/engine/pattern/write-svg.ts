import type { Run } from './drawing.ts'
import { atWaxSize, BESIDE } from './lines-beside.ts'
import { type LineKind, PENS, type SheetMark, type TemplateLayout } from './template/index.ts'

const DECIMALS = 4

const number = (value: number): string => `${Number(value.toFixed(DECIMALS)) + 0}`

/** Letters that XML can't hold are left out; those that mean something to it are written as references. */
const safe = (text: string): string =>
  [...text]
    .filter((letter) => letter >= ' ')
    .map(
      (letter) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[letter] ?? letter,
    )
    .join('')

const pathOf = (runs: readonly Run[]): string =>
  runs
    .map(({ points, closed }) => {
      const places = Array.from(
        { length: points.length / 2 },
        (_, i) => `${number(points[2 * i] ?? 0)} ${number(points[2 * i + 1] ?? 0)}`,
      )
      return `M${places.join('L')}${closed ? 'Z' : ''}`
    })
    .join('')

const penOf = (line: LineKind): string => {
  const { wide_mm, dash_mm } = PENS[line]
  const dash = dash_mm.length === 0 ? '' : ` stroke-dasharray="${dash_mm.map(number).join(' ')}"`
  return `stroke="#000" stroke-width="${wide_mm}"${dash}`
}

const down = (run: Run): Run => ({ ...run, points: run.points.map((v, i) => (i % 2 === 0 ? v : -v)) })
const shut = (points: Float64Array): Run => ({ points, closed: true })

const boundsOf = (loops: readonly Float64Array[]): { x: number; y: number; wide: number; high: number } => {
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const loop of loops)
    for (let i = 0; i < loop.length; i += 2) {
      left = Math.min(left, loop[i] ?? 0)
      right = Math.max(right, loop[i] ?? 0)
      low = Math.min(low, loop[i + 1] ?? 0)
      high = Math.max(high, loop[i + 1] ?? 0)
    }
  return right >= left
    ? { x: left, y: -high, wide: right - left, high: high - low }
    : { x: 0, y: 0, wide: 1, high: 1 }
}

const opened = (x: number, y: number, wide: number, high: number, title: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${number(wide)}mm" height="${number(high)}mm" viewBox="${[x, y, wide, high].map(number).join(' ')}"><title>${safe(title)}</title>`

/** Room round the lines, mm. */
const AROUND = 2

/**
 * The lines alone at the size of the wax, in millimetres: a path for each region under the region's own id, so
 * that they are the same regions when read again, and beneath them the rim. Hardware and stones lie above them
 * in a group that is told from the drawing, and is left out when it is read again.
 */
export const templateSvg = ({ wax, name, through, added }: TemplateLayout): string => {
  const beside = atWaxSize(added, wax)
  const { x, y, wide, high } = boundsOf([...wax.outline, ...beside.map(({ loop }) => loop)])
  const lines = [
    opened(
      x - AROUND,
      y - AROUND,
      wide + 2 * AROUND,
      high + 2 * AROUND,
      `${name}, lines at the size of the wax`,
    ),
    `<path id="rim" fill="none" stroke-linejoin="round" ${penOf('outline')} d="${pathOf(wax.outline.map(shut).map(down))}"/>`,
    `<g fill="#fff" fill-rule="evenodd" stroke-linejoin="round" ${penOf('region')}>`,
    ...wax.regions.map(({ id, outer, holes }) => {
      const path = pathOf([outer, ...holes].map(shut).map(down))
      return `<path id="${safe(id)}"${through.has(id) ? ' class="through"' : ''} d="${path}"/>`
    }),
    '</g>',
    ...(wax.veins.length === 0
      ? []
      : [
          `<path id="veins" fill="none" stroke-linejoin="round" ${penOf('vein')} d="${pathOf(wax.veins.map((points) => down({ points, closed: false })))}"/>`,
        ]),
    ...(beside.length === 0 ? [] : [`<g ${BESIDE}="lines" fill="none" stroke-linejoin="round">`]),
    ...beside.map(({ id, loop, hidden }) => {
      const pen = penOf(hidden ? 'hidden' : 'region')
      return `<path id="${safe(id)}" class="${hidden ? 'back' : 'front'}" ${pen} d="${pathOf([down(shut(loop))])}"/>`
    }),
    ...(beside.length === 0 ? [] : ['</g>']),
    '</svg>',
  ]
  return `${lines.join('\n')}\n`
}

const FACES = {
  regular: 'font-family="Archivo, sans-serif"',
  semibold: 'font-family="Archivo, sans-serif" font-weight="600"',
  serif: 'font-family="Besley, serif" font-weight="600"',
} as const

const markSvg = (mark: SheetMark): string => {
  switch (mark.shape) {
    case 'stroke':
      return `<path fill="none" ${penOf(mark.line)} d="${pathOf(mark.runs)}"/>`
    case 'filled':
      return `<path fill="#000" d="${pathOf([shut(mark.points)])}"/>`
    case 'round':
      return `<circle fill="#fff" ${penOf(mark.line)} cx="${number(mark.at[0])}" cy="${number(mark.at[1])}" r="${number(mark.radius_mm)}"/>`
    case 'words': {
      const [x, y] = mark.at.map(number)
      const turn = mark.turned ? ` transform="rotate(-90 ${x} ${y})"` : ''
      const clear = mark.cleared ? ' stroke="#fff" stroke-width="0.8" paint-order="stroke"' : ''
      return `<text x="${x}" y="${y}" font-size="${mark.size_mm}" text-anchor="${mark.anchor}" ${FACES[mark.face]}${clear}${turn}>${safe(mark.text)}</text>`
    }
  }
}

/** One sheet as it is printed, to be looked at: numbered from 1. Undefined where there is no such sheet. */
export const sheetSvg = (layout: TemplateLayout, sheetNumber: number): string | undefined => {
  const sheet = layout.sheets[sheetNumber - 1]
  if (sheet === undefined) return undefined
  const { paper, marks, window } = sheet
  const shown =
    window === undefined
      ? []
      : [
          `<svg x="${number(window.x)}" y="${number(window.y)}" width="${number(window.width_mm)}" height="${number(window.height_mm)}" viewBox="${number(window.x - window.moved[0])} ${number(window.y - window.moved[1])} ${number(window.width_mm)} ${number(window.height_mm)}">`,
          ...window.marks.map(markSvg),
          '</svg>',
        ]
  const title = `${layout.name}, template, sheet ${sheetNumber} of ${layout.sheets.length}`
  return [
    opened(0, 0, paper.width_mm, paper.height_mm, title),
    `<rect width="${number(paper.width_mm)}" height="${number(paper.height_mm)}" fill="#fff"/>`,
    ...shown,
    ...marks.map(markSvg),
    '</svg>',
    '',
  ].join('\n')
}
