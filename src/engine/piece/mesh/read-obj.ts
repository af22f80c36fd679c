import { emptyMesh, MeshBuilder, type ModelReading, type ReadLimits, readingOf } from './model-reading.ts'
import { triangulate } from './polygon.ts'
import { fileProblems, type MeshProblem } from './problems.ts'
import { startsWithMark, TextCursor } from './text-cursor.ts'

const LETTER = { v: 118, f: 102, slash: 47, hash: 35 }
const CURVED = ['curv', 'curv2', 'surf', 'cstype', 'bmat']
const LONGEST_FACE = 2_000

/** Reads OBJ: points and faces, polygons cut into triangles, corners counted from the start or (negative) back from here. */
export function readObj(bytes: Uint8Array, limits: ReadLimits): ModelReading {
  const problems: MeshProblem[] = []
  const cursor = new TextCursor(bytes, startsWithMark(bytes) ? 3 : 0)
  const builder = new MeshBuilder()
  const face: number[] = []
  let badCorners = 0
  let curved = false
  let other = 0

  const fail = (problem: MeshProblem): ModelReading =>
    readingOf('obj', builder.finish(), null, [...problems, problem])

  while (cursor.at < cursor.end) {
    if (!cursor.toWordOnLine()) {
      cursor.toNextLine()
      continue
    }
    const first = bytes[cursor.at]!
    const start = cursor.at
    if (first === LETTER.v && cursor.isWord('v')) {
      cursor.skipWord()
      const point = [0, 0, 0]
      for (let axis = 0; axis < 3; axis++) {
        const there = cursor.toWordOnLine()
        point[axis] = there ? cursor.number() : Number.NaN
        if (!there || cursor.malformed) {
          cursor.toNextLine()
          const where = `line ${cursor.lineAt(start)}`
          return fail(
            cursor.at >= cursor.end
              ? fileProblems.endsEarlyText(cursor.lineAt(start), 'the last point is cut off')
              : fileProblems.malformed('a point does not have three numbers', where),
          )
        }
      }
      builder.addPoint(point[0]!, point[1]!, point[2]!)
    } else if (first === LETTER.f && (cursor.isWord('f') || cursor.isWord('fo'))) {
      cursor.skipWord()
      face.length = 0
      let outside: number | null = null
      while (cursor.toWordOnLine() && bytes[cursor.at] !== LETTER.hash) {
        const index = readIndex(cursor)
        if (!Number.isInteger(index) || index === 0 || face.length >= LONGEST_FACE) {
          const where = `line ${cursor.lineAt(start)}`
          return fail(
            fileProblems.malformed(
              face.length >= LONGEST_FACE
                ? `a face has more than ${LONGEST_FACE} corners`
                : 'a face has a corner that is no whole number above or below 0',
              where,
            ),
          )
        }
        // Counted from the first point, or back from the last one given so far.
        const point = index > 0 ? index - 1 : builder.pointCount + index
        if (point < 0 || point >= builder.pointCount) outside = index
        face.push(point)
      }
      if (outside !== null) {
        if (badCorners++ === 0)
          problems.push(
            fileProblems.indexOutOfRange(outside, builder.pointCount, `line ${cursor.lineAt(start)}`),
          )
      } else if (face.length < 3) {
        return fail(
          cursor.at >= cursor.end
            ? fileProblems.endsEarlyText(cursor.lineAt(start), 'the last face is cut off')
            : fileProblems.malformed('a face has fewer than three corners', `line ${cursor.lineAt(start)}`),
        )
      } else {
        triangulate(builder.positions, face, (a, b, c) => builder.addTriangle(a, b, c))
      }
      if (builder.triangleCount > limits.triangles)
        return readingOf('obj', emptyMesh(), null, [
          fileProblems.tooMany('triangles', builder.triangleCount, limits.triangles),
        ])
    } else if (first !== LETTER.hash) {
      const word = cursor.word(12)
      if (CURVED.includes(word)) curved = true
      else if (!KNOWN.has(word)) other++
    }
    cursor.toNextLine()
  }
  if (curved)
    problems.push(
      fileProblems.notRead(
        'the file holds curved surfaces, which are not read',
        'its curve and surface lines',
        'export the model as a triangle mesh',
      ),
    )
  if (builder.triangleCount === 0 && problems.length === 0) {
    if (builder.pointCount === 0 && other > 0)
      return readingOf(null, emptyMesh(), null, [fileProblems.unknownFormat('the file, named as OBJ,')])
    problems.push(
      fileProblems.noTriangles(
        builder.pointCount > 0
          ? 'the file holds points but no faces'
          : 'the file holds no points and no faces',
      ),
    )
  }
  return readingOf('obj', builder.finish(), null, problems)
}

const KNOWN = new Set(
  'vt vn vp p l g o s mg bevel c_interp d_interp lod usemtl mtllib usemap maplib shadow_obj trace_obj ctech stech'.split(
    ' ',
  ),
)

/** The first number of `7`, `7/1`, `7//3` or `7/1/3`; the cursor moves past the whole word. */
function readIndex(cursor: TextCursor): number {
  const { bytes, end } = cursor
  let i = cursor.at
  const negative = bytes[i] === 45
  if (negative || bytes[i] === 43) i++
  let value = 0
  let digits = 0
  while (i < end && bytes[i]! >= 48 && bytes[i]! <= 57) {
    value = value * 10 + (bytes[i]! - 48)
    digits++
    i++
  }
  const after = i < end ? bytes[i]! : 32
  const whole = digits > 0 && (after === LETTER.slash || after <= 32)
  cursor.at = i
  cursor.skipWord()
  return whole ? (negative ? -value : value) : Number.NaN
}
