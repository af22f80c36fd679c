import type { Flask, Pour, Roots, Shop } from '../documents/index.ts'
import { lengthBeside, lengthOf, type Quantity, say, type Words } from '../quantity/index.ts'

/** One way the tree may stand; as much of it as a fit needs. SI. */
export interface Standing {
  readonly reach: number
  readonly rise: number
  readonly tiers: number
  readonly upright: 'longest' | 'middle'
}

export interface FlaskInput<L extends Standing> {
  readonly shop: Shop
  readonly pour: Pour
  readonly roots: Roots
  readonly layouts: readonly L[]
  /** the same for one piece of each kind by itself, whatever else the tree holds */
  readonly alone: readonly { readonly name: string; readonly layouts: readonly L[] }[]
  /** the same for each flask's share, where the pieces are dealt out to this many flasks */
  readonly inFlasks: (count: number) => readonly (readonly L[])[]
  /** reach and rise of a layout as quantities, from whoever laid it out */
  readonly sizesOf: (layout: L) => { readonly reach: Quantity; readonly rise: Quantity } | undefined
  readonly baseIndex: number
  readonly machineIndex: number
  /** a slow result is still out, so nothing can be said yet */
  readonly pending: boolean
  /** the waxes have places of their own that the plan can't reckon with, so that what fits here is no more than their boxes */
  readonly onlyBoxes: boolean
  /** what would do by the waxes' own shapes, where places were sought by them and not found: it goes before what boxes say */
  readonly byShape?: Words
}

/** What the shop says of the casting machine and the base. */
export type Fixtures = Pick<FlaskInput<Standing>, 'shop' | 'machineIndex' | 'baseIndex'>

/** A flask's inside [m]. */
export interface Size {
  readonly diameter: number
  readonly height: number
}

export interface Fit<L extends Standing> {
  readonly index: number
  readonly flask: Flask
  readonly layout: L
  readonly side: number
  readonly top: number
  readonly neededTop: number
  /** 0 fits by the rules, 1 only by the least gap above, 2 does not */
  readonly grade: 0 | 1 | 2
}

export type Rack = readonly { readonly flask: Flask; readonly index: number }[]

export const insideOf = (flask: Flask): Size => ({
  diameter: flask.insideDiameter_mm / 1000,
  height: flask.insideHeight_mm / 1000,
})

export const sizeWords = (flask: Flask): Words =>
  say`${lengthOf(flask.insideDiameter_mm / 1000)} × ${lengthOf(flask.insideHeight_mm / 1000)}`

/** Rounding never turns a failed limit into a passed one: a hair of a micrometre is all that is forgiven. */
export const HAIR = 1e-6

export const coneOf = ({ shop, baseIndex }: Fixtures): number => (shop.bases[baseIndex]?.depth_mm ?? 0) / 1000

/** What the rule wants above the pieces in a flask of this diameter [m]. */
export const wantedAbove = ({ topLeast_mm, topPerDiameter }: Shop['rules'], diameter: number): number =>
  Math.max(topLeast_mm / 1000, topPerDiameter * diameter)

export const fitOne = <L extends Standing>(
  input: FlaskInput<L>,
  flask: Flask,
  index: number,
  layout: L,
): Fit<L> => {
  const { rules } = input.shop
  const { diameter, height } = insideOf(flask)
  const side = diameter / 2 - layout.reach
  const top = height - coneOf(input) - layout.rise
  const neededTop = wantedAbove(rules, diameter)
  const wallOk = side >= rules.wallClearance_mm / 1000 - HAIR
  const grade =
    wallOk && top >= neededTop - HAIR ? 0 : wallOk && top >= rules.topLeast_mm / 1000 - HAIR ? 1 : 2
  return { index, flask, layout, side, top, neededTop, grade }
}

/** The best way to stand the tree in this flask: a better grade first, then fewer tiers, then the roomier. */
export const bestFit = <L extends Standing>(
  input: FlaskInput<L>,
  flask: Flask,
  index: number,
): Fit<L> | undefined =>
  input.layouts
    .map((layout) => fitOne(input, flask, index, layout))
    .sort(
      (a, b) =>
        a.grade - b.grade ||
        (a.grade < 2 ? a.layout.tiers - b.layout.tiers : 0) ||
        Math.min(b.side, b.top) - Math.min(a.side, a.top),
    )[0]

/** What a fit lacks; above the pieces it is held against `above`, what the rule wants there unless said otherwise [m]. */
export const shortfall = <L extends Standing>(
  { shop }: FlaskInput<L>,
  fit: Fit<L>,
  above = fit.neededTop,
): Words => {
  const needed = shop.rules.wallClearance_mm / 1000
  const wall = fit.side < needed - HAIR
  const top = fit.top < above - HAIR
  const wallWords =
    fit.side < 0
      ? say`the pieces reach ${lengthOf(-fit.side)} past its wall`
      : say`${lengthBeside(fit.side, needed)} to the wall where ${lengthBeside(needed, fit.side)} is needed`
  const topWords =
    fit.top < 0
      ? say`the tree stands ${lengthOf(-fit.top)} out of it`
      : say`${lengthBeside(fit.top, above)} above the pieces where ${lengthBeside(above, fit.top)} is wanted`
  return wall && top ? say`${wallWords}, and ${topWords}` : wall ? wallWords : topWords
}

/** The largest inside of a flask with this wall that the casting machine takes [m]. */
export const machineTakes = ({ shop, machineIndex }: Omit<Fixtures, 'baseIndex'>, wall: number): Size => {
  const machine = shop.machines[machineIndex]
  return {
    diameter: (machine?.mostFlaskDiameter_mm ?? Number.POSITIVE_INFINITY) / 1000 - 2 * wall,
    height: (machine?.mostFlaskHeight_mm ?? Number.POSITIVE_INFINITY) / 1000,
  }
}

export const within = (size: Size, most: Size): boolean =>
  size.diameter <= most.diameter + HAIR && size.height <= most.height + HAIR
