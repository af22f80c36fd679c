import {
  emptyMesh,
  MeshBuilder,
  type ModelReading,
  type ReadLimits,
  readingOf,
  type TriangleMesh,
} from './model-reading.ts'
import { fileProblems, type MeshProblem } from './problems.ts'
import { after, appendMesh, isSound, type Transform, unmoved } from './transform.ts'

type Json = Readonly<Record<string, unknown>>

const GLB_MARK = 0x46546c67
const JSON_CHUNK = 0x4e4f534a
const BIN_CHUNK = 0x004e4942
const BYTE_SIZES: Readonly<Record<number, number>> = { 5120: 1, 5121: 1, 5122: 2, 5123: 2, 5125: 4, 5126: 4 }
const COMPRESSED = ['KHR_draco_mesh_compression', 'EXT_meshopt_compression', 'KHR_meshopt_compression']
const RESHAPING = ['EXT_mesh_gpu_instancing']

/** What stops a whole file: carried by throw inside this reader only, and turned into a value at its edge. */
class Unreadable extends Error {
  readonly problem: MeshProblem
  constructor(problem: MeshProblem) {
    super(problem.what)
    this.problem = problem
  }
}
const malformed = (what: string, where: string): Unreadable =>
  new Unreadable(fileProblems.malformed(what, where))

/**
 * Reads GLB (binary glTF 2.0): the triangles of its scene, each node placed. glTF counts in metres.
 * Read by hand rather than through a library because every offset, stride and count must be held against
 * the bytes before use, and because the answer must come at once, not by promise.
 */
export function readGlb(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const problems: MeshProblem[] = []
  try {
    const mesh = new GlbReader(bytes, limits, problems).read()
    if (mesh.corners.length === 0 && problems.length === 0)
      problems.push(fileProblems.noTriangles('the scene holds no triangles'))
    return readingOf('glb', mesh, 'm', problems)
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error
    return readingOf('glb', emptyMesh(), 'm', [...problems, error.problem])
  }
}

class GlbReader {
  private readonly bytes: Uint8Array
  private readonly limits: ReadLimits
  private readonly problems: MeshProblem[]
  private root: Json = {}
  private binary: Uint8Array | null = null
  private readonly meshes = new Map<number, TriangleMesh>()
  private readonly builder = new MeshBuilder()
  private visited = 0
  private readonly told = new Set<string>()

  constructor(bytes: Uint8Array, limits: ReadLimits, problems: MeshProblem[]) {
    this.bytes = bytes
    this.limits = limits
    this.problems = problems
  }

  read(): TriangleMesh {
    this.openChunks()
    this.refuseExtensions()
    const nodes = listIn(this.root, 'nodes')
    const scenes = listIn(this.root, 'scenes')
    const scene = scenes.length > 0 ? recordAt(scenes, (this.root.scene as number) ?? 0, 'scene') : null
    if (scenes.length > 1)
      this.tell(
        fileProblems.skipped(
          'of several scenes only the first to be shown was read',
          'its scenes',
          'nothing need be done',
        ),
      )
    const roots = scene ? listIn(scene, 'nodes') : nodes.map((_, i) => i)
    const path = new Set<number>()
    for (const index of roots) this.placeNode(nodes, index, unmoved, path)
    return this.builder.finish()
  }

  private openChunks(): void {
    const { bytes } = this
    if (bytes.length < 20) throw new Unreadable(fileProblems.endsEarly(bytes.length, 20))
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    if (view.getUint32(0, true) !== GLB_MARK)
      throw malformed('the file does not begin as GLB does', 'bytes 1 to 4')
    const version = view.getUint32(4, true)
    if (version !== 2)
      throw new Unreadable(
        fileProblems.notRead(
          `it is GLB version ${version}; version 2 is read`,
          'its header',
          'export it again',
        ),
      )
    const total = view.getUint32(8, true)
    if (total > bytes.length) throw new Unreadable(fileProblems.endsEarly(bytes.length, total))
    let text: Uint8Array | null = null
    for (let at = 12; at + 8 <= total; ) {
      const size = view.getUint32(at, true)
      const kind = view.getUint32(at + 4, true)
      if (at + 8 + size > total) throw new Unreadable(fileProblems.endsEarly(total, at + 8 + size))
      const chunk = bytes.subarray(at + 8, at + 8 + size)
      if (kind === JSON_CHUNK) text ??= chunk
      else if (kind === BIN_CHUNK) this.binary ??= chunk
      at += 8 + size
    }
    if (!text) throw malformed('it has no description of its contents', 'its first chunk')
    try {
      this.root = asRecord(JSON.parse(new TextDecoder().decode(text)), 'the description')
    } catch (error) {
      if (error instanceof Unreadable) throw error
      throw malformed('its description is not proper JSON', 'its first chunk')
    }
  }

