import type { Hardware, Heights } from '../../documents/index.ts'
import type { Loop, Place } from '../drawing.ts'
import type { Solid, SolidShop } from '../solids.ts'
import { headThickness, hookMouth, type Kind, loopSizes, pocketSizes, slotSizes } from './sizes.ts'
import { sweep } from './sweep.ts'

/** One piece of hardware as solids, in the place where it belongs. */
export interface MadeHardware {
  /** taken out of the piece while its back is flat */
  readonly cut?: Solid
  /** joined while the back is flat, and bent with it */
  readonly bent?: Solid
  /** joined after the back is bent: it keeps its own shape */
  readonly rigid?: Solid
  /** where it needs metal over it in a hollowed back, seen from above: up to `up_mm`, or all the way */
  readonly pads: readonly { readonly loops: readonly Loop[]; readonly up_mm?: number }[]
}

/** Feet reach into the piece by this, so that they join it. */
const INTO_MM = 0.05
const BEYOND_MM = 1
const CIRCLE_SIDES = 72
const CORNER_SIDES = 8
const LARGEST_CORNER_MM = 0.5

export interface HardwareSite {
  readonly back: Heights['back']
  /** middle of the piece's width, where the bent back is level */
  readonly middle_mm: number
  /** above everything */
  readonly top_mm: number
}

/** Makes a piece of hardware by its measurements; what is left out comes from the strap. */
export const makeHardware = (shop: SolidShop, hardware: Hardware, site: HardwareSite): MadeHardware => {
  switch (hardware.kind) {
    case 'loop':
      return makeLoop(shop, hardware, site)
    case 'hook':
      return makeHook(shop, hardware, site)
    case 'post':
      return makePost(shop, hardware, site)
    case 'keeper-slot':
      return makeSlot(shop, hardware, site)
    case 'tip-pocket':
      return makePocket(shop, hardware, site)
  }
}

const makeLoop = (shop: SolidShop, loop: Kind<'loop'>, site: HardwareSite): MadeHardware => {
  const { inside, clear } = loopSizes(loop)
  const leg = inside / 2 + loop.bar_mm / 2
  const foot = footAt(site, loop, leg, loop.bar_mm / 2)
  const bar = -(clear + foot.sag + loop.bar_mm / 2)
  const wire = sweep(
    [
      [-leg, foot.top],
      [-leg, bar],
      [leg, bar],
      [leg, foot.top],
    ],
    loop.bar_mm,
  )
  return {
    rigid: shop.moved(shop.ofMesh(wire), placeOf(site, loop)),
    pads: [-leg, leg].map((u) => ({ loops: [put(circle(loop.bar_mm, u), loop)] })),
  }
}

const makeHook = (shop: SolidShop, hook: Kind<'hook'>, site: HardwareSite): MadeHardware => {
  const foot = footAt(site, hook, 0, hook.wire_mm / 2)
  const reach = footAt(site, hook, hook.reach_mm, 0)
  const arm = -(hookMouth(hook) + reach.sag + hook.wire_mm / 2)
  const wire = sweep(
    [
      [0, foot.top],
      [0, arm],
      [hook.reach_mm, arm],
    ],
    hook.wire_mm,
  )
  return {
    rigid: shop.moved(shop.ofMesh(wire), placeOf(site, hook)),
    pads: [{ loops: [put(circle(hook.wire_mm, 0), hook)] }],
  }
}

const makePost = (shop: SolidShop, post: Kind<'post'>, site: HardwareSite): MadeHardware => {
  const foot = footAt(site, post, 0, post.diameter_mm / 2)
  const under = -post.length_mm - foot.sag
  const head = post.head_mm === undefined ? 0 : headThickness(post.head_mm)
  // with a head, the post ends inside it, so that the two overlap
  const parts = [shop.prism([circle(post.diameter_mm, 0)], under - head / 2, foot.top)]
  if (post.head_mm !== undefined) parts.push(shop.prism([circle(post.head_mm, 0)], under - head, under))
  return {
    rigid: shop.moved(shop.union(parts), placeOf(site, post)),
    pads: [{ loops: [put(circle(post.diameter_mm, 0), post)] }],
  }
}

const makeSlot = (shop: SolidShop, slot: Kind<'keeper-slot'>, site: HardwareSite): MadeHardware => {
  const { slot: long, opening } = slotSizes(slot)
  const loop = put(roundedRectangle(-long / 2, long / 2, -opening / 2, opening / 2), slot)
  return { cut: shop.prism([loop], -BEYOND_MM, site.top_mm + BEYOND_MM), pads: [] }
}

