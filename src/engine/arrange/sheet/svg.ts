import type { FillKind, LineKind, Mark } from './marks.ts'
import { PAGE, type Page } from './pages.ts'

const LINES: Readonly<Record<LineKind, string>> = {
  wide: 'stroke="#1f2a30" stroke-width=".5"',
  narrow: 'stroke="#1f2a30" stroke-width=".2"',
  centre: 'stroke="#1f2a30" stroke-width=".2" stroke-dasharray="6 1 .5 1"',
  hidden: 'stroke="#1f2a30" stroke-width=".2" stroke-dasharray="1.6 .8"',
  limit: 'stroke="#8a5a00" stroke-width=".25" stroke-dasharray="8 1.2 .5 1.2"',
  wax: 'stroke="#2f6b45" stroke-width=".4"',
  'wax-narrow': 'stroke="#2f6b45" stroke-width=".15"',
  none: 'stroke="none"',
}
const FILLS: Readonly<Record<FillKind, string>> = {
  none: 'none',
  paper: '#fff',
  wax: '#f1f6f1',
  sprue: '#d4e5d6',
  base: '#e3e3df',
  ink: '#1f2a30',
}

const n = (value: number): string => (Math.round(value * 100) / 100 + 0).toString()
const escaped = (text: string): string =>
  text.replaceAll(
    /[<>&"]/g,
    (sign) => ({ '<': '&lt;', '>': '&gt;', '&': '&amp;', '"': '&quot;' })[sign] ?? '',
  )

const markOf = (mark: Mark): string => {
  if (mark.kind === 'circle')
    return `<circle cx="${n(mark.at[0])}" cy="${n(mark.at[1])}" r="${n(mark.radius)}" fill="${FILLS[mark.fill]}" ${LINES[mark.line]}/>`
  if (mark.kind === 'text') {
    const [x, y] = mark.at
    const turned = mark.upward ? ` transform="rotate(-90 ${n(x)} ${n(y)})"` : ''
    const anchor = mark.align === 'start' ? '' : ` text-anchor="${mark.align}"`
    return `<text x="${n(x)}" y="${n(y)}" font-size="${mark.size}"${anchor}${mark.bold ? ' font-weight="bold"' : ''}${turned} xml:space="preserve">${escaped(mark.text)}</text>`
  }
  const path = mark.rounds
    .map((round) => `M${round.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}${mark.closed ? 'Z' : ''}`)
    .join('')
  return `<path d="${path}" fill="${FILLS[mark.fill]}" ${LINES[mark.line]}/>`
}

/** Pages one below the other as one drawing, a millimetre of it to one of the paper. */
export const svgOf = (pages: readonly Page[], title: string): string => {
  const height = PAGE.height * pages.length
  const drawn = pages.map(
    ({ marks }, at) =>
      `<g transform="translate(0 ${at * PAGE.height})">${at === 0 ? '' : `<path d="M0 0H${PAGE.width}" stroke="#999" stroke-width=".1"/>`}${marks.map(markOf).join('\n')}</g>`,
  )
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE.width}mm" height="${height}mm" viewBox="0 0 ${PAGE.width} ${height}" role="img" font-family="Arial, Helvetica, sans-serif" fill="#1f2a30" stroke-linejoin="round" stroke-linecap="round"><title>${escaped(title)}</title><rect width="100%" height="100%" fill="#fff"/>${drawn.join('\n')}</svg>\n`
}