  private refuseExtensions(): void {
    const used = [...listIn(this.root, 'extensionsUsed'), ...listIn(this.root, 'extensionsRequired')]
    const packed = used.find((name) => COMPRESSED.includes(name as string))
    if (packed !== undefined)
      throw new Unreadable(
        fileProblems.notRead(
          `its triangles are compressed (${packed}), which is not read`,
          'extensions',
          'export it without compression',
        ),
      )
    const reshaping = used.find((name) => RESHAPING.includes(name as string))
    if (reshaping !== undefined)
      throw new Unreadable(
        fileProblems.notRead(
          `it repeats parts by ${reshaping}, which is not read`,
          'extensions',
          'export it with every copy made real',
        ),
      )
    for (const buffer of listIn(this.root, 'buffers'))
      if (asRecord(buffer, 'a buffer').uri !== undefined)
        throw new Unreadable(
          fileProblems.refused(
            'it keeps its triangles in another file',
            'buffers',
            'export it as one GLB file',
          ),
        )
  }

  private placeNode(nodes: readonly unknown[], index: unknown, outer: Transform, path: Set<number>): void {
    const node = recordAt(nodes, index, 'node')
    const number = index as number
    if (path.has(number) || path.size >= this.limits.nesting * 4)
      throw new Unreadable(
        fileProblems.refused(
          'its nodes are nested in themselves or too deep',
          `node ${number}`,
          'export it again',
        ),
      )
    if (++this.visited > 1_000_000)
      throw new Unreadable(fileProblems.tooMany('placed nodes', this.visited, 1_000_000))
    const here = after(outer, transformOf(node, number))
    if (node.mesh !== undefined) {
      if (!isSound(here)) throw malformed('a node is flattened or has no proper transform', `node ${number}`)
      if (node.skin !== undefined)
        this.tell(
          fileProblems.notRead(
            'the shape is posed by a skeleton, which is not read',
            `node ${number}`,
            'apply the pose, then export',
          ),
        )
      const mesh = this.meshAt(node.mesh)
      const count = this.builder.triangleCount + mesh.corners.length / 3
      if (count > this.limits.triangles)
        throw new Unreadable(fileProblems.tooMany('triangles', count, this.limits.triangles))
      appendMesh(this.builder, mesh, here)
    }
    path.add(number)
    for (const child of listIn(node, 'children')) this.placeNode(nodes, child, here, path)
    path.delete(number)
  }

  private meshAt(index: unknown): TriangleMesh {
    const mesh = recordAt(listIn(this.root, 'meshes'), index, 'mesh')
    const known = this.meshes.get(index as number)
    if (known) return known
    const builder = new MeshBuilder()
    if (listIn(mesh, 'weights').some((w) => w !== 0))
      this.tell(
        fileProblems.notRead(
          'the shape is blended from several, which is not read',
          `mesh ${index}`,
          'apply the blend, then export',
        ),
      )
    for (const primitive of listIn(mesh, 'primitives'))
      this.addPrimitive(asRecord(primitive, 'a primitive'), index, builder)
    const made = builder.finish()
    this.meshes.set(index as number, made)
    return made
  }

