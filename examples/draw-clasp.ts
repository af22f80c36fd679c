/**
 * Draws the invented clasp's pattern and writes it beside this file: as an SVG in millimetres, as a photo of the
 * same lines inked by hand on a card, and the heights of both. The same files every time.
 * Run: npx esbuild examples/draw-clasp.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/draw-clasp.mjs && node .cache/draw-clasp.mjs
 */
import { writeFileSync } from 'node:fs'
import { encode } from 'jpeg-js'
import { type HeightsInput, heightsSchema } from '../src/engine/documents/heights.ts'
import { tracePhoto } from '../src/engine/pattern/photo/index.ts'
import { findRegions } from '../src/engine/pattern/regions/index.ts'
import { decodePicture } from '../src/pixels/index.ts'
import { claspOutlines, type Point, STONE } from './clasp-lines.ts'
import { CARD, claspShot } from './clasp-photo.ts'

const here = 'examples'
const write = (name: string, data: string | Uint8Array): void => {
  writeFileSync(`${here}/${name}`, data)
  process.stdout.write(`${here}/${name}: ${data.length} bytes\n`)
}

type RegionHeights = NonNullable<HeightsInput['regions']>[string]

const heightOf = (id: string): RegionHeights => {
  if (id === 'border')
    return { role: 'raised', height_mm: 2, edge: { shape: 'rounded', width_mm: 0.8, height_mm: 0.6 } }
  if (id === 'ground') return { role: 'ground', height_mm: 1.3 }
  if (id === 'seat-wall') return { role: 'raised', height_mm: 3 }
  if (id === 'seat')
    // the stone rests on a bearer 1.7 mm above the back; inside it the floor lies at 0.9 mm
    return { role: 'seat', height_mm: 1.7, stone: { shape: 'oval', ...STONE, bearer_mm: 1, well_mm: 0.8 } }
  return { role: 'raised', height_mm: 2.2, edge: { shape: 'domed', width_mm: 2.2, height_mm: 0.7 } }
}

const common = {
  kind: 'heights',
  version: 1,
  blank_mm: 3.5,
  sections: [{ name: 'A', from_mm: [-32, 0], to_mm: [32, 0] }],
} satisfies Partial<HeightsInput>

const shifted = (by: Point): NonNullable<HeightsInput['sections']> => [
  { name: 'A', from_mm: [by[0] - 32, by[1]], to_mm: [by[0] + 32, by[1]] },
]

const PAGE: Point = [64, 50]
const outlines = claspOutlines()

const path = (points: readonly Point[]): string =>
  `M${points.map(([x, y]) => `${(x + PAGE[0] / 2).toFixed(3)} ${(PAGE[1] / 2 - y).toFixed(3)}`).join('L')}Z`

write(
  'clasp-drawing.svg',
  `<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE[0]}mm" height="${PAGE[1]}mm" viewBox="0 0 ${PAGE[0]} ${PAGE[1]}">
  <title>Cloak clasp, seat for an 18 x 13 mm carnelian</title>
  <g fill="#fff" stroke="#000" stroke-width="0.25" stroke-linejoin="round">
${outlines.map(({ id, points }) => `    <path id="${id}" d="${path(points)}"/>`).join('\n')}
  </g>
</svg>
`,
)

const asJson = (heights: HeightsInput): string => {
  heightsSchema.parse(heights)
  return `${JSON.stringify(heights, null, 2)}\n`
}

write(
  'clasp-heights.json',
  asJson({
    ...common,
    sections: shifted([PAGE[0] / 2, PAGE[1] / 2]),
    regions: Object.fromEntries(outlines.map(({ id }) => [id, heightOf(id)])),
  }),
)

const { picture, corners_px } = claspShot(2048, 1536)
const jpeg = encode({ ...picture, data: Buffer.from(picture.data.buffer) }, 82).data
write('clasp-photo.jpg', jpeg)

/** Which part of the clasp a place on the card lies in: the last painted outline round it. */
const partAt = ([x, y]: readonly [number, number]): string | undefined =>
  outlines.findLast(({ points }) => {
    let inside = false
    points.forEach(([ax, ay], k) => {
      const [bx, by] = points[(k + 1) % points.length] as Point
      if (ay <= y !== by <= y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside
    })
    return inside
  })?.id

const setting = {
  ...common,
  sections: shifted([62.8, 38.6]),
  photo: {
    // marked by hand: to the nearest pixel
    scale: {
      by: 'sheet' as const,
      corners_px: corners_px.map(([x, y]) => [Math.round(x), Math.round(y)]),
      ...CARD,
    },
    join_mm: 0.8,
  },
} as HeightsInput
const decoded = await decodePicture(jpeg, 'clasp-photo.jpg')
if ('unreadable' in decoded) throw new Error(decoded.unreadable)
const heights = heightsSchema.parse(setting)
if (heights.photo === undefined) throw new Error('the photo has no setting')
const trace = tracePhoto(decoded.picture, heights.photo)
const found = findRegions(trace.drawing.marks, { join_mm: heights.join_mm })
const regions = Object.fromEntries(
  found.regions.map(({ id, at_mm }) => {
    const part = partAt([at_mm[0] - 62.8, at_mm[1] - 38.6])
    if (part === undefined) throw new Error(`${id} lies outside the clasp`)
    return [id, heightOf(part)]
  }),
)
write('clasp-photo-heights.json', asJson({ ...setting, regions }))
for (const { kind, what } of [...trace.problems, ...found.problems])
  process.stdout.write(`${kind}: ${what}\n`)
for (const { id, area_mm2, at_mm } of found.regions)
  process.stdout.write(`${id}: ${area_mm2.toFixed(2)} mm2 ${partAt([at_mm[0] - 62.8, at_mm[1] - 38.6])}\n`)
process.stdout.write(
  `straight ${trace.straightness_mm} mm, ${trace.dropped} specks, gaps ${JSON.stringify(trace.joined)}\n`,
)
