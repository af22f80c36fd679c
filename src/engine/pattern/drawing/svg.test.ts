import { expect, it } from 'vitest'
import { readDrawing } from './index.ts'

const read = (svg: string, options: Parameters<typeof readDrawing>[2] = {}) =>
  readDrawing(new TextEncoder().encode(svg), 'drawing.svg', options)
/** A sheet of 100 x 100 mm whose numbers are millimetres. */
const sheet = (inside: string) =>
  read(
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">${inside}</svg>`,
  )
const kinds = (drawing: ReturnType<typeof read>) =>
  drawing.problems.map(({ kind, level }) => `${kind} ${level}`)
const points = (drawing: ReturnType<typeof read>, mark = 0, run = 0) =>
  [...(drawing.marks[mark]?.runs[run]?.points ?? [])].map((value) => Number(value.toFixed(6)))

it('puts the origin at the lower left of the sheet and lets y run upward', () => {
  expect(points(sheet('<line x1="10" y1="90" x2="20" y2="100" stroke="#000"/>'))).toEqual([10, 10, 20, 0])
})

it.each([
  ['10mm', 10, 'mm'],
  ['1cm', 10, 'cm'],
  ['1in', 25.4, 'in'],
  ['72pt', 25.4, 'in'],
  ['6pc', 25.4, 'in'],
  ['96px', 25.4, 'px'],
  ['40Q', 10, 'mm'],
])('reads a sheet %s wide', (width, mm, is) => {
  const drawing = read(
    `<svg width="${width}" height="${width}" viewBox="0 0 1 1"><path d="M0 0H1V1H0Z"/></svg>`,
  )
  expect(points(drawing)[2]).toBeCloseTo(mm, 6)
  expect(drawing.units).toEqual({ is, said: true })
  expect(drawing.problems).toEqual([])
})

it.each([
  ['<svg viewBox="0 0 96 48">', undefined, 25.4],
  ['<svg width="100%" height="100%" viewBox="0 0 96 48">', undefined, 25.4],
  ['<svg width="96" height="48">', undefined, 25.4],
  ['<svg viewBox="0 0 96 48">', 'mm', 96],
  ['<svg viewBox="0 0 96 48">', 'in', 96 * 25.4],
  ['<svg viewBox="0 0 96 48">', 'px', 25.4],
  ['<svg>', 'mm', 96],
] as const)('asks what %s means, unless told %s', (open, units, wide) => {
  const drawing = read(`${open}<path d="M0 0h96v48h-96z"/></svg>`, { units })
  expect(points(drawing)[2]).toBeCloseTo(wide, 6)
  expect(Math.min(...points(drawing))).toBe(0)
  const asked = open.includes(' width="96"') ? 'plain-size check' : 'no-unit check'
  expect(kinds(drawing)).toEqual(units === undefined ? [asked] : [])
  if (units === undefined) {
    expect(drawing.problems[0]?.what).toContain('25.4 x 12.7 mm')
    expect(drawing.problems[0]?.what).toContain('96 x 48 mm')
  }
})

it('does not listen to --units where the drawing names its own', () => {
  const drawing = read('<svg width="96px" height="96px"><path d="M0 0h96v96z"/></svg>', { units: 'mm' })
  expect(points(drawing)[2]).toBeCloseTo(25.4, 6)
})

it.each([
  ['none', [0, 0, 40, 20]],
  ['xMinYMin meet', [0, 0, 20, 20]],
  ['xMidYMid meet', [10, 0, 30, 20]],
  ['xMaxYMax', [20, 0, 40, 20]],
  ['xMidYMid slice', [0, -10, 40, 30]],
  ['xMinYMin slice', [0, -20, 40, 20]],
  ['xMidYMax slice', [0, 0, 40, 40]],
])('lays a square viewBox into a 40 x 20 mm sheet by %s', (keep, [x0, y0, x1, y1]) => {
  const drawing = read(
    `<svg width="40mm" height="20mm" viewBox="0 0 10 10" preserveAspectRatio="${keep}"><path d="M0 10H10V0H0Z"/></svg>`,
  )
  expect(points(drawing)).toEqual([x0, y0, x1, y0, x1, y1, x0, y1])
})

