import { emptyMesh, MeshBuilder, type ModelReading, type ReadLimits, readingOf } from './model-reading.ts'
import { fileProblems, type MeshProblem } from './problems.ts'
import { startsWithMark, TextCursor } from './text-cursor.ts'

const HEAD = 84
const RECORD = 50

/** How a file's bytes bear out its being STL; a header that begins with "solid" proves nothing. */
export function kindOfStl(bytes: Uint8Array): 'binary' | 'text' | null {
  if (bytes.length >= HEAD && HEAD + RECORD * countIn(bytes) === bytes.length) return 'binary'
  if (looksLikeText(bytes)) return startsWithSolid(bytes) ? 'text' : null
  return bytes.length >= HEAD ? 'binary' : null
}

/** Reads STL, text or binary. STL holds no unit. Counts are checked against the bytes before anything is allocated. */
export function readStl(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const kind = kindOfStl(bytes)
  if (kind === 'binary') return readBinaryStl(bytes, limits)
  if (kind === 'text') return readTextStl(bytes, limits)
  const short = bytes.length < HEAD && !looksLikeText(bytes)
  return readingOf('stl', emptyMesh(), null, [
    short
      ? fileProblems.endsEarly(bytes.length, HEAD)
      : fileProblems.unknownFormat('the file, named as STL,'),
  ])
}

function readBinaryStl(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const problems: MeshProblem[] = []
  const claimed = countIn(bytes)
  const room = Math.floor((bytes.length - HEAD) / RECORD)
  const used = HEAD + claimed * RECORD
  if (claimed > room) {
    // A file cut short keeps a believable count; a count far past any real file is noise or malice.
    const absurd = claimed > limits.triangles && claimed > 1000 * Math.max(room, 1)
    problems.push(
      absurd
        ? fileProblems.absurdCount('triangles', claimed, room)
        : fileProblems.endsEarly(bytes.length, used),
    )
  } else if (bytes.length > used) {
    if (claimed === 0)
      problems.push(
        fileProblems.malformed(`the file counts no triangles but has room for ${room}`, 'bytes 81 to 84'),
      )
    else problems.push(fileProblems.leftOver(bytes.length - used, used))
  }
  const count = Math.min(claimed, room)
  if (count > limits.triangles)
    return readingOf('stl', emptyMesh(), null, [
      ...problems,
      fileProblems.tooMany('triangles', count, limits.triangles),
    ])
  if (count === 0 && problems.length === 0)
    problems.push(fileProblems.noTriangles('the file holds no triangles'))
  return readingOf('stl', unpackTriangles(bytes, count), null, problems)
}

/** Each record is a normal (left unread: it may lie), three corners and two spare bytes. */
function unpackTriangles(bytes: Uint8Array, count: number) {
  const positions = new Float64Array(count * 9)
  const corners = new Uint32Array(count * 3)
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let i = 0, from = HEAD + 12, to = 0; i < count; i++, from += RECORD, to += 9) {
    positions[to] = view.getFloat32(from, true)
    positions[to + 1] = view.getFloat32(from + 4, true)
    positions[to + 2] = view.getFloat32(from + 8, true)
    positions[to + 3] = view.getFloat32(from + 12, true)
    positions[to + 4] = view.getFloat32(from + 16, true)
    positions[to + 5] = view.getFloat32(from + 20, true)
    positions[to + 6] = view.getFloat32(from + 24, true)
    positions[to + 7] = view.getFloat32(from + 28, true)
    positions[to + 8] = view.getFloat32(from + 32, true)
  }
  for (let i = 0; i < corners.length; i++) corners[i] = i
  return { positions, corners }
}

function readTextStl(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const problems: MeshProblem[] = []
  const cursor = new TextCursor(bytes, startsWithMark(bytes) ? 3 : 0)
  const builder = new MeshBuilder()
  let open = false
  let inFacet = false
  let cornersInFacet = 0
  let badFacets = 0
  let firstBad = 0
  while (cursor.toWord()) {
    if (cursor.isWord('vertex')) {
      const start = cursor.at
      cursor.skipWord()
      const x = cursor.number()
      let malformed = cursor.malformed
      const y = cursor.number()
      malformed ||= cursor.malformed
      const z = cursor.number()
      malformed ||= cursor.malformed
      if (malformed) {
        if (cursor.toWord()) {
          problems.push(
            fileProblems.malformed('a corner does not have three numbers', `line ${cursor.lineAt(start)}`),
          )
        } else problems.push(fileProblems.endsEarlyText(cursor.lineAt(start), 'the last corner is cut off'))
        return readingOf('stl', builder.finish(), null, problems)
      }
      builder.addPoint(x, y, z)
      cornersInFacet++
    } else if (cursor.isWord('facet')) {
      inFacet = true
      cornersInFacet = 0
      cursor.toNextLine()
    } else if (cursor.isWord('endfacet')) {
      if (cornersInFacet === 3) {
        const n = builder.pointCount
        builder.addTriangle(n - 3, n - 2, n - 1)
      } else if (badFacets++ === 0) firstBad = cursor.at
      inFacet = false
      cursor.skipWord()
      if (builder.triangleCount > limits.triangles) {
        problems.push(fileProblems.tooMany('triangles', builder.triangleCount, limits.triangles))
        return readingOf('stl', emptyMesh(), null, problems)
      }
    } else if (cursor.isWord('solid')) {
      open = true
      cursor.toNextLine() // the name may hold any words
    } else if (cursor.isWord('endsolid')) {
      open = false
      cursor.toNextLine()
    } else if (cursor.isWord('outer') || cursor.isWord('loop') || cursor.isWord('endloop')) {
      cursor.skipWord()
    } else {
      const line = cursor.lineAt(cursor.at)
      const word = cursor.word(20)
      // The very last word may be a keyword cut in two.
      if (cursor.toWord())
        problems.push(fileProblems.malformed(`"${word}" has no meaning in an STL file`, `line ${line}`))
      else problems.push(fileProblems.endsEarlyText(line, 'its last word is cut off'))
      return readingOf('stl', builder.finish(), null, problems)
    }
  }
  if (inFacet)
    problems.push(fileProblems.endsEarlyText(cursor.lineAt(cursor.end), 'the last facet is not finished'))
  else if (open) problems.push(fileProblems.endsEarlyText(cursor.lineAt(cursor.end), '"endsolid" is missing'))
  if (badFacets > 0)
    problems.push(
      fileProblems.malformed(
        `${badFacets} facet${badFacets === 1 ? ' does' : 's do'} not have three corners`,
        `first at line ${cursor.lineAt(firstBad)}`,
      ),
    )
  if (builder.triangleCount === 0 && problems.length === 0)
    problems.push(fileProblems.noTriangles('the file holds no triangles'))
  return readingOf('stl', builder.finish(), null, problems)
}

function countIn(bytes: Uint8Array): number {
  if (bytes.length < HEAD) return 0
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(80, true)
}

function startsWithSolid(bytes: Uint8Array): boolean {
  const cursor = new TextCursor(bytes, startsWithMark(bytes) ? 3 : 0)
  return cursor.toWord() && (cursor.isWord('solid') || cursor.isWord('facet'))
}

/** No control bytes in the first thousand: names in any alphabet pass, packed floats do not. */
export function looksLikeText(bytes: Uint8Array): boolean {
  const end = Math.min(bytes.length, 1000)
  for (let i = 0; i < end; i++) {
    const c = bytes[i]!
    if (c < 9 || (c > 13 && c < 32)) return false
  }
  return end > 0
}
