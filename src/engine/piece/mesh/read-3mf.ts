import { SaxesParser } from 'saxes'
import { type Archive, openArchive } from './archive.ts'
import {
  emptyMesh,
  type LengthUnit,
  MeshBuilder,
  type ModelReading,
  type ReadLimits,
  readingOf,
  type TriangleMesh,
} from './model-reading.ts'
import { fileProblems, type MeshProblem } from './problems.ts'
import { after, appendMesh, isSound, type Transform, unmoved } from './transform.ts'

type Placed = { part: string; object: string; transform: Transform }
type Shape = { type: string; mesh: TriangleMesh; components: Placed[] }
type Part = { unit: LengthUnit; objects: Map<string, Shape>; build: Placed[] }

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02'
const PRODUCTION = 'http://schemas.microsoft.com/3dmanufacturing/production/2015/06'
const MODEL_RELATION = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel'
/** Extensions that leave the triangles as they are: colours and part names. */
const HARMLESS = [CORE, PRODUCTION, 'http://schemas.microsoft.com/3dmanufacturing/material/2015/02']
const UNITS: Readonly<Record<string, LengthUnit>> = {
  micron: 'um',
  millimeter: 'mm',
  centimeter: 'cm',
  inch: 'in',
  foot: 'ft',
  meter: 'm',
}

/** Reads 3MF: the objects that its build places, with their units, transforms and nested components. */
export function read3mf(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const archive = openArchive(bytes, limits)
  if ('kind' in archive) return readingOf('3mf', emptyMesh(), null, [archive])
  const root = findModel(archive)
  if (typeof root !== 'string') return readingOf('3mf', emptyMesh(), null, [root])
  const problems: MeshProblem[] = []
  const parts = new Map<string, Part | null>()
  const partOf = (name: string): Part | null => {
    const known = parts.get(name)
    if (known !== undefined) return known
    const text = archive.read(name)
    const part = text instanceof Uint8Array ? readPart(text, name, limits, problems) : null
    if (!(text instanceof Uint8Array))
      problems.push(text ?? fileProblems.malformed('a model part that is named is missing', `part "${name}"`))
    parts.set(name, part)
    return part
  }
  const model = partOf(root)
  if (!model) return readingOf('3mf', emptyMesh(), null, problems)
  if (model.build.length === 0) {
    // With other trouble present the build may only be missing because reading stopped.
    if (problems.length === 0) problems.push(fileProblems.emptyBuild())
    return readingOf('3mf', emptyMesh(), model.unit, problems)
  }
  const mesh = placeAll(model, partOf, limits, problems)
  if (mesh.corners.length === 0 && problems.length === 0)
    problems.push(fileProblems.noTriangles('the objects placed to be built hold no triangles'))
  return readingOf('3mf', mesh, model.unit, problems)
}

function findModel(archive: Archive): string | MeshProblem {
  const relations = archive.read('_rels/.rels')
  if (relations && !(relations instanceof Uint8Array)) return relations
  let target: string | null = null
  if (relations) {
    const parser = new SaxesParser()
    parser.on('error', () => {})
    parser.on('opentag', ({ name, attributes }) => {
      if (/(^|:)Relationship$/.test(name) && attributes.Type === MODEL_RELATION)
        target ??= attributes.Target ?? null
    })
    parser.write(new TextDecoder().decode(relations)).close()
  }
  const found = target ?? archive.names().find((name) => /^3d\/[^/]+\.model$/i.test(name))
  return found ?? fileProblems.malformed('the archive holds no 3D model', 'its list of parts')
}