it.each([
  ['translate(3 4)', 1, 0, [4, 4]],
  ['translate(3)', 1, 0, [4, 0]],
  ['scale(2)', 1, 1, [2, 2]],
  ['scale(2,3)', 1, 1, [2, 3]],
  ['rotate(90)', 1, 0, [0, 1]],
  ['rotate(90 5 5)', 5, 0, [10, 5]],
  ['skewX(45)', 1, 2, [3, 2]],
  ['skewY(45)', 2, 1, [2, 3]],
  ['matrix(1 2 3 4 5 6)', 1, 1, [9, 12]],
  ['translate(10,0) rotate(90), scale(2)', 1, 0, [10, 2]],
])('moves a point by %s', (transform, x, y, [wantX, wantY]) => {
  const drawing = sheet(`<g transform="${transform}"><path d="M${x} ${y}L0 0" stroke="red"/></g>`)
  expect(points(drawing).slice(0, 2)).toEqual([wantX, 100 - (wantY as number)])
})

it('says a transform it does not understand, and draws without it', () => {
  const drawing = sheet('<g transform="spin(3)"><path d="M1 1H2V2Z"/></g>')
  expect(kinds(drawing)).toEqual(['broken-transform check'])
  expect(points(drawing).slice(0, 2)).toEqual([1, 99])
})

it('draws every path command, also after a closed part', () => {
  const drawing = sheet('<path d="m1 1h2v2l-2 0z l5 5 M10 10 H20 V20 H10" fill="none" stroke="red"/>')
  expect(drawing.marks[0]?.runs.map(({ closed }) => closed)).toEqual([true, false, false])
  expect(points(drawing, 0, 1)).toEqual([1, 99, 6, 94])
  const smooth = sheet(
    '<path d="M0 0C0 10 10 10 10 0S20 -10 20 0Q25 10 30 0T40 0A5 5 0 0 1 50 0" stroke="red"/>',
  )
  expect(points(smooth).slice(-2)).toEqual([50, 100])
  expect(smooth.problems).toEqual([])
})

it('reads a broken path up to its fault, and says so', () => {
  const drawing = sheet('<path id="bad" d="M0 0H10V10 L 5 oops"/>')
  expect(kinds(drawing)).toEqual(['broken-path check'])
  expect(drawing.problems[0]?.where).toContain('bad')
  expect(points(drawing)).toEqual([0, 100, 10, 100, 10, 90])
})

it('flattens every arc to within 0.002 mm', () => {
  for (const shape of [
    '<circle cx="50" cy="50" r="40"/>',
    '<path d="M10 50A40 40 0 0 1 90 50A40 40 0 0 1 10 50Z"/>',
  ]) {
    const flat = points(sheet(shape))
    for (let i = 0; i < flat.length; i += 2) {
      const j = (i + 2) % flat.length
      const [ax, ay, bx, by] = [flat[i], flat[i + 1], flat[j], flat[j + 1]] as [
        number,
        number,
        number,
        number,
      ]
      expect(Math.abs(Math.hypot(ax - 50, ay - 50) - 40)).toBeLessThan(1e-5)
      expect(40 - Math.hypot((ax + bx) / 2 - 50, (ay + by) / 2 - 50)).toBeLessThan(0.00201)
    }
  }
})

it('draws shapes through use, symbol and nested svg', () => {
  const drawing = sheet(`
    <defs><path id="leaf" d="M0 0H1V1Z"/><symbol id="knot" viewBox="0 0 10 10"><rect id="r" width="10" height="10"/></symbol></defs>
    <use id="one" href="#leaf" x="5" y="6" transform="scale(2)"/>
    <use id="two" xlink:href="#knot" x="20" y="20" width="5" height="5"/>
    <svg x="50" y="50" width="20" height="20" viewBox="0 0 2 2"><path id="in" d="M0 0H1V1Z"/></svg>`)
  expect(drawing.problems).toEqual([])
  expect(drawing.marks.map(({ id }) => id)).toEqual(['one.leaf', 'two.r', 'in'])
  expect(points(drawing, 0)).toEqual([10, 88, 12, 88, 12, 86])
  expect(points(drawing, 1)).toEqual([20, 80, 25, 80, 25, 75, 20, 75])
  expect(points(drawing, 2)).toEqual([50, 50, 60, 50, 60, 40])
})

