import type { PatternProblem } from '../drawing.ts'
import { drawingProblems } from './problems.ts'

// Its own reader of group codes rather than a package: those tried give an empty drawing for garbage and for a
// file that breaks off, and none keeps the line to point at.

/** A thing in the file: its type, and its group codes with their values, in order. */
export interface Entity {
  readonly type: string
  readonly codes: readonly number[]
  readonly values: readonly string[]
  readonly line: number
  /** what follows it up to its own end mark: vertices of a polyline, the entities of a block */
  readonly parts: readonly Entity[]
}

export const textAt = (entity: Entity, code: number): string | undefined => {
  const at = entity.codes.indexOf(code)
  return at < 0 ? undefined : entity.values[at]
}

/** NaN where the value is no number. */
export const numberAt = (entity: Entity, code: number, otherwise: number): number => {
  const text = textAt(entity, code)
  return text === undefined ? otherwise : text.trim() === '' ? Number.NaN : Number(text)
}

export const allAt = (entity: Entity, code: number): number[] =>
  entity.codes.flatMap((one, i) => (one === code ? [Number(entity.values[i])] : []))

/** Points whose x comes under one code and whose y under the next ten. */
export const pointsAt = (entity: Entity, code: number): [number, number][] => {
  const points: [number, number][] = []
  entity.codes.forEach((one, i) => {
    if (one === code) points.push([Number(entity.values[i]), 0])
    const last = points.at(-1)
    if (one === code + 10 && last !== undefined) last[1] = Number(entity.values[i])
  })
  return points
}

export interface DxfFile {
  readonly header: ReadonlyMap<string, string>
  readonly layers: readonly Entity[]
  readonly blocks: ReadonlyMap<string, Entity>
  readonly entities: readonly Entity[]
}

/** The sections of a text DXF, or what is broken about it. */
export const readTags = (text: string): DxfFile | PatternProblem => {
  const lines = text.split(/\r\n|\n|\r/)
  while (lines.length > 0 && lines.at(-1)?.trim() === '') lines.pop()
  if (lines.length < 2 || lines.at(-1)?.trim() !== 'EOF' || lines.at(-2)?.trim() !== '0')
    return drawingProblems.truncated(lines.length)
  const flat: { type: string; codes: number[]; values: string[]; line: number }[] = []
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const written = (lines[i] as string).trim()
    const code = Number(written)
    const value = lines[i + 1] as string
    if (written === '' || !Number.isInteger(code) || code < -5 || code > 1071)
      return drawingProblems.broken(
        `"${written.slice(0, 20)}" stands where a group code should`,
        `line ${i + 1}`,
      )
    if (code === 0) flat.push({ type: value.trim(), codes: [], values: [], line: i + 2 })
    else if (code !== 999) {
      const last = flat.at(-1)
      if (last === undefined)
        return drawingProblems.broken('it does not begin with a section', `line ${i + 1}`)
      last.codes.push(code)
      last.values.push(value.trim())
    }
  }
  return sectionsOf(flat)
}

const sectionsOf = (flat: readonly Omit<Entity, 'parts'>[]): DxfFile | PatternProblem => {
  const header = new Map<string, string>()
  const layers: Entity[] = []
  const blocks = new Map<string, Entity>()
  const entities: Entity[] = []
  let section: string | undefined
  /** things whose parts follow, innermost last */
  const holders: { readonly entity: Entity; readonly parts: Entity[]; readonly end: string }[] = []
  for (const { type, codes, values, line } of flat) {
    if (type === 'SECTION') {
      section = values[codes.indexOf(2)] ?? ''
      if (section === 'HEADER') readHeader(codes, values, header)
      continue
    }
    if (type === 'ENDSEC') {
      if (holders.length > 0)
        return drawingProblems.broken(`a ${holders.at(-1)?.entity.type} has no end`, `line ${line}`)
      section = undefined
      continue
    }
    const parts: Entity[] = []
    const entity: Entity = { type, codes, values, line, parts }
    if (section === 'TABLES') {
      if (type === 'LAYER') layers.push(entity)
      continue
    }
    if (section !== 'ENTITIES' && section !== 'BLOCKS') continue
    const inner = holders.at(-1)
    if (inner !== undefined && type === inner.end) {
      holders.pop()
      continue
    }
    if (type === 'BLOCK') blocks.set(textAt(entity, 2) ?? '', entity)
    else if (inner !== undefined) inner.parts.push(entity)
    else if (section === 'ENTITIES') entities.push(entity)
    const end =
      type === 'BLOCK'
        ? 'ENDBLK'
        : type === 'POLYLINE' || (type === 'INSERT' && textAt(entity, 66) === '1')
          ? 'SEQEND'
          : undefined
    if (end !== undefined) holders.push({ entity, parts, end })
  }
  if (section !== undefined) return drawingProblems.broken(`its section ${section} has no end`, 'the file')
  return { header, layers, blocks, entities }
}

/** A variable's name comes under code 9, its value under the code after it. */
const readHeader = (
  codes: readonly number[],
  values: readonly string[],
  header: Map<string, string>,
): void => {
  codes.forEach((code, i) => {
    if (code === 9) header.set(values[i] ?? '', values[i + 1] ?? '')
  })
}
