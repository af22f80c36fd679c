import { emptyMesh, MeshBuilder, type ModelReading, type ReadLimits, readingOf } from './model-reading.ts'
import { triangulate } from './polygon.ts'
import { fileProblems, type MeshProblem } from './problems.ts'
import { TextCursor, textOf } from './text-cursor.ts'

type Scalar = 'i1' | 'u1' | 'i2' | 'u2' | 'i4' | 'u4' | 'f4' | 'f8'
type Property = { name: string; type: Scalar; count: Scalar | null }
type Element = { name: string; count: number; properties: Property[] }
type Header = { format: 'ascii' | 'little' | 'big'; elements: Element[]; body: number }

const SCALARS: Readonly<Record<string, Scalar>> = {
  char: 'i1',
  int8: 'i1',
  uchar: 'u1',
  uint8: 'u1',
  short: 'i2',
  int16: 'i2',
  ushort: 'u2',
  uint16: 'u2',
  int: 'i4',
  int32: 'i4',
  uint: 'u4',
  uint32: 'u4',
  float: 'f4',
  float32: 'f4',
  double: 'f8',
  float64: 'f8',
}
const sizeOf = (type: Scalar): number => Number(type[1])
const LONGEST_HEADER = 64 * 1024
const LONGEST_LIST = 2_000

/** Reads PLY, text or binary in either byte order, with any extra elements and properties stepped over. */
export function readPly(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const header = readHeader(bytes)
  if ('kind' in header) return readingOf('ply', emptyMesh(), null, [header])
  const absurd = checkCounts(header, bytes, limits)
  if (absurd) return readingOf('ply', emptyMesh(), null, [absurd])

  const problems: MeshProblem[] = []
  const builder = new MeshBuilder()
  const source =
    header.format === 'ascii' ? new TextSource(bytes, header.body) : new BinarySource(bytes, header)
  let faces = false
  for (const element of header.elements) {
    if (element.name === 'vertex') readVertices(element, source, builder, problems)
    else if (element.name === 'face') {
      faces = true
      readFaces(element, source, builder, limits, problems)
    } else if (element.name === 'tristrips') {
      problems.push(
        fileProblems.notRead(
          'the faces are stored as strips, which are not read',
          'its tristrips',
          'export plain faces',
        ),
      )
      break
    } else stepOver(element, source)
    if (source.ended) {
      problems.push(source.trouble(element.name))
      break
    }
    if (builder.triangleCount > limits.triangles)
      return readingOf('ply', emptyMesh(), null, [
        fileProblems.tooMany('triangles', builder.triangleCount, limits.triangles),
      ])
  }
  if (builder.triangleCount === 0 && problems.length === 0)
    problems.push(
      fileProblems.noTriangles(
        faces ? 'the file holds no faces' : 'the file holds points only, without faces',
      ),
    )
  return readingOf('ply', builder.finish(), null, problems)
}

function readHeader(bytes: Uint8Array): Header | MeshProblem {
  const end = Math.min(bytes.length, LONGEST_HEADER)
  const elements: Element[] = []
  let format: Header['format'] | null = null
  let at = 0
  for (let line = 1; at < end; line++) {
    let stop = at
    while (stop < end && bytes[stop] !== 10 && bytes[stop] !== 13) stop++
    const words = textOf(bytes, at, stop).trim().split(/\s+/)
    at = bytes[stop] === 13 && bytes[stop + 1] === 10 ? stop + 2 : stop + 1
    const bad = (what: string): MeshProblem => fileProblems.malformed(what, `line ${line}`)
    if (line === 1) {
      if (words[0] !== 'ply') return bad('the file does not begin with "ply"')
    } else if (words[0] === 'format') {
      const known = { ascii: 'ascii', binary_little_endian: 'little', binary_big_endian: 'big' } as const
      format = known[words[1] as keyof typeof known] ?? null
      if (!format) return bad(`the format "${words[1] ?? ''}" is not known`)
    } else if (words[0] === 'element') {
      const count = Number(words[2])
      if (!words[1] || !Number.isInteger(count) || count < 0) return bad('an element has no proper count')
      elements.push({ name: words[1], count, properties: [] })
    } else if (words[0] === 'property') {
      const list = words[1] === 'list'
      const type = SCALARS[words[list ? 3 : 1] ?? '']
      const count = list ? SCALARS[words[2] ?? ''] : null
      const name = words[list ? 4 : 2]
      const element = elements.at(-1)
      if (!element || !type || count === undefined || !name) return bad('a property cannot be understood')
      element.properties.push({ name, type, count })
    } else if (words[0] === 'end_header') {
      if (!format) return bad('the header names no format')
      return { format, elements, body: at }
    }
  }
  return fileProblems.endsEarlyText(1, 'the header does not end')
}

/** Before anything is allocated: could so many rows fit in the bytes that are there? */
function checkCounts(header: Header, bytes: Uint8Array, limits: ReadLimits): MeshProblem | null {
  const body = bytes.length - header.body
  for (const { name, count, properties } of header.elements) {
    const least =
      header.format === 'ascii'
        ? Math.max(1, properties.length * 2)
        : properties.reduce((sum, p) => sum + sizeOf(p.count ?? p.type), 0)
    if (count > 0 && properties.length === 0)
      return fileProblems.malformed(`element "${name}" has no properties`, 'the header')
    const room = Math.floor((body + 1) / least)
    // A file cut short is told so where it ends; only a count beyond all reason is refused outright.
    if (count > room && (count > 1000 * Math.max(room, 1) || count > 3 * limits.triangles))
      return fileProblems.absurdCount(`rows of "${name}"`, count, room)
    if (count > 3 * limits.triangles)
      return fileProblems.tooMany(`rows of "${name}"`, count, 3 * limits.triangles)
  }
  return null
}

