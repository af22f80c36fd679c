import type { Loop, Place } from '../drawing.ts'
import type { WaxRegion } from './compensate.ts'
import { edgeInWords, type RegionNote, type TemplateUnit } from './figures.ts'
import { type Box, dot, line, type SheetMark, words } from './marks.ts'

const RADIUS = 2.4
const LETTERS = 3.1
/** A number without its ring, for a region too small for one. */
const BARE = { room: 1.7, size: 2.5 }
const APART = 6.4
/** More leaders than this crowd the drawing: then one of each kind is led out. */
const MOST_LEADERS = 14

/** Regions worked alike share a number. */
export interface RegionKind {
  readonly number: number
  readonly note: RegionNote
  readonly ids: readonly string[]
}

/** Kinds in the order in which their first region comes. */
export const kindsOf = (notes: readonly RegionNote[], scale: number, unit: TemplateUnit): RegionKind[] => {
  const byKey = new Map<string, { note: RegionNote; ids: string[] }>()
  for (const note of notes) {
    const key = `${note.name ?? ''} ${note.role} ${note.height_mm} ${edgeInWords(note, scale, unit)}`
    const kind = byKey.get(key)
    if (kind) kind.ids.push(note.id)
    else byKey.set(key, { note, ids: [note.id] })
  }
  return [...byKey.values()].map((kind, index) => ({ ...kind, number: index + 1 }))
}

/** From a place to the nearest edge of its region. */
const roomAt = ([x, y]: Place, loops: readonly Loop[]): number => {
  let least = Infinity
  for (const loop of loops)
    for (let i = 0, n = loop.length; i < n; i += 2) {
      const j = (i + 2) % n
      const [ax = 0, ay = 0, bx = 0, by = 0] = [loop[i], loop[i + 1], loop[j], loop[j + 1]]
      const [dx, dy] = [bx - ax, by - ay]
      const square = dx * dx + dy * dy
      const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square))
      least = Math.min(least, Math.hypot(ax + share * dx - x, ay + share * dy - y))
    }
  return least
}

const badge = (number: number, [x, y]: Place): SheetMark[] => [
  { shape: 'round', line: 'thin', at: [x, y], radius_mm: RADIUS },
  words(`${number}`, [x, y + 1.1], LETTERS, { anchor: 'middle', face: 'semibold' }),
]

/** Numbers beside the drawing, in the order of what they point at, no nearer than a badge to one another. */
const ledOut = (
  led: readonly { number: number; at: Place }[],
  x: number,
  room: Box,
  taken: readonly number[],
): SheetMark[] => {
  const inOrder = [...led].sort((a, b) => a.at[1] - b.at[1])
  const places: number[] = []
  const clear = (y: number): number => {
    const line = taken.find((level) => Math.abs(level - y) < RADIUS + 1)
    return line === undefined ? y : line + APART
  }
  for (const { at } of inOrder) places.push(clear(Math.max(at[1], (places.at(-1) ?? -Infinity) + APART)))
  const over = Math.max(
    0,
    (places.at(-1) ?? 0) - Math.max(room.bottom, (places[0] ?? 0) + APART * places.length),
  )
  return inOrder.flatMap(({ number, at }, index) => {
    const y = (places[index] ?? at[1]) - over
    const away = Math.hypot(x - at[0], y - at[1])
    const [dx, dy] = [(x - at[0]) / away, (y - at[1]) / away]
    return [line('thin', at, [x - dx * RADIUS, y - dy * RADIUS]), dot(at, 0.5), ...badge(number, [x, y])]
  })
}

/**
 * A number in every region that has room for it, and a leader to those that have not. Regions come with y
 * down. `sides` are the columns in which numbers may stand beside the drawing; at the heights in `taken` lines
 * run out of it already.
 */
export const numberRegions = (
  regions: readonly WaxRegion[],
  kinds: readonly RegionKind[],
  sides: { readonly left: number; readonly right: number },
  room: Box,
  taken: readonly number[],
): SheetMark[] => {
  const numbers = new Map(kinds.flatMap(({ ids, number }) => ids.map((id) => [id, number] as const)))
  const marks: SheetMark[] = []
  let led: { number: number; at: Place }[] = []
  for (const { id, outer, holes, at_mm } of regions) {
    const number = numbers.get(id)
    if (number === undefined) continue
    const space = roomAt(at_mm, [outer, ...holes])
    const [x, y] = at_mm
    if (space >= RADIUS + 0.4) marks.push(...badge(number, at_mm))
    else if (space >= BARE.room * (number > 9 ? 1.3 : 1))
      marks.push(
        words(`${number}`, [x, y + 0.9], BARE.size, { anchor: 'middle', face: 'semibold', cleared: true }),
      )
    else led.push({ number, at: at_mm })
  }
  if (led.length > MOST_LEADERS)
    led = led.filter(({ number }, index) => led.findIndex((other) => other.number === number) === index)
  const middle = (room.left + room.right) / 2
  const few = led.length <= 4
  const toLeft = led.filter(({ at }) => !few && at[0] < middle)
  marks.push(
    ...ledOut(toLeft, sides.left, room, taken),
    ...ledOut(
      led.filter((one) => !toLeft.includes(one)),
      sides.right,
      room,
      taken,
    ),
  )
  return marks
}
