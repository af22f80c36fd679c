import { atWaxSize, BESIDE_DXF } from './lines-beside.ts'
import type { TemplateLayout } from './template/index.ts'

type Group = readonly [code: number, value: string | number]

/** DXF's number for millimetres in $INSUNITS (DXF reference, header section). */
const MILLIMETRES = 4
const PROGRAM = 'POURWRIGHT'
/** The oldest form still read everywhere allows these letters, and so many of them. */
const LONGEST_LAYER = 31

const RIM = 'RIM'
const OPENING = 'OPENING'
const VEINS = 'VEINS'
const ADDED_FRONT = 'ADDED_FRONT'
const ADDED_BACK = 'ADDED_BACK'

/** A layer for each region, named by its id as far as the form allows; two that would be alike are told apart. */
const layersOf = (ids: Iterable<string>): Map<string, string> => {
  const layers = new Map<string, string>()
  const taken = new Set([RIM, OPENING, VEINS, ADDED_FRONT, ADDED_BACK, '0'])
  for (const id of ids) {
    if (layers.has(id)) continue
    const plain =
      id
        .toUpperCase()
        .replace(/[^A-Z0-9$_-]/g, '_')
        .slice(0, LONGEST_LAYER) || '_'
    let name = plain
    for (let n = 2; taken.has(name); n += 1)
      name = `${plain.slice(0, LONGEST_LAYER - 1 - `${n}`.length)}_${n}`
    taken.add(name)
    layers.set(id, name)
  }
  return layers
}

const number = (value: number): string => (Number(value.toFixed(6)) + 0).toString()

const polyline = (layer: string, points: Float64Array, closed: boolean, id: string): Group[] => [
  [0, 'POLYLINE'],
  [8, layer],
  [66, 1],
  [10, '0'],
  [20, '0'],
  [30, '0'],
  [70, closed ? 1 : 0],
  [1001, PROGRAM],
  [1000, id.replace(/[\r\n]/g, ' ').slice(0, 255)],
  ...Array.from({ length: points.length / 2 }, (_, i): Group[] => [
    [0, 'VERTEX'],
    [8, layer],
    [10, number(points[2 * i] ?? 0)],
    [20, number(points[2 * i + 1] ?? 0)],
    [30, '0'],
  ]).flat(),
  [0, 'SEQEND'],
  [8, layer],
]

const isAnticlockwise = (points: Float64Array): boolean => {
  let twice = 0
  for (let i = 0, n = points.length; i < n; i += 2) {
    const j = (i + 2) % n
    twice += (points[i] ?? 0) * (points[j + 1] ?? 0) - (points[j] ?? 0) * (points[i + 1] ?? 0)
  }
  return twice > 0
}

/**
 * The lines at the size of the wax as DXF R12, in millimetres, each line once: the rim on RIM, what is cut
 * through on OPENING, every line between regions on a layer named by its region's id, lines that
 * divide nothing on VEINS, hardware and stones on ADDED_FRONT and ADDED_BACK. The whole id stands in the extended data of each polyline.
 */
export const templateDxf = ({ wax, added }: TemplateLayout): string => {
  const layers = layersOf(wax.inner.map(({ id }) => id))
  const beside = atWaxSize(added, wax)
  const used = [
    RIM,
    OPENING,
    ...layers.values(),
    ...(wax.veins.length === 0 ? [] : [VEINS]),
    ...new Set(beside.map(({ hidden }) => (hidden ? ADDED_BACK : ADDED_FRONT))),
  ]
  const groups: Group[] = [
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, 'AC1009'],
    [9, '$INSUNITS'],
    [70, MILLIMETRES],
    [9, '$MEASUREMENT'],
    [70, 1],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'TABLES'],
    [0, 'TABLE'],
    [2, 'APPID'],
    [70, 1],
    [0, 'APPID'],
    [2, PROGRAM],
    [70, 0],
    [0, 'ENDTAB'],
    [0, 'TABLE'],
    [2, 'LAYER'],
    [70, used.length],
    ...used.flatMap((name): Group[] => [
      [0, 'LAYER'],
      [2, name],
      [70, 0],
      [62, 7],
      [6, 'CONTINUOUS'],
    ]),
    [0, 'ENDTAB'],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...wax.outline.flatMap((loop) => {
      const layer = isAnticlockwise(loop) ? RIM : OPENING
      return polyline(layer, loop, true, layer.toLowerCase())
    }),
    ...wax.inner.flatMap(({ points, closed, id }) => polyline(layers.get(id) ?? '0', points, closed, id)),
    ...wax.veins.flatMap((points, k) => polyline(VEINS, points, false, `vein-${k + 1}`)),
    ...beside.flatMap(({ id, loop, hidden }) =>
      polyline(hidden ? ADDED_BACK : ADDED_FRONT, loop, true, `${BESIDE_DXF}${id}`),
    ),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ]
  return `${groups.map(([code, value]) => `${code}\r\n${value}`).join('\r\n')}\r\n`
}
