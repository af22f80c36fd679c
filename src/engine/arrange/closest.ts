import { distanceApart } from '../piece/mesh/apart.ts'
import { after } from '../piece/mesh/transform.ts'
import { needBetween, type Placed, type Tree } from './clears.ts'
import { innerOf } from './place.ts'
import { type ArrangeRequest, type Closest, SHORTEST } from './request.ts'
import type { Room } from './room.ts'
import type { Found, Ready, Task, Wanted } from './search.ts'
import { move, shifting, turningAboutAxis, undoing } from './vectors.ts'

const MOST_SEATS = 80
const TURNS = 24

const placedAt = ({ ready: { kind }, copy }: Wanted, motion: Placed['motion']): Placed => ({
  kind,
  copy,
  motion,
  back: undoing(motion),
  centre: move(motion, kind.centre),
  inner: innerOf(kind, motion),
  feeds: [],
  locked: false,
  onEnd: false,
})

const nameOf = (one: Placed): string => `${one.kind.piece.id}/${one.copy}`

const placementsOf = (tree: Tree): Closest['placements'] =>
  tree.placed.map(({ kind, copy, motion, locked }) => ({ piece: kind.piece.id, copy, motion, locked }))

/** The tree that came nearest, and where the first wax left over comes least too near another. */
export const closestOf = ({ request, room, seats }: Task, { tree, left }: Found): Closest | undefined => {
  const [first] = left
  if (first === undefined) return undefined
  const { kind } = first.ready
  const ways = seats.get(kind) ?? []
  let best: { one: Placed; short_mm: number; against: string } | undefined
  const every = Math.max(1, Math.floor(ways.length / MOST_SEATS))
  for (let index = 0; index < ways.length; index += every) {
    const seat = ways[index]
    if (seat === undefined) continue
    const still = after(shifting([seat.out, 0, seat.up]), seat.pose.motion)
    for (let turn = 0; turn < TURNS; turn += 1) {
      const one = placedAt(first, after(turningAboutAxis((2 * Math.PI * turn) / TURNS), still))
      let [short_mm, against] = [0, '']
      for (const other of tree.placed) {
        const need = needBetween(request, kind, other.kind)
        const apart = distanceApart(
          kind.outside,
          other.kind.outside,
          after(one.back, other.motion),
          need,
          need - (best?.short_mm ?? need),
        )
        if (need - apart <= short_mm) continue
        ;[short_mm, against] = [need - apart, nameOf(other)]
        if (best !== undefined && short_mm >= best.short_mm) break
      }
      if (against !== '' && (best === undefined || short_mm < best.short_mm))
        best = { one, short_mm, against }
    }
  }
  return {
    flask: room.flask,
    placements: placementsOf(tree),
    left: left.map(({ ready, copy }) => ({ piece: ready.kind.piece.id, copy })),
    next:
      best === undefined
        ? null
        : {
            placement: { piece: kind.piece.id, copy: first.copy, motion: best.one.motion, locked: false },
            against: best.against,
            short_mm: best.short_mm,
          },
  }
}

/** A piece that by itself is too large, where it sticks out of the room the least. */
export const closestAlone = (request: ArrangeRequest, room: Room, ready: Ready): Closest | undefined => {
  const { kind, poses } = ready
  const shortest = kind.piece.sprue.length_mm ?? SHORTEST
  let best: { motion: Placed['motion']; short_mm: number; against: string } | undefined
  for (const pose of poses)
    for (const slope of pose.slopes) {
      const out = (request.stem_mm / 2 + shortest) * Math.cos(slope)
      const rise = (request.stem_mm / 2 + shortest) * Math.sin(slope)
      const up = Math.max(room.cone + SHORTEST + rise, room.bottom - pose.low)
      const far = Math.max(...pose.reaches.map(([x, y]) => Math.hypot(x + out, y)))
      const [wall, top] = [far - room.reach + kind.off, up + pose.high - room.top + kind.off]
      const short_mm = Math.max(wall, top)
      // one that would go in all the same fails for its sprue, about which a length says nothing
      if (short_mm <= 0 || (best !== undefined && short_mm >= best.short_mm)) continue
      const motion = after(shifting([out, 0, up]), pose.motion)
      best = { motion, short_mm, against: wall > top ? 'wall' : 'top' }
    }
  if (best === undefined) return undefined
  return {
    flask: room.flask,
    placements: [],
    left: [{ piece: kind.piece.id, copy: 1 }],
    next: {
      placement: { piece: kind.piece.id, copy: 1, motion: best.motion, locked: false },
      against: best.against,
      short_mm: best.short_mm,
    },
  }
}
