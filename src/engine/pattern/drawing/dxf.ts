import type { Drawing, Mark, PatternProblem } from '../drawing.ts'
import { BESIDE_DXF } from '../lines-beside.ts'
import { type Affine, chain, shift, stretch, turn } from './affine.ts'
import { DRAWN, drawEntity, isTilted, ownPlane } from './dxf-entities.ts'
import { blockName, type DxfFile, type Entity, numberAt, readTags, textAt } from './dxf-tags.ts'
import { type Ink, Pen, TooMuchInk } from './flatten.ts'
import { joinEnds } from './join-ends.ts'
import { tellApart } from './names.ts'
import { drawingProblems, Said } from './problems.ts'
import type { DrawingOptions } from './read-drawing.ts'
import { PX_MM } from './svg-lengths.ts'

const JOIN_MM = 0.05
const VISITS_AT_MOST = 200_000
const DEEPEST = 40
/** A drawing that lies farther from its file's zero is moved there, so that places on it stay readable. */
const FAR_MM = 2000

/** $INSUNITS of the DXF reference, in millimetres, for the units in which a piece may be drawn. */
const INSUNITS: Readonly<Record<number, readonly [is: Drawing['units']['is'], mm: number]>> = {
  1: ['in', 25.4],
  2: ['ft', 304.8],
  4: ['mm', 1],
  5: ['cm', 10],
  6: ['m', 1000],
  8: ['in', 25.4e-6],
  9: ['in', 25.4e-3],
  10: ['ft', 914.4],
  13: ['mm', 1e-3],
  14: ['m', 100],
}
const ODD_UNITS: Readonly<Record<number, string>> = {
  3: 'miles',
  7: 'kilometres',
  11: 'angstroms',
  12: 'nanometres',
  15: 'decametres',
  16: 'hectometres',
  17: 'gigametres',
  18: 'astronomical units',
  19: 'light years',
  20: 'parsecs',
}
const ASKED_MM = { mm: 1, in: 25.4, px: PX_MM } as const

/** Left out without a word: they leave no line on the paper. */
const NO_LINES = ['POINT', 'VIEWPORT', 'ATTDEF', 'SEQEND', 'VERTEX', 'ENDBLK']
const REMEDIES: Readonly<Record<string, string>> = {
  HATCH: 'see that its outline is drawn as lines: the lines are read',
  TEXT: 'turn lettering into polylines if it belongs to the piece',
  MTEXT: 'turn lettering into polylines if it belongs to the piece',
  ATTRIB: 'turn lettering into polylines if it belongs to the piece',
  DIMENSION: 'nothing to do: dimensions are no part of the piece',
}

interface Visit {
  readonly file: DxfFile
  readonly said: Said
  readonly ink: Ink
  readonly marks: Mark[]
  readonly hidden: ReadonlySet<string>
  readonly passedOver: Set<string>
  readonly unread: Map<string, number>
  readonly unnamed: Map<string, number>
  visits: number
}

/** Reads a text DXF: the lines of its model space. Every mark is a line; nothing in a DXF here is a fill. */
export const readDxf = (text: string, options: DrawingOptions, pointsAtMost: number): Drawing => {
  const file = readTags(text)
  const said = new Said()
  if ('kind' in file) return answer([], { is: options.units ?? 'mm', said: false }, [file])
  const { units, mm } = unitOf(file, options, said)
  const visit: Visit = {
    file,
    said,
    ink: { most: pointsAtMost, points: 0 },
    marks: [],
    hidden: hiddenLayers(file),
    passedOver: new Set(),
    unread: new Map(),
    unnamed: new Map(),
    visits: 0,
  }
  try {
    for (const entity of file.entities)
      if (textAt(entity, 67) !== '1') draw(entity, stretch(mm, mm), '', [], visit)
  } catch (trouble) {
    if (!(trouble instanceof TooMuchInk)) throw trouble
    return answer([], units, [...said.all(), drawingProblems.tooMany(pointsAtMost)])
  }
  for (const [type, count] of visit.unread)
    said.say(
      drawingProblems.entityTypes(
        type,
        count,
        (Object.hasOwn(REMEDIES, type) ? REMEDIES[type] : undefined) ??
          'turn it into polylines if it belongs to the piece',
      ),
    )
  if (visit.passedOver.size > 0) said.say(drawingProblems.hiddenLayers([...visit.passedOver]))
  const joined = joinEnds(tellApart(visit.marks), options.join_mm ?? JOIN_MM)
  if (joined.gaps > 0) said.say(drawingProblems.joined(joined.gaps, joined.widest_mm))
  const box = boundsOf(joined.marks)
  if (box === undefined) {
    said.say(drawingProblems.nothingDrawn())
    return answer([], units, said.all())
  }
  const { x, y, width, height } = box
  if (!units.said && options.units === undefined) said.say(drawingProblems.noUnit([width, height]))
  const isFar =
    Math.max(Math.abs(x), Math.abs(y), Math.abs(x + width), Math.abs(y + height)) >
    FAR_MM + Math.max(width, height)
  if (isFar) said.say(drawingProblems.moved())
  return answer(isFar ? joined.marks.map((mark) => moved(mark, -x, -y)) : joined.marks, units, said.all())
}

const answer = (
  marks: readonly Mark[],
  units: Drawing['units'],
  problems: readonly PatternProblem[],
): Drawing => ({
  format: 'dxf',
  marks,
  units,
  scaleSpread: 0,
  outlineSpread_mm: 0,
  problems,
})