it('does not follow a drawing into itself', () => {
  const drawing = sheet('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/><path d="M0 0H1V1Z"/></g>')
  expect(kinds(drawing)).toContain('circular-reference check')
  expect(drawing.marks.length).toBeGreaterThan(0)
})

it('refuses a drawing that grows beyond all measure through use', () => {
  const levels = Array.from(
    { length: 20 },
    (_, n) => `<g id="g${n + 1}">${`<use href="#g${n}"/>`.repeat(10)}</g>`,
  )
  const drawing = sheet(`<defs><path id="g0" d="M0 0H1V1Z"/>${levels.join('')}</defs><use href="#g20"/>`)
  expect(kinds(drawing)).toEqual(['too-many-nodes stop'])
})

it('takes paint from attributes, style sheets and style in their order of weight', () => {
  const drawing = sheet(`
    <style>/* a {} */ path { fill: none } .red { fill: #f00 } #blue { fill: rgb(0,0,255) } .line { stroke: black; fill: none }</style>
    <g fill="lime">
      <path class="red" d="M0 0H1V1Z" fill="none"/>
      <path class="red" id="blue" d="M0 0H1V1Z"/>
      <path style="fill:currentColor" color="teal" d="M0 0H1V1Z"/>
      <rect class="line" width="1" height="1"/>
      <rect width="1" height="1"/>
      <path d="M0 0H1V1Z"/>
    </g>`)
  expect(drawing.marks.map(({ fill, line }) => [fill?.colour, line])).toEqual([
    ['#ff0000', false],
    ['#0000ff', false],
    ['#008080', false],
    [undefined, true],
    ['#00ff00', false],
  ])
})

it('leaves out what leaves no paint', () => {
  const drawing = sheet(`
    <path d="M0 0H1V1Z" fill="none"/><path d="M0 0H1V1Z" fill="none" stroke="red" stroke-width="0"/>
    <path d="M0 0H1V1Z" display="none"/><g opacity="0"><path d="M0 0H1V1Z"/></g>
    <g visibility="hidden"><path d="M0 0H1V1Z"/><path id="seen" visibility="visible" d="M0 0H1V1Z"/></g>
    <path d="M0 0H1V1Z" fill="#fff0"/><path d="M0 0H1V1Z" fill-opacity="0"/>`)
  expect(drawing.marks.map(({ id }) => id)).toEqual(['seen'])
})

it.each([
  ['<text id="t">CLASP</text>', 'not-read check', '"t"'],
  ['<image id="i" href="data:image/png;base64,AA"/>', 'not-read check', '"i"'],
  ['<path id="c" clip-path="url(#x)" d="M0 0H1V1Z"/>', 'not-read check', '"c"'],
  ['<path id="m" mask="url(#x)" d="M0 0H1V1Z"/>', 'not-read check', '"m"'],
  ['<path id="f" style="filter:url(#x)" d="M0 0H1V1Z"/>', 'not-read check', '"f"'],
  ['<pattern id="p"/><path id="q" fill="url(#p)" d="M0 0H1V1Z"/>', 'not-read check', '"q"'],
  ['<path id="k" marker-end="url(#x)" d="M0 0H1V1Z"/>', 'not-read check', '"k"'],
  ['<path id="k" style="marker:url(#x)" d="M0 0H1V1Z"/>', 'not-read check', '"k"'],
  ['<g id="g" clip-path="url(#x)"><path d="M0 0H1V1Z"/></g>', 'not-read check', '"g"'],
  ['<foreignObject id="o"/>', 'not-read check', '"o"'],
  ['<circle id="s" style="r:4px"/>', 'not-read check', '"s"'],
  [`<path id="s" style="d:path('M0 0${'H9V9'.repeat(200)}Z')"/>`, 'not-read check', '"s"'],
  ['<g id="z" style="transform-origin:center" transform="rotate(9)"/>', 'not-read check', '"z"'],
  ['<g id="z" transform-origin="5 5" transform="rotate(9)"/>', 'not-read check', '"z"'],
  ['<path id="z" style="rotate:30deg" d="M0 0H1V1Z"/>', 'not-read check', '"z"'],
  ['<script>alert(1)</script>', 'script check', 'line'],
  ['<path onclick="alert(1)" d="M0 0H1V1Z"/>', 'script check', 'line'],
  ['<use id="u" href="https://example.org/a.svg#b"/>', 'external-reference check', '"u"'],
  ['<use id="u" href="other.svg#b"/>', 'external-reference check', '"u"'],
  ['<image id="i" href="file:///etc/hostname"/>', 'external-reference check', '"i"'],
  ['<style>@import url(https://example.org/a.css);</style>', 'external-reference check', 'style'],
  ['<style>g > path { fill: none }</style>', 'not-read note', 'style'],
  ['<use id="u" href="#nowhere"/>', 'missing-reference check', '"u"'],
  ['<rect id="r" width="wide" height="1"/>', 'not-a-number check', '"r"'],
  ['<path id="n" d="M0 0H1e999V1Z"/>', 'not-a-number check', '"n"'],
])('says of %s that it is left out', (element, kind, where) => {
  const drawing = sheet(`<path id="kept" d="M0 0H50V50Z"/>${element}`)
  expect(kinds(drawing)).toContain(kind)
  expect(drawing.problems.find((one) => kind.startsWith(one.kind))?.where).toContain(where)
  expect(drawing.marks.map(({ id }) => id)).toContain('kept')
})

