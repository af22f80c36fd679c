import type { FileSource } from '../engine/documents/index.ts'
import { factsWithoutSolid, isBuildable, weighPattern } from '../engine/pattern/index.ts'
import { measureModel, type TriangleMesh } from '../engine/piece/mesh/index.ts'
import { factsOf, type MeshFacts } from '../engine/piece/mesh-facts.ts'
import { readDrawnFile } from './read-drawn-file.ts'
import type { SlowWork } from './settle.ts'

type MeshSource = Extract<FileSource, { from: 'mesh' }>
type PatternSource = Extract<FileSource, { from: 'pattern' }>

/** What reading a shape asks of a face. */
export type ShapeWork = Omit<SlowWork, 'loadSolver'>

/** A model or a drawing, read and measured once. */
export interface Shape {
  readonly facts: MeshFacts
  /** closed, facing outward, mm; of a drawing, as drawn. Absent where the solid can't be trusted. */
  readonly mesh?: TriangleMesh
}

const nothingOf = (file: string, found: { unreadable: string; remedy: string }): Shape => ({
  facts: {
    volume_mm3: null,
    area_mm2: null,
    bounds_mm: null,
    thickness_mm: null,
    problems: [{ what: found.unreadable, where: file, remedy: found.remedy }],
  },
})

const shapeWith = (facts: MeshFacts, mesh: TriangleMesh): Shape =>
  facts.volume_mm3 === null ? { facts } : { facts, mesh }

const measure = async (source: MeshSource, work: ShapeWork): Promise<Shape> => {
  const found = await work.readModel(source)
  if ('unreadable' in found) return nothingOf(source.file, found)
  const options = { units: source.units, acceptRepair: source.acceptRepair }
  const first = measureModel(found.bytes, source.file, options)
  // only overlapping shells want the solid modeller, so it is loaded for them alone
  const settled =
    first.volume_mm3 !== null || first.shells < 2
      ? first
      : measureModel(found.bytes, source.file, { ...options, solids: await work.loadSolids() })
  return shapeWith(factsOf(settled), settled.mesh)
}

const build = async (source: PatternSource, work: ShapeWork): Promise<Shape> => {
  const found = await work.readModel(source)
  if ('unreadable' in found) return nothingOf(source.file, found)
  const read = await readDrawnFile(found.bytes, source.file, source.heights, work.decodePicture)
  if ('unreadable' in read) return nothingOf(source.file, read)
  if (!isBuildable(read.reading)) return { facts: factsWithoutSolid(read.reading) }
  const { relief, facts } = weighPattern(read.reading, source.heights, await work.loadReliefSolids())
  return shapeWith(facts, relief.mesh)
}

/** Reads what a piece comes from: a model is measured, a drawing built. What is wrong with it is in the facts. */
export const readShape = (source: FileSource, work: ShapeWork): Promise<Shape> =>
  source.from === 'mesh' ? measure(source, work) : build(source, work)