  private addPrimitive(primitive: Json, index: unknown, builder: MeshBuilder): void {
    const where = `mesh ${index}`
    const mode = primitive.mode ?? 4
    if (mode !== 4 && mode !== 5 && mode !== 6) {
      this.tell(fileProblems.skipped('points and lines were left out', where, 'nothing need be done'))
      return
    }
    const attributes = asRecord(primitive.attributes ?? {}, where)
    if (attributes.POSITION === undefined) return
    const points = this.accessor(attributes.POSITION, 'VEC3', where)
    const first = builder.pointCount
    for (let i = 0; i < points.length; i += 3) builder.addPoint(points[i]!, points[i + 1]!, points[i + 2]!)
    const count = points.length / 3
    const order = primitive.indices === undefined ? null : this.accessor(primitive.indices, 'SCALAR', where)
    const n = order ? order.length : count
    const at = (i: number): number => {
      const point = order ? order[i]! : i
      if (!(point < count)) throw new Unreadable(fileProblems.indexOutOfRange(point, count, where))
      return first + point
    }
    if (mode === 4) for (let i = 0; i + 2 < n; i += 3) builder.addTriangle(at(i), at(i + 1), at(i + 2))
    else if (mode === 5)
      for (let i = 0; i + 2 < n; i++) builder.addTriangle(at(i), at(i + 1 + (i % 2)), at(i + 2 - (i % 2)))
    else for (let i = 1; i + 1 < n; i++) builder.addTriangle(at(0), at(i), at(i + 1))
    if (mode === 4 && n % 3 !== 0)
      this.tell(fileProblems.malformed('its corners do not come in threes', where))
  }

  /** Numbers of an accessor, with its sparse changes, after holding every offset against the bytes. */
  private accessor(index: unknown, type: 'VEC3' | 'SCALAR', where: string): Float64Array {
    const accessor = recordAt(listIn(this.root, 'accessors'), index, 'accessor')
    const width = type === 'VEC3' ? 3 : 1
    const count = wholeIn(accessor.count, `${where}, accessor ${index}`)
    const component = accessor.componentType as number
    if (accessor.type !== type) throw malformed(`an accessor is ${accessor.type}, not ${type}`, where)
    if (type === 'SCALAR' && ![5121, 5123, 5125].includes(component))
      throw malformed('corner numbers are not whole numbers', where)
    if (count > 3 * this.limits.triangles)
      throw new Unreadable(fileProblems.tooMany('numbers', count, 3 * this.limits.triangles))
    const scale = accessor.normalized === true ? (NORMAL[component] ?? 1) : 1
    const out =
      accessor.bufferView === undefined
        ? new Float64Array(count * width)
        : this.unpack(accessor.bufferView, accessor.byteOffset, component, count, width, scale, where)
    if (accessor.sparse !== undefined) {
      const sparse = asRecord(accessor.sparse, where)
      const changes = wholeIn(sparse.count, where)
      const at = asRecord(sparse.indices, where)
      const to = asRecord(sparse.values, where)
      const which = this.unpack(
        at.bufferView,
        at.byteOffset,
        at.componentType as number,
        changes,
        1,
        1,
        where,
      )
      const values = this.unpack(to.bufferView, to.byteOffset, component, changes, width, scale, where)
      which.forEach((target, i) => {
        if (!(target < count)) throw new Unreadable(fileProblems.indexOutOfRange(target, count, where))
        for (let k = 0; k < width; k++) out[target * width + k] = values[i * width + k]!
      })
    }
    return out
  }

  private unpack(
    viewIndex: unknown,
    offset: unknown,
    component: number,
    count: number,
    width: number,
    scale: number,
    where: string,
  ): Float64Array {
    const size = BYTE_SIZES[component]
    const area = recordAt(listIn(this.root, 'bufferViews'), viewIndex, 'buffer view')
    if (!size) throw malformed(`an accessor has numbers of unknown kind ${component}`, where)
    if (area.buffer !== 0 || !this.binary)
      throw malformed('its numbers lie in a buffer that is not there', where)
    const stride = wholeIn(area.byteStride ?? size * width, where)
    const inner = wholeIn(offset ?? 0, where)
    const length = wholeIn(area.byteLength, where)
    const start = wholeIn(area.byteOffset ?? 0, where)
    const last = count === 0 ? 0 : inner + stride * (count - 1) + size * width
    if (stride < size * width && count > 1) throw malformed('its numbers overlap', where)
    if (last > length || start + length > this.binary.length)
      throw new Unreadable(
        fileProblems.endsEarly(
          this.bytes.length,
          this.bytes.length + Math.max(last - length, start + length - this.binary.length),
        ),
      )
    const view = new DataView(this.binary.buffer, this.binary.byteOffset + start, length)
    const out = new Float64Array(count * width)
    const read = READERS[component]!
    for (let i = 0; i < count; i++)
      for (let k = 0; k < width; k++) {
        const value = read(view, inner + i * stride + k * size) * scale
        // Signed whole numbers have one more step below zero; the standard clamps it.
        out[i * width + k] = scale !== 1 && value < -1 ? -1 : value
      }
    return out
  }