/** One model part. Text goes through the XML reader in pieces, so that memory stays with the mesh. */
function readPart(text: Uint8Array, name: string, limits: ReadLimits, problems: MeshProblem[]): Part | null {
  const part: Part = { unit: 'mm', objects: new Map(), build: [] }
  const parser = new SaxesParser({ xmlns: true, position: true })
  let failed: MeshProblem | null = null
  let shape: Shape | null = null
  let shapeId = ''
  let builder: MeshBuilder | null = null
  let badNumbers = 0
  let badIndex: number | null = null
  let total = 0
  let rooted = false
  const here = (): string => `part "${name}", line ${parser.line}`
  const fail = (problem: MeshProblem): void => {
    failed ??= problem
  }
  parser.on('error', (error) => {
    fail(
      fileProblems.malformed(
        `its text breaks off or is not proper XML (${error.message.replace(/^[\d:. ]+/, '')})`,
        here(),
      ),
    )
  })
  parser.on('doctype', () =>
    fail(fileProblems.refused('the part declares its own document type', here(), 'export it again')),
  )
  parser.on('opentag', (tag) => {
    if (failed || tag.uri !== CORE) {
      if (!rooted && tag.local === 'model')
        fail(fileProblems.malformed('the model is of an unknown kind', here()))
      return
    }
    const value = (key: string): string | undefined => tag.attributes[key]?.value
    const other = (key: string): string | undefined =>
      Object.values(tag.attributes).find((a) => a.local === key && a.uri === PRODUCTION)?.value
    switch (tag.local) {
      case 'model': {
        rooted = true
        const unit = UNITS[value('unit') ?? 'millimeter']
        if (unit) part.unit = unit
        else fail(fileProblems.malformed(`the unit "${value('unit')}" is not known`, here()))
        for (const prefix of (value('requiredextensions') ?? '').split(/\s+/).filter(Boolean)) {
          const uri = tag.ns[prefix] ?? prefix
          if (!HARMLESS.includes(uri))
            problems.push(
              fileProblems.notRead(
                `the model needs an extension that is not read here ("${prefix}"), so part of its shape may be missing`,
                here(),
                'export it as plain triangles',
              ),
            )
        }
        break
      }
      case 'object':
        shapeId = value('id') ?? ''
        shape = { type: value('type') ?? 'model', mesh: emptyMesh(), components: [] }
        break
      case 'mesh':
        builder = new MeshBuilder()
        break
      case 'vertex': {
        const [x, y, z] = [numberIn(value('x')), numberIn(value('y')), numberIn(value('z'))]
        if (!Number.isFinite(x + y + z)) badNumbers++
        builder?.addPoint(x, y, z)
        if (builder && builder.pointCount > 3 * limits.triangles)
          fail(fileProblems.tooMany('points', builder.pointCount, 3 * limits.triangles))
        break
      }
      case 'triangle': {
        if (!builder) break
        const [a, b, c] = [indexIn(value('v1')), indexIn(value('v2')), indexIn(value('v3'))]
        const outside = [a, b, c].find((i) => !(i >= 0 && i < builder!.pointCount))
        if (outside !== undefined) {
          if (badIndex === null) {
            badIndex = outside
            problems.push(fileProblems.indexOutOfRange(outside, builder.pointCount, here()))
          }
        } else builder.addTriangle(a, b, c)
        if (++total > limits.triangles) fail(fileProblems.tooMany('triangles', total, limits.triangles))
        break
      }
      case 'component':
      case 'item': {
        const placed: Placed = {
          part: other('path') ?? name,
          object: value('objectid') ?? '',
          transform: transformIn(value('transform')),
        }
        if (!isSound(placed.transform))
          problems.push(
            fileProblems.malformed(
              `the transform of object ${placed.object} is not 12 proper numbers`,
              here(),
            ),
          )
        else if (tag.local === 'item') part.build.push(placed)
        else shape?.components.push(placed)
        if (part.build.length + (shape?.components.length ?? 0) > limits.triangles)
          fail(fileProblems.tooMany('placed objects', part.build.length, limits.triangles))
        break
      }
    }
  })
  parser.on('closetag', (tag) => {
    if (tag.uri !== CORE) return
    if (tag.local === 'mesh' && shape && builder) {
      shape.mesh = builder.finish()
      builder = null
    } else if (tag.local === 'object' && shape) {
      if (part.objects.has(shapeId))
        problems.push(fileProblems.malformed(`two objects have the number ${shapeId}`, here()))
      part.objects.set(shapeId, shape)
      shape = null
    }
  })
  const decoder = new TextDecoder()
  const step = 1 << 16
  for (let at = 0; at < text.length && !failed; at += step)
    parser.write(decoder.decode(text.subarray(at, at + step), { stream: at + step < text.length }))
  if (!failed) parser.close()
  if (badNumbers > 0) problems.push(fileProblems.notFinite(badNumbers, `points of part "${name}"`))
  if (failed) {
    problems.push(failed)
    return null
  }
  return part
}