function readVertices(element: Element, source: Source, builder: MeshBuilder, problems: MeshProblem[]): void {
  const at = ['x', 'y', 'z'].map((axis) => element.properties.findIndex((p) => p.name === axis && !p.count))
  if (at.includes(-1)) {
    problems.push(fileProblems.malformed('its points have no x, y and z', 'the header'))
    stepOver(element, source)
    return
  }
  const row = new Float64Array(element.properties.length)
  for (let i = 0; i < element.count; i++) {
    for (let p = 0; p < row.length; p++) {
      const property = element.properties[p]!
      if (property.count) readList(property, source, [])
      else row[p] = source.next(property.type)
    }
    if (source.ended) return
    builder.addPoint(row[at[0]!]!, row[at[1]!]!, row[at[2]!]!)
  }
}

function readFaces(
  element: Element,
  source: Source,
  builder: MeshBuilder,
  limits: ReadLimits,
  problems: MeshProblem[],
): void {
  const names = ['vertex_indices', 'vertex_index']
  const corners = element.properties.findIndex((p) => p.count && names.includes(p.name))
  if (corners < 0) {
    problems.push(fileProblems.malformed('its faces name no corners', 'the header'))
    stepOver(element, source)
    return
  }
  const face: number[] = []
  const others: number[] = []
  let bad = 0
  for (let i = 0; i < element.count && builder.triangleCount <= limits.triangles; i++) {
    for (let p = 0; p < element.properties.length; p++) {
      const property = element.properties[p]!
      if (property.count) readList(property, source, p === corners ? face : others)
      else source.next(property.type)
    }
    if (source.ended) return
    const outside = face.find((c) => !(Number.isInteger(c) && c >= 0 && c < builder.pointCount))
    if (outside !== undefined) {
      if (bad++ === 0)
        problems.push(fileProblems.indexOutOfRange(outside, builder.pointCount, `face ${i + 1}`))
    } else if (face.length < 3) {
      if (bad++ === 0)
        problems.push(fileProblems.malformed('a face has fewer than three corners', `face ${i + 1}`))
    } else triangulate(builder.positions, face, (a, b, c) => builder.addTriangle(a, b, c))
  }
}

function readList(property: Property, source: Source, into: number[]): void {
  const count = source.next(property.count ?? 'u1')
  into.length = 0
  if (!Number.isInteger(count) || count < 0 || count > LONGEST_LIST) {
    source.ended = true
    source.reason ??= `a list claims ${count} entries`
    return
  }
  for (let i = 0; i < count && !source.ended; i++) into.push(source.next(property.type))
}

function stepOver(element: Element, source: Source): void {
  for (let i = 0; i < element.count && !source.ended; i++)
    for (const property of element.properties)
      if (property.count) readList(property, source, [])
      else source.next(property.type)
}

type Source = {
  ended: boolean
  reason: string | null
  next(type: Scalar): number
  trouble(element: string): MeshProblem
}

class TextSource implements Source {
  ended = false
  reason: string | null = null
  private cursor: TextCursor
  constructor(bytes: Uint8Array, start: number) {
    this.cursor = new TextCursor(bytes, start)
  }
  next(): number {
    if (this.ended || !this.cursor.toWord()) {
      this.ended = true
      return Number.NaN
    }
    const value = this.cursor.number()
    if (this.cursor.malformed) {
      this.ended = true
      this.reason ??= 'a value is not a number'
    }
    return value
  }
  trouble(element: string): MeshProblem {
    const line = this.cursor.lineAt(this.cursor.at)
    return this.reason
      ? fileProblems.malformed(`${this.reason}, in element "${element}"`, `line ${line}`)
      : fileProblems.endsEarlyText(line, `rows of "${element}" are missing`)
  }
}

class BinarySource implements Source {
  ended = false
  reason: string | null = null
  private at: number
  private readonly view: DataView
  private readonly little: boolean
  constructor(bytes: Uint8Array, header: Header) {
    this.at = header.body
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    this.little = header.format === 'little'
  }
  next(type: Scalar): number {
    const { at, view, little } = this
    const size = sizeOf(type)
    if (this.ended || at + size > view.byteLength) {
      this.ended = true
      return Number.NaN
    }
    this.at = at + size
    switch (type) {
      case 'i1':
        return view.getInt8(at)
      case 'u1':
        return view.getUint8(at)
      case 'i2':
        return view.getInt16(at, little)
      case 'u2':
        return view.getUint16(at, little)
      case 'i4':
        return view.getInt32(at, little)
      case 'u4':
        return view.getUint32(at, little)
      case 'f4':
        return view.getFloat32(at, little)
      case 'f8':
        return view.getFloat64(at, little)
    }
  }
  trouble(element: string): MeshProblem {
    return this.reason
      ? fileProblems.malformed(`${this.reason}, in element "${element}"`, `byte ${this.at}`)
      : fileProblems.endsEarlyBy(`rows of "${element}" are missing`, `byte ${this.view.byteLength}`)
  }
}