  private tell(problem: MeshProblem): void {
    if (!this.told.has(problem.what)) this.problems.push(problem)
    this.told.add(problem.what)
  }
}

const READERS: Readonly<Record<number, (view: DataView, at: number) => number>> = {
  5120: (view, at) => view.getInt8(at),
  5121: (view, at) => view.getUint8(at),
  5122: (view, at) => view.getInt16(at, true),
  5123: (view, at) => view.getUint16(at, true),
  5125: (view, at) => view.getUint32(at, true),
  5126: (view, at) => view.getFloat32(at, true),
}
const NORMAL: Readonly<Record<number, number>> = {
  5120: 1 / 127,
  5121: 1 / 255,
  5122: 1 / 32767,
  5123: 1 / 65535,
}

function transformOf(node: Json, index: number): Transform {
  const where = `node ${index}`
  if (node.matrix !== undefined) {
    const m = numbersIn(node.matrix, 16, where)
    return [m[0]!, m[1]!, m[2]!, m[4]!, m[5]!, m[6]!, m[8]!, m[9]!, m[10]!, m[12]!, m[13]!, m[14]!]
  }
  const [tx, ty, tz] = node.translation === undefined ? [0, 0, 0] : numbersIn(node.translation, 3, where)
  const [qx, qy, qz, qw] =
    node.rotation === undefined ? [0, 0, 0, 1] : unit(numbersIn(node.rotation, 4, where), where)
  const [sx, sy, sz] = node.scale === undefined ? [1, 1, 1] : numbersIn(node.scale, 3, where)
  const [x, y, z, w] = [qx!, qy!, qz!, qw!]
  return [
    (1 - 2 * (y * y + z * z)) * sx!,
    2 * (x * y + z * w) * sx!,
    2 * (x * z - y * w) * sx!,
    2 * (x * y - z * w) * sy!,
    (1 - 2 * (x * x + z * z)) * sy!,
    2 * (y * z + x * w) * sy!,
    2 * (x * z + y * w) * sz!,
    2 * (y * z - x * w) * sz!,
    (1 - 2 * (x * x + y * y)) * sz!,
    tx!,
    ty!,
    tz!,
  ]
}

/** A rotation whose four numbers are a little off unit length would swell the part. */
function unit(q: readonly number[], where: string): number[] {
  const size = Math.hypot(...q)
  if (size < 1e-6) throw malformed('a rotation is zero', where)
  return q.map((v) => v / size)
}

function asRecord(value: unknown, what: string): Json {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw malformed(`${what} is not as it should be`, 'its description')
  return value as Json
}

function listIn(record: Json, key: string): readonly unknown[] {
  const value = record[key]
  return Array.isArray(value) ? value : []
}

function recordAt(list: readonly unknown[], index: unknown, what: string): Json {
  if (!Number.isInteger(index) || !((index as number) >= 0 && (index as number) < list.length))
    throw malformed(`it names ${what} ${String(index)}, of ${list.length}`, 'its description')
  return asRecord(list[index as number], what)
}

function wholeIn(value: unknown, where: string): number {
  if (!Number.isInteger(value) || (value as number) < 0)
    throw malformed('a count or offset is not a whole number', where)
  return value as number
}

function numbersIn(value: unknown, count: number, where: string): number[] {
  if (!Array.isArray(value) || value.length !== count || !value.every((v) => Number.isFinite(v)))
    throw malformed(`a transform does not have ${count} numbers`, where)
  return value as number[]
}