const unitOf = (
  { header }: DxfFile,
  { units }: DrawingOptions,
  said: Said,
): { readonly units: Drawing['units']; readonly mm: number } => {
  const code = Number(header.get('$INSUNITS') ?? '0')
  const known = INSUNITS[code]
  if (known !== undefined) return { units: { is: known[0], said: true }, mm: known[1] }
  const odd = ODD_UNITS[code]
  if (odd !== undefined) said.say(drawingProblems.oddUnit(odd))
  return { units: { is: units ?? 'mm', said: false }, mm: ASKED_MM[units ?? 'mm'] }
}

/** DXF knows no case in names. */
const nameOfLayer = (name: string | undefined): string => (name ?? '').toUpperCase()

/** Layers that are frozen, or off: a colour below zero. */
const hiddenLayers = ({ layers }: DxfFile): Set<string> =>
  new Set(
    layers
      .filter((layer) => (numberAt(layer, 70, 0) & 1) === 1 || numberAt(layer, 62, 7) < 0)
      .map((layer) => nameOfLayer(textAt(layer, 2))),
  )

const draw = (
  entity: Entity,
  to_mm: Affine,
  through: string,
  active: readonly string[],
  visit: Visit,
): void => {
  visit.visits += 1
  if (visit.visits > VISITS_AT_MOST) throw new TooMuchInk()
  const { type, line } = entity
  const layer = textAt(entity, 8) ?? '0'
  if (visit.hidden.has(nameOfLayer(layer))) {
    visit.passedOver.add(layer)
    return
  }
  if (textAt(entity, 60) === '1' || NO_LINES.includes(type)) return
  if (textAt(entity, 1000)?.startsWith(BESIDE_DXF)) {
    visit.said.say(drawingProblems.besideDrawing(`layer ${layer}`))
    return
  }
  const where = `${type} ${textAt(entity, 5) ?? ''}, line ${line}`.replace(' ,', ',')
  if (type === 'INSERT') {
    drawInsert(entity, to_mm, idOf(entity, layer, through, visit), active, visit, where)
    return
  }
  if (!(DRAWN as readonly string[]).includes(type)) {
    visit.unread.set(type, (visit.unread.get(type) ?? 0) + 1)
    return
  }
  const drawn = drawEntity(entity, (plane) => new Pen(chain(to_mm, plane), visit.ink), to_mm)
  if (typeof drawn === 'string') {
    visit.said.say(drawingProblems.badEntity(drawn, where))
    return
  }
  if (isTilted(entity)) visit.said.say(drawingProblems.tilted(where))
  const runs = drawn.runs.filter(({ points }) => points.every(Number.isFinite))
  if (runs.length < Math.max(1, drawn.runs.length)) {
    visit.said.say(drawingProblems.badEntity('a place or size of it is no number', where))
    return
  }
  visit.marks.push({ id: idOf(entity, layer, through, visit), runs, line: true })
}

/** The entity's handle; without one its layer and a count on that layer. */
const idOf = (entity: Entity, layer: string, through: string, { unnamed }: Visit): string => {
  const handle = textAt(entity, 5)
  if (handle !== undefined && handle !== '') return `${through}${handle}`
  const key = `${through}${layer}`
  const count = (unnamed.get(key) ?? 0) + 1
  unnamed.set(key, count)
  return `${key}-${count}`
}

const drawInsert = (
  entity: Entity,
  to_mm: Affine,
  id: string,
  active: readonly string[],
  visit: Visit,
  where: string,
): void => {
  const name = blockName(entity)
  const block = visit.file.blocks.get(name)
  if (block === undefined) {
    visit.said.say(drawingProblems.missing(textAt(entity, 2) ?? '', where))
    return
  }
  if (active.includes(name) || active.length > DEEPEST) {
    visit.said.say(drawingProblems.circular(where))
    return
  }
  const number = (code: number, otherwise: number): number => numberAt(entity, code, otherwise)
  const columns = Math.max(1, number(70, 1))
  const rows = Math.max(1, number(71, 1))
  // The array's steps are turned with the block but not scaled with it.
  const at = chain(
    to_mm,
    ownPlane({ ...entity }),
    shift(number(10, 0), number(20, 0)),
    turn((number(50, 0) * Math.PI) / 180),
  )
  const own = chain(
    stretch(number(41, 1), number(42, 1)),
    shift(-numberAt(block, 10, 0), -numberAt(block, 20, 0)),
  )
  if (![...at, ...own, columns, rows].every(Number.isFinite)) {
    visit.said.say(drawingProblems.badEntity('a place or size of it is no number', where))
    return
  }
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1) {
      visit.visits += 1
      if (visit.visits > VISITS_AT_MOST) throw new TooMuchInk()
      const step = shift(column * number(44, 0), row * number(45, 0))
      const part = rows * columns > 1 ? `${id}.${row + 1}-${column + 1}.` : `${id}.`
      for (const one of block.parts) draw(one, chain(at, step, own), part, [...active, name], visit)
    }
}

const boundsOf = (
  marks: readonly Mark[],
):
  | { readonly x: number; readonly y: number; readonly width: number; readonly height: number }
  | undefined => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { runs } of marks)
    for (const { points } of runs)
      for (let i = 0; i < points.length; i += 2) {
        minX = Math.min(minX, points[i] as number)
        maxX = Math.max(maxX, points[i] as number)
        minY = Math.min(minY, points[i + 1] as number)
        maxY = Math.max(maxY, points[i + 1] as number)
      }
  return maxX < minX ? undefined : { x: minX, y: minY, width: maxX - minX, height: maxY - minY }
}

const moved = (mark: Mark, dx: number, dy: number): Mark => ({
  ...mark,
  runs: mark.runs.map(({ points, closed }) => ({
    closed,
    points: points.map((value, i) => value + (i % 2 === 0 ? dx : dy)),
  })),
})
