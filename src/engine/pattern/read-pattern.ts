import type { Heights } from '../documents/index.ts'
import type { MeshFacts } from '../piece/index.ts'
import { type CastableFindings, findCastable, measureThickness } from './castable/index.ts'
import { applyCorrections } from './corrections.ts'
import { readDrawing } from './drawing/index.ts'
import type { Drawing, PatternProblem, Regions } from './drawing.ts'
import { castRegions, reliefToCast } from './filing.ts'
import { type PhotoTrace, type Picture, tracePhoto } from './photo/index.ts'
import { findRegions } from './regions/index.ts'
import type { Relief } from './relief/index.ts'
import type { ReliefSolids } from './solids.ts'

export interface PatternInput {
  readonly bytes: Uint8Array
  readonly name: string
  readonly heights: Heights
  /** the decoded pixels, when the drawing is a photo or a scan */
  readonly picture?: Picture
}

/** A drawing in its regions, with everything said about it on the way. */
export interface PatternReading {
  readonly drawing: Drawing
  readonly regions: Regions
  readonly trace?: PhotoTrace
  readonly problems: readonly PatternProblem[]
}

export interface PatternShape {
  readonly relief: Relief
  readonly castable: CastableFindings
  readonly facts: MeshFacts
}

const NO_PHOTO_SETTING: PatternProblem = {
  kind: 'photo-without-scale',
  level: 'stop',
  what: 'the picture has no scale yet',
  where: 'photo',
  remedy: 'mark the four corners of a sheet of known size, or two points a known distance apart',
}

const UNREADABLE: PatternProblem = {
  kind: 'picture-unreadable',
  level: 'stop',
  what: 'the picture is damaged or of a kind that can’t be decoded',
  where: 'the file',
  remedy: 'save it again as JPEG, PNG or WebP, or photograph the drawing again',
}

const PICTURE_NAME = /\.(png|jpe?g|webp)$/i

const EMPTY: Drawing = {
  format: 'photo',
  marks: [],
  units: { is: 'px', said: false },
  scaleSpread: 0,
  outlineSpread_mm: 0,
  problems: [],
}

/** What was drawn, before any correction by hand. */
export interface MarksRead {
  readonly drawing: Drawing
  readonly trace?: PhotoTrace
}

/** What was drawn, put right by hand and divided into faces. */
export interface MarksDivided {
  readonly marks: Drawing['marks']
  readonly regions: Regions
  readonly problems: readonly PatternProblem[]
}

/** The slow step for a photo; of the heights it rests on `units`, `join_mm` and `photo` only. */
export const readMarks = ({ bytes, name, heights, picture }: PatternInput): MarksRead => {
  if (picture === undefined && PICTURE_NAME.test(name))
    return { drawing: { ...EMPTY, problems: [UNREADABLE] } }
  if (picture === undefined)
    return { drawing: readDrawing(bytes, name, { units: heights.units, join_mm: heights.join_mm }) }
  if (heights.photo === undefined) return { drawing: { ...EMPTY, problems: [NO_PHOTO_SETTING] } }
  const trace = tracePhoto(picture, heights.photo)
  return { drawing: trace.drawing, trace }
}

/** Of the heights it rests on `corrections` and `join_mm` only. */
export const divideMarks = ({ drawing }: MarksRead, heights: Heights): MarksDivided => {
  const { marks, problems } = applyCorrections(drawing.marks, heights.corrections)
  return { marks, regions: findRegions(marks, { join_mm: heights.join_mm }), problems }
}

/** Everything said of a drawing, heights given to regions that it lacks included. */
export const tellReading = (read: MarksRead, divided: MarksDivided, heights: Heights): PatternReading => {
  const { drawing, trace } = read
  const { marks, regions } = divided
  const known = new Set(regions.regions.map(({ id }) => id))
  const strangers = Object.keys(heights.regions).filter((id) => !known.has(id))
  return {
    drawing: { ...drawing, marks },
    regions,
    trace,
    problems: [
      ...drawing.problems,
      ...(trace?.problems ?? []).filter((problem) => !drawing.problems.includes(problem)),
      ...divided.problems,
      // a file that could not be read has no region for that reason alone
      ...(isStopped(drawing.problems) && drawing.marks.length === 0 ? [] : regions.problems),
      ...strangers.map((id): PatternProblem => unknownRegion(id, [...known])),
    ],
  }
}

const NO_UNIT = 'no-unit'

/** Nobody is there to press a size: a drawing without a unit is stopped, with its size both ways. */
const stoppedWithoutUnit = (problem: PatternProblem): PatternProblem =>
  problem.kind === NO_UNIT ? { ...problem, level: 'stop' } : problem

/** Whether a reading was stopped because nobody has said what its numbers are. */
export const lacksUnit = ({ problems }: Pick<PatternReading, 'problems'>): PatternProblem | undefined =>
  problems.find(({ kind }) => kind === NO_UNIT)

