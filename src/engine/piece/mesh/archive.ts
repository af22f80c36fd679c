import { Inflate } from 'fflate'
import type { ReadLimits } from './model-reading.ts'
import { fileProblems, type MeshProblem } from './problems.ts'

type Entry = {
  name: string
  method: number
  crc: number
  packed: number
  size: number
  offset: number
  flags: number
}

/** Entries of a ZIP archive; each is inflated only when asked for. */
export type Archive = {
  names(): string[]
  /** The named part (letter case and a leading slash do not matter), or what is wrong with it; null where absent. */
  read(name: string): Uint8Array | MeshProblem | null
}

const END_MARK = 0x06054b50
const WIDE_LOCATOR = 0x07064b50
const WIDE_END = 0x06064b50
const ENTRY_MARK = 0x02014b50
const LOCAL_MARK = 0x04034b50
const END_SIZE = 22
const STEP = 4096
/** Model text packs ten to thirty times smaller; a large part that claims far more is a bomb. */
const HONEST_RATIO = 150
const SUSPECT_SIZE = 8_000_000

/**
 * Opens a ZIP archive by its directory. What it says of itself is not believed: counts are held against
 * the bytes, inflating stops at the declared size and at a limit shared by all parts, and each part's
 * checksum must agree. Names that climb out of the archive are refused.
 */
export function openArchive(bytes: Uint8Array, limits: ReadLimits): Archive | MeshProblem {
  const entries = readDirectory(bytes, limits)
  if (!(entries instanceof Map)) return entries
  let left = limits.inflatedBytes
  return {
    names: () => [...entries.values()].map((entry) => entry.name),
    read(name) {
      const entry = entries.get(keyOf(name))
      if (!entry) return null
      const part = inflate(bytes, entry, left)
      if (part instanceof Uint8Array) left -= part.length
      return part
    },
  }
}

const keyOf = (name: string): string => name.replace(/^\/+/, '').toLowerCase()

function readDirectory(bytes: Uint8Array, limits: ReadLimits): Map<string, Entry> | MeshProblem {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const end = findEnd(view)
  if (end < 0)
    return fileProblems.endsEarlyBy('the directory of its parts is missing', `${bytes.length} bytes`)
  let count = view.getUint16(end + 10, true)
  let at = view.getUint32(end + 16, true)
  // Archives of the wide form (64 bit) repeat these in a record before the end.
  if (end >= 20 && view.getUint32(end - 20, true) === WIDE_LOCATOR) {
    const wide = Number(view.getBigUint64(end - 20 + 8, true))
    if (wide + 56 <= bytes.length && view.getUint32(wide, true) === WIDE_END) {
      count = Number(view.getBigUint64(wide + 32, true))
      at = Number(view.getBigUint64(wide + 48, true))
    }
  }
  if (count > limits.archiveEntries)
    return fileProblems.refused(
      `the archive claims ${count} parts; ${limits.archiveEntries} are read at most`,
      'its directory',
      'export the model alone, without pictures and settings',
    )
  const entries = new Map<string, Entry>()
  const broken = fileProblems.malformed('the directory of its parts is broken', 'the end of the file')
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== ENTRY_MARK) return broken
    const nameLength = view.getUint16(at + 28, true)
    const extraLength = view.getUint16(at + 30, true)
    const next = at + 46 + nameLength + extraLength + view.getUint16(at + 32, true)
    if (next > bytes.length) return broken
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength)).replaceAll('\\', '/')
    if (name.split('/').includes('..') || /^[a-z]:/i.test(name) || name.includes('\0'))
      return fileProblems.refused(
        'the archive names a part outside itself',
        `part "${name.slice(0, 60)}"`,
        'do not trust this file; ask whoever made it for another',
      )
    const entry: Entry = {
      name,
      flags: view.getUint16(at + 8, true),
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    }
    widen(entry, view, at + 46 + nameLength, extraLength)
    if (entries.has(keyOf(name)))
      return fileProblems.refused(
        'the archive holds two parts of one name',
        `part "${name}"`,
        'export it again',
      )
    entries.set(keyOf(name), entry)
    at = next
  }
  return entries
}