const makePocket = (shop: SolidShop, pocket: Kind<'tip-pocket'>, site: HardwareSite): MadeHardware => {
  const { across, clear } = pocketSizes(pocket)
  const { depth_mm: depth, wall_mm: wall } = pocket
  const half = across / 2
  // Behind a bent back everything is drawn together; it is made longer by as much.
  const over = site.back.shape === 'curved' ? site.back.radius_mm / (site.back.radius_mm - clear) : 1
  const wide = (loop: Loop): Loop => stretched(put(loop, pocket), pocket.at_mm[0], over)
  const outside = wide(box(0, depth + wall, -half - wall, half + wall))
  const inside = wide(box(-BEYOND_MM, depth, -half, half))
  const room = wide(box(0, depth, -half, half))
  return {
    bent: shop.difference(shop.prism([outside], -clear - wall, INTO_MM), [shop.prism([inside], -clear, 0)]),
    pads: [{ loops: [outside, room] }, { loops: [outside], up_mm: wall }],
  }
}

/** Where a foot ends, and how much nearer the bent back comes to a level bar over it, in the hardware's own frame. */
const footAt = (
  { back }: HardwareSite,
  { turned_deg }: Hardware,
  along_mm: number,
  radius_mm: number,
): { top: number; sag: number } => {
  if (back.shape !== 'curved') return { top: INTO_MM, sag: 0 }
  const away = Math.abs(along_mm * Math.cos((turned_deg * Math.PI) / 180))
  const fall = (distance: number): number =>
    back.radius_mm - Math.sqrt(Math.max(0, back.radius_mm ** 2 - distance ** 2))
  return { top: INTO_MM - fall(Math.max(0, away - radius_mm)), sag: fall(away + radius_mm) }
}

/** From the hardware's own frame (x along it, z toward the front, its back level) to the piece. */
const placeOf = ({ back, middle_mm }: HardwareSite, { at_mm, turned_deg }: Hardware): number[] => {
  const spin = (turned_deg * Math.PI) / 180
  const lean = back.shape === 'curved' ? (at_mm[0] - middle_mm) / back.radius_mm : 0
  const [c, s, cl, sl] = [Math.cos(spin), Math.sin(spin), Math.cos(lean), Math.sin(lean)]
  const radius = back.shape === 'curved' ? back.radius_mm : 0
  const x = back.shape === 'curved' ? middle_mm + radius * sl : at_mm[0]
  const z = radius * cl - radius
  return [c * cl, -s * cl, sl, x, s, c, 0, at_mm[1], -c * sl, s * sl, cl, z, 0, 0, 0, 1]
}

const circle = (diameter_mm: number, along_mm: number): Loop => {
  const step = (2 * Math.PI) / CIRCLE_SIDES
  const radius = (diameter_mm / 2) * Math.sqrt(step / Math.sin(step))
  return Float64Array.from(
    Array.from({ length: CIRCLE_SIDES }, (_, k) => k * step).flatMap((turn) => [
      along_mm + radius * Math.cos(turn),
      radius * Math.sin(turn),
    ]),
  )
}

const box = (left: number, right: number, low: number, high: number): Loop =>
  Float64Array.from([left, low, right, low, right, high, left, high])

/** Corners are rounded, since investment crumbles at sharp ones. */
const roundedRectangle = (left: number, right: number, low: number, high: number): Loop => {
  const r = Math.min(LARGEST_CORNER_MM, (high - low) / 4, (right - left) / 4)
  const corners: readonly [number, number, number][] = [
    [right - r, low + r, -90],
    [right - r, high - r, 0],
    [left + r, high - r, 90],
    [left + r, low + r, 180],
  ]
  return Float64Array.from(
    corners.flatMap(([x, y, from]) =>
      Array.from(
        { length: CORNER_SIDES + 1 },
        (_, k) => ((from + (90 * k) / CORNER_SIDES) * Math.PI) / 180,
      ).flatMap((turn) => [x + r * Math.cos(turn), y + r * Math.sin(turn)]),
    ),
  )
}

/** From the hardware's own frame to the drawing. */
const put = (loop: Loop, { at_mm, turned_deg }: Hardware): Loop => {
  const spin = (turned_deg * Math.PI) / 180
  return moveEach(loop, (x, y) => [
    at_mm[0] + x * Math.cos(spin) - y * Math.sin(spin),
    at_mm[1] + x * Math.sin(spin) + y * Math.cos(spin),
  ])
}

const stretched = (loop: Loop, about: number, over: number): Loop =>
  over === 1 ? loop : moveEach(loop, (x, y) => [about + (x - about) * over, y])

const moveEach = (loop: Loop, move: (x: number, y: number) => Place): Loop => {
  const moved = new Float64Array(loop.length)
  for (let i = 0; i < loop.length; i += 2) moved.set(move(loop[i] as number, loop[i + 1] as number), i)
  return moved
}