it.each([
  ['<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', 'entities stop'],
  ['<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]><svg>&a;</svg>', 'entities stop'],
  ['<svg><path d="M0 0H1V1Z"/>', 'broken-file stop'],
  ['<svg><g></svg>', 'broken-file stop'],
  ['<svg>&unknown;</svg>', 'broken-file stop'],
  ['<?xml version="1.0"?><html/>', 'broken-file stop'],
  ['<svg></svg>', 'nothing-drawn check'],
])('does not take %s for a drawing', (text, kind) => {
  const drawing = read(text)
  expect(drawing.marks).toEqual([])
  expect(kinds(drawing).join()).toContain(kind.split(' ')[0])
  expect(drawing.problems.some(({ level }) => level === 'stop')).toBe(true)
})

it('reads a plain document type without fetching it', () => {
  const drawing = read(
    '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd"><svg width="10mm" height="10mm"><path d="M0 0H1V1Z"/></svg>',
  )
  expect(drawing.problems).toEqual([])
})

it('gives an element without id a name that another element does not shift', () => {
  const own = '<circle cx="20" cy="30" r="5"/>'
  const before = sheet(own).marks[0]?.id
  const after = sheet(`<circle cx="70" cy="30" r="5"/>${own}`).marks
  expect(before).toBe('circle@20.0,70.0:10.0x10.0')
  expect(after.map(({ id }) => id)).toContain(before)
  expect(new Set(sheet(own + own).marks.map(({ id }) => id)).size).toBe(2)
})

it('tells apart what is drawn through uses without ids by their places', () => {
  const defs = '<defs><path id="leaf" d="M0 0H2V2Z"/></defs>'
  const one = sheet(`${defs}<use href="#leaf" x="10" y="10"/>`).marks[0]?.id
  const two = sheet(`${defs}<use href="#leaf" x="50" y="50"/><use href="#leaf" x="10" y="10"/>`).marks
  expect(one).toBe('leaf@11.0,89.0:2.0x2.0')
  expect(two.map(({ id }) => id)).toEqual(['leaf@51.0,49.0:2.0x2.0', one])
})

it('takes a white sheet under everything for paper, but not a plate with a line', () => {
  const clasp = '<circle id="clasp" cx="50" cy="50" r="20"/>'
  const bare = sheet(`<rect id="sheet" width="100%" height="100%" fill="white"/>${clasp}`)
  expect(bare.marks.map(({ id }) => id)).toEqual(['clasp'])
  expect(kinds(bare)).toEqual(['background note'])
  const plate = sheet(`<rect id="plate" width="100" height="100" fill="white" stroke="black"/>${clasp}`)
  expect(plate.marks.map(({ id }) => id)).toEqual(['plate', 'clasp'])
})

it('says what it is not, and what is empty, packed or far too large', () => {
  const bytes = (values: number[]) => readDrawing(Uint8Array.from(values), 'thing.svg')
  expect(kinds(bytes([]))).toEqual(['empty-file stop'])
  expect(kinds(bytes([0x1f, 0x8b, 8]))).toEqual(['packed-file stop'])
  expect(kinds(bytes([1, 2, 3, 4]))).toEqual(['unknown-format stop'])
  expect(kinds(readDrawing(new Uint8Array(65e6), 'thing.svg'))).toEqual(['too-large stop'])
})