/**
 * From a file to its regions: read or traced, corrected by hand, divided into faces. Nothing throws for bad
 * input. A drawing whose unit nobody has said is divided as it would be shown, and stopped.
 */
export const readPattern = (input: PatternInput): PatternReading => {
  const read = readMarks(input)
  const reading = tellReading(read, divideMarks(read, input.heights), input.heights)
  return { ...reading, problems: reading.problems.map(stoppedWithoutUnit) }
}

const SHOWN = 8

const unknownRegion = (id: string, known: readonly string[]): PatternProblem => ({
  kind: 'no-such-region',
  level: 'check',
  what: `a height is given for "${id}", but the drawing has no such region`,
  where: `regions/${id}`,
  remedy:
    known.length === 0
      ? 'mend the drawing first: it has no region yet'
      : `name one of: ${known.slice(0, SHOWN).join(', ')}${known.length > SHOWN ? ` and ${known.length - SHOWN} more` : ''}`,
})

/** A drawing in numbers of which nobody has said what they are; undefined where somebody has. */
export const unitsUnsaid = ({ drawing }: PatternReading, { units }: Heights): PatternProblem | undefined =>
  drawing.units.said || units !== undefined || drawing.format === 'photo'
    ? undefined
    : {
        kind: 'unit-unsaid',
        level: 'stop',
        what: 'the drawing names no unit, so it has no size and no weight yet',
        where: 'units',
        remedy: 'say what its numbers are: press the size that is yours',
      }

/** Whether anything said about a drawing takes its weight away. */
export const isStopped = (problems: readonly PatternProblem[]): boolean =>
  problems.some(({ level }) => level === 'stop')

/** From regions and heights to the solid, what is hard to cast about it, and what the plan takes of it. */
export const shapePattern = (
  reading: PatternReading,
  heights: Heights,
  solids: ReliefSolids,
): PatternShape => {
  const { regions } = reading.regions
  const relief = reliefToCast(regions, heights, solids, reading.drawing.outlineSpread_mm)
  const castable = findCastable(relief, castRegions(regions, heights).regions, heights)
  return { relief, castable, facts: factsOfPattern(reading, relief, castable) }
}

/** The same solid and facts, without looking for what is hard to cast: all that a plan takes of a drawing. */
export const weighPattern = (
  reading: PatternReading,
  heights: Heights,
  solids: ReliefSolids,
): Omit<PatternShape, 'castable'> => {
  const relief = reliefToCast(reading.regions.regions, heights, solids, reading.drawing.outlineSpread_mm)
  return { relief, facts: factsOfPattern(reading, relief, { thickness_mm: measureThickness(relief) }) }
}

/** What a plan takes of a drawing. A drawing that is stopped, or has no region, is built into nothing. */
export const factsOfDrawing = (
  reading: PatternReading,
  heights: Heights,
  solids: () => Promise<ReliefSolids>,
): Promise<MeshFacts> =>
  isBuildable(reading)
    ? solids().then((made) => weighPattern(reading, heights, made).facts)
    : Promise.resolve(factsWithoutSolid(reading))

/** Whether a drawing has regions to stand on, and nothing said of it takes its weight away. */
export const isBuildable = ({ regions, problems }: PatternReading): boolean =>
  regions.regions.length > 0 && !isStopped(problems)

/** Nothing to build: the plan is told why. */
export const factsWithoutSolid = ({ problems }: PatternReading): MeshFacts => ({
  volume_mm3: null,
  area_mm2: null,
  bounds_mm: null,
  thickness_mm: null,
  problems: toldOf(problems),
})

/** What asks something of the caster, stops first. */
const toldOf = (problems: readonly PatternProblem[]): MeshFacts['problems'] =>
  problems
    .filter(({ level }) => level !== 'note')
    .sort((a, b) => Number(b.level === 'stop') - Number(a.level === 'stop'))
    .map(({ what, where, remedy }) => ({ what, where, remedy }))

/** What the plan takes; a drawing with a stop has no weight. */
export const factsOfPattern = (
  reading: PatternReading,
  relief: Relief,
  castable?: Pick<CastableFindings, 'thickness_mm'>,
): MeshFacts => {
  const problems = [...reading.problems, ...relief.problems]
  const sound = !isStopped(problems) && relief.closed
  return {
    volume_mm3: sound ? relief.volume_mm3 : null,
    area_mm2: sound ? relief.area_mm2 : null,
    bounds_mm: sound ? relief.bounds_mm : null,
    thickness_mm: castable?.thickness_mm ?? null,
    problems: toldOf(problems),
    drawn: {
      plan_mm2: relief.planArea_mm2,
      rim_mm2: relief.rimArea_mm2,
      ...(relief.filed_mm3 !== undefined && { filed_mm3: relief.filed_mm3 }),
      scaleSpread: reading.drawing.scaleSpread,
      outlineSpread_mm: reading.drawing.outlineSpread_mm,
    },
  }
}