/** The end record lies within the last 64 kB, after which only a comment may stand. */
function findEnd(view: DataView): number {
  const last = view.byteLength - END_SIZE
  for (let at = last; at >= Math.max(0, last - 0xffff); at--)
    if (view.getUint32(at, true) === END_MARK) return at
  return -1
}

/** Sizes past 32 bits stand in the extra field, in a fixed order, each only where its short form is full. */
function widen(entry: Entry, view: DataView, start: number, length: number): void {
  for (let at = start; at + 4 <= start + length; ) {
    const size = view.getUint16(at + 2, true)
    if (view.getUint16(at, true) === 1) {
      let from = at + 4
      for (const key of ['size', 'packed', 'offset'] as const)
        if (entry[key] === 0xffffffff && from + 8 <= Math.min(at + 4 + size, view.byteLength)) {
          entry[key] = Number(view.getBigUint64(from, true))
          from += 8
        }
    }
    at += 4 + size
  }
}

function inflate(bytes: Uint8Array, entry: Entry, allowed: number): Uint8Array | MeshProblem {
  const where = `part "${entry.name}"`
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (entry.flags & 1)
    return fileProblems.refused('the part is locked with a password', where, 'export it without one')
  const bomb = (size: number): MeshProblem =>
    fileProblems.refused(
      `the part unfolds to more than is read (${Math.round(size / 1e6)} MB from ${Math.ceil(entry.packed / 1000)} kB)`,
      where,
      'do not trust this file; export the model again, or as STL',
    )
  if (entry.size > allowed || (entry.size > SUSPECT_SIZE && entry.size > HONEST_RATIO * entry.packed))
    return bomb(entry.size)
  if (entry.offset + 30 > bytes.length || view.getUint32(entry.offset, true) !== LOCAL_MARK)
    return fileProblems.malformed('the directory points to no such part', where)
  const start =
    entry.offset + 30 + view.getUint16(entry.offset + 26, true) + view.getUint16(entry.offset + 28, true)
  const end = start + entry.packed
  if (end > bytes.length) return fileProblems.endsEarly(bytes.length, end)
  const packed = bytes.subarray(start, end)
  // Plain text never shrinks a thousandfold for honest reasons, and honest sizes fit their bytes.
  if (entry.size > 1040 * entry.packed + 64)
    return fileProblems.malformed('the part declares an impossible size', where)

  const whole = new Uint8Array(entry.size)
  let have = 0
  let over = false
  const take = (chunk: Uint8Array): void => {
    if (have + chunk.length > whole.length) over = true
    else whole.set(chunk, have)
    have += chunk.length
  }
  if (entry.method === 0) take(packed)
  else if (entry.method === 8) {
    const stream = new Inflate(take)
    try {
      for (let at = 0; at < packed.length && !over; at += STEP)
        stream.push(packed.subarray(at, at + STEP), at + STEP >= packed.length)
    } catch {
      return fileProblems.malformed('the part cannot be unpacked', where)
    }
  } else
    return fileProblems.notRead(
      `the part is packed in a way (${entry.method}) that is not read`,
      where,
      'export it again',
    )
  if (over)
    return fileProblems.refused(
      `the part says it holds ${entry.size} bytes but unfolds to more`,
      where,
      'do not trust this file; export the model again, or as STL',
    )
  if (have !== entry.size)
    return fileProblems.malformed(
      `the part holds ${have} bytes instead of the ${entry.size} it declares`,
      where,
    )
  if (checksum(whole) !== entry.crc)
    return fileProblems.malformed('the part does not match its checksum', where)
  return whole
}

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  return c
})

/** CRC-32 as ZIP uses it (polynomial 0x04c11db7, reflected). */
function checksum(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (let i = 0; i < bytes.length; i++) c = TABLE[(c ^ bytes[i]!) & 255]! ^ (c >>> 8)
  return (c ^ 0xffffffff) >>> 0
}