it('reads UTF-16 and a byte order mark', () => {
  const text = '<svg width="10mm" height="10mm"><path id="ä" d="M0 0H1V1Z"/></svg>'
  const wide = new Uint8Array(2 + text.length * 2)
  wide.set([0xff, 0xfe])
  for (let i = 0; i < text.length; i += 1)
    new DataView(wide.buffer).setUint16(2 + 2 * i, text.charCodeAt(i), true)
  expect(readDrawing(wide, 'a.svg').marks[0]?.id).toBe('ä')
  expect(read(`\uFEFF${text}`).marks[0]?.id).toBe('ä')
})

it('knows every colour name of CSS and hues, so that one colour written two ways divides nothing', () => {
  const filled = (colour: string) =>
    sheet(`<rect width="5" height="5" fill="${colour}"/>`).marks[0]?.fill?.colour
  expect(filled('rebeccapurple')).toBe('#663399')
  expect(filled('CornflowerBlue')).toBe('#6495ed')
  expect(filled('hsl(120, 100%, 25%)')).toBe('#008000')
  expect(filled('hsl(0.5turn 100% 50%)')).toBe('#00ffff')
  expect(filled('hsla(240deg 100% 50% / 0.5)')).toBe('#0000ff')
  expect(filled('hsl(0 100% 50% / 0%)')).toBeUndefined()
  expect(filled('constructor')).toBe('constructor')
})

it('takes names that every object has for nothing special', () => {
  const drawing = sheet(
    '<constructor/><rect id="constructor" class="toString" width="5constructor" height="5"/><rect width="5" height="5"/>',
  )
  expect(kinds(drawing)).toEqual(['not-read note', 'not-a-number check'])
  expect(drawing.marks).toHaveLength(1)
})

it('draws the first part of a switch alone, and says what it leaves', () => {
  const part = (attributes: string) => `<g ${attributes}><rect width="5" height="5"/></g>`
  const drawing = sheet(
    `<switch><foreignObject/>${part('requiredExtensions="x"')}${part('id="a"')}${part('')}</switch>`,
  )
  expect(drawing.marks).toHaveLength(1)
  expect(kinds(drawing)).toEqual(['not-read check'])
})

it('says where an inner sheet would cut off what is drawn', () => {
  const inner = (x: number, more = '') =>
    sheet(
      `<g transform="rotate(30)"><svg x="10" y="10" width="20" height="20" ${more}><rect x="${x}" width="10" height="10"/></svg></g>`,
    )
  expect(kinds(inner(10))).toEqual([])
  expect(kinds(inner(11))).toEqual(['not-read check'])
  expect(kinds(inner(11, 'overflow="visible"'))).toEqual([])
  expect(kinds(inner(11, 'style="overflow:visible"'))).toEqual([])
  // what is visible otherwise is cut off all the same
  expect(kinds(inner(11, 'style="visibility:visible"'))).toEqual(['not-read check'])
})

it.each([
  ['a length', `<rect width="${'1'.repeat(60_000)}x" height="5"/>`],
  ['a transform of letters', `<rect transform="${'a'.repeat(60_000)}" width="5" height="5"/>`],
  ['a transform of brackets', `<rect transform="${'rotate('.repeat(20_000)}" width="5" height="5"/>`],
  ['very many transforms', `<rect transform="${'scale(1)'.repeat(150_000)}" width="5" height="5"/>`],
  ['a paint', `<rect fill="url(${' '.repeat(60_000)}" width="5" height="5"/>`],
  ['a style', `<rect style="fill:red${' '.repeat(60_000)}x" width="5" height="5"/>`],
  ['rules of their own kind', `<style>${'@a'.repeat(60_000)}</style>`],
  ['rules without a block', `<style>${'a'.repeat(100_000)}</style>`],
  ['blocks in blocks', `<style>${'@a{'.repeat(30_000)}</style>`],
  [
    'rules for many elements',
    `<style>${'.a.b{fill:red}'.repeat(20_000)}</style>${'<rect class="a" width="5" height="5"/>'.repeat(20_000)}`,
  ],
])('is not kept busy by %s', (_, inside) => {
  const began = performance.now()
  sheet(inside)
  expect(performance.now() - began).toBeLessThan(2500)
})