/** Unfolds the build. Triangles are counted before they are made, since components can multiply without end. */
function placeAll(
  model: Part,
  partOf: (name: string) => Part | null,
  limits: ReadLimits,
  problems: MeshProblem[],
): TriangleMesh {
  const counts = new Map<Shape, number>()
  const broken = new Set<string>()
  const report = (problem: MeshProblem): void => {
    const key = problem.what + problem.where
    if (!broken.has(key)) problems.push(problem)
    broken.add(key)
  }
  const shapeOf = (placed: Placed): Shape | null => {
    const shape = partOf(placed.part)?.objects.get(placed.object) ?? null
    if (!shape)
      report(
        fileProblems.malformed(`object ${placed.object || '(unnamed)'} is placed but not there`, placed.part),
      )
    return shape
  }
  const within: Shape[] = []
  const count = (shape: Shape): number => {
    const known = counts.get(shape)
    if (known !== undefined) return known
    if (within.includes(shape)) {
      report(fileProblems.refused('an object is made of itself', 'its components', 'export the model again'))
      return Number.POSITIVE_INFINITY
    }
    if (within.length >= limits.nesting) {
      report(
        fileProblems.refused(
          `objects are nested more than ${limits.nesting} deep`,
          'its components',
          'export the model as one mesh',
        ),
      )
      return Number.POSITIVE_INFINITY
    }
    within.push(shape)
    let sum = shape.mesh.corners.length / 3
    for (const placed of shape.components) {
      const inner = shapeOf(placed)
      if (inner) sum += count(inner)
    }
    within.pop()
    counts.set(shape, sum)
    return sum
  }
  let total = 0
  const items: { shape: Shape; transform: Transform }[] = []
  let supports = 0
  for (const placed of model.build) {
    const shape = shapeOf(placed)
    if (!shape) continue
    if (shape.type === 'support' || shape.type === 'solidsupport') {
      supports++
      continue
    }
    items.push({ shape, transform: placed.transform })
    total += count(shape)
  }
  if (supports > 0)
    report(
      fileProblems.skipped(
        `${supports} support object(s) were left out`,
        'its build list',
        'nothing need be done',
      ),
    )
  if (!Number.isFinite(total)) return emptyMesh()
  if (total > limits.triangles) {
    report(fileProblems.tooMany('triangles', total, limits.triangles))
    return emptyMesh()
  }
  const builder = new MeshBuilder()
  const place = (shape: Shape, transform: Transform): void => {
    appendMesh(builder, shape.mesh, transform)
    for (const placed of shape.components) {
      const inner = partOf(placed.part)?.objects.get(placed.object)
      // An object without triangles below it is not walked: empty components can multiply as well.
      if (inner && (counts.get(inner) ?? 0) > 0) place(inner, after(transform, placed.transform))
    }
  }
  for (const { shape, transform } of items) if ((counts.get(shape) ?? 0) > 0) place(shape, transform)
  return builder.finish()
}

/** XML allows only plain decimal numbers; the language would also take "", "0x10" and spaces. */
const numberIn = (text: string | undefined): number =>
  text !== undefined && /^\s*[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?\s*$/i.test(text) ? Number(text) : Number.NaN

const indexIn = (text: string | undefined): number =>
  text !== undefined && /^\s*\+?\d{1,10}\s*$/.test(text) ? Number(text) : -1

function transformIn(text: string | undefined): Transform {
  if (text === undefined) return unmoved
  return text.trim().split(/\s+/).map(numberIn)
}
