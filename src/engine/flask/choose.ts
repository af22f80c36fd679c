import type { Flask, Pour, Roots, Shop } from '../documents/index.ts'
import {
  decide,
  lengthOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import { gapAbove, gapToWall, massOfShell, roomOfFlask } from './formulas.ts'

/** One way the tree may stand; as much of it as a fit needs. SI. */
export interface Standing {
  readonly reach: number
  readonly rise: number
  readonly tiers: number
}

export interface FlaskPlan<L extends Standing> {
  readonly flask: Flask
  readonly index: number
  readonly diameter: Quantity
  readonly height: Quantity
  readonly wall: Quantity
  readonly room: Quantity
  readonly steel: Quantity
  readonly layout?: L
  readonly sideGap?: Quantity
  readonly topGap?: Quantity
  readonly neededSide: Quantity
  readonly neededTop: Quantity
  readonly leastTop: Quantity
  /** why the next smaller flask of the rack does not do */
  readonly nextSmaller?: { readonly flask: Flask; readonly why: Words }
}

export interface FlaskAnswer<L extends Standing> {
  readonly plan?: FlaskPlan<L>
  readonly answer: RoomAnswer
}

export interface FlaskInput<L extends Standing> {
  readonly shop: Shop
  readonly pour: Pour
  readonly roots: Roots
  readonly layouts: readonly L[]
  /** the same for one piece of each kind by itself, whatever else the tree holds */
  readonly alone: readonly { readonly name: string; readonly layouts: readonly L[] }[]
  /** reach and rise of a layout as quantities, from whoever laid it out */
  readonly sizesOf: (layout: L) => { readonly reach: Quantity; readonly rise: Quantity } | undefined
  readonly baseIndex: number
  /** a slow result is still out, so nothing can be said yet */
  readonly pending: boolean
  /** the waxes have places of their own that the plan can't reckon with, so that what fits here is no more than their boxes */
  readonly onlyBoxes: boolean
}

interface Fit<L extends Standing> {
  readonly index: number
  readonly flask: Flask
  readonly layout: L
  readonly side: number
  readonly top: number
  readonly neededTop: number
  /** 0 fits by the rules, 1 only by the least gap above, 2 does not */
  readonly grade: 0 | 1 | 2
}

const volumeOf = (flask: Flask): number => flask.insideDiameter_mm ** 2 * flask.insideHeight_mm

const sizeWords = (flask: Flask): Words =>
  say`${lengthOf(flask.insideDiameter_mm / 1000)} × ${lengthOf(flask.insideHeight_mm / 1000)}`

/** Rounding never turns a failed limit into a passed one: a hair of a micrometre is all that is forgiven. */
const HAIR = 1e-6

const fitOne = <L extends Standing>(input: FlaskInput<L>, flask: Flask, index: number, layout: L): Fit<L> => {
  const { rules, bases } = input.shop
  const cone = (bases[input.baseIndex]?.depth_mm ?? 0) / 1000
  const diameter = flask.insideDiameter_mm / 1000
  const side = diameter / 2 - layout.reach
  const top = flask.insideHeight_mm / 1000 - cone - layout.rise
  const leastTop = rules.topLeast_mm / 1000
  const neededTop = Math.max(leastTop, rules.topPerDiameter * diameter)
  const wallOk = side >= rules.wallClearance_mm / 1000 - HAIR
  const grade = wallOk && top >= neededTop - HAIR ? 0 : wallOk && top >= leastTop - HAIR ? 1 : 2
  return { index, flask, layout, side, top, neededTop, grade }
}

/** The best way to stand the tree in this flask: a better grade first, then fewer tiers, then the roomier. */
const bestFit = <L extends Standing>(input: FlaskInput<L>, flask: Flask, index: number): Fit<L> | undefined =>
  input.layouts
    .map((layout) => fitOne(input, flask, index, layout))
    .sort(
      (a, b) =>
        a.grade - b.grade ||
        (a.grade < 2 ? a.layout.tiers - b.layout.tiers : 0) ||
        Math.min(b.side, b.top) - Math.min(a.side, a.top),
    )[0]

const shortfall = <L extends Standing>(input: FlaskInput<L>, fit: Fit<L>): Words => {
  const needed = input.shop.rules.wallClearance_mm / 1000
  const wall = fit.side < needed - HAIR
  const top = fit.top < fit.neededTop - HAIR
  const wallWords =
    fit.side < 0
      ? say`the pieces are ${lengthOf(-fit.side)} too wide for it`
      : say`${lengthOf(fit.side)} to the wall where ${lengthOf(needed)} is needed`
  const topWords =
    fit.top < 0
      ? say`the tree stands ${lengthOf(-fit.top)} out of it`
      : say`${lengthOf(fit.top)} above the pieces where ${lengthOf(fit.neededTop)} is wanted`
  return wall && top ? say`${wallWords}, and ${topWords}` : wall ? wallWords : topWords
}

interface Size {
  readonly diameter: number
  readonly height: number
}

/** The least flask that any of these ways of standing would want by the rules, the smallest by volume. */
const leastFlask = <L extends Standing>(
  input: FlaskInput<L>,
  ways: readonly L[],
): (Size & { readonly way: L }) | undefined => {
  const { rules, bases } = input.shop
  const cone = (bases[input.baseIndex]?.depth_mm ?? 0) / 1000
  const volume = (size: Size): number => size.diameter ** 2 * size.height
  return ways
    .map((way) => {
      const diameter = 2 * (way.reach + rules.wallClearance_mm / 1000)
      const top = Math.max(rules.topLeast_mm / 1000, rules.topPerDiameter * diameter)
      return { way, diameter, height: cone + way.rise + top }
    })
    .sort((a, b) => volume(a) - volume(b))[0]
}

const wanted = (size: Size | undefined): Words =>
  size === undefined
    ? []
    : say`at least ${lengthOf(size.diameter)} across and ${lengthOf(size.height)} high inside`

/**
 * Why nothing of the rack holds the tree: a piece that by itself is too large for the largest flask, or only
 * too many of them. A pour in two flasks helps the second and never the first.
 */
const rackVerdict = <L extends Standing>(
  input: FlaskInput<L>,
  rack: readonly { readonly flask: Flask; readonly index: number }[],
): Verdict => {
  const base = { id: 'flask.rack', part: 'flask', verdict: 'stop', where: '/shop/flasks' } as const
  const largest = rack[rack.length - 1]
  if (largest === undefined)
    return {
      ...base,
      title: say`No flask of the rack holds this tree`,
      reason: say`The rack has no flask marked as owned.`,
      remedy: say`mark the flasks you own under Shop, or add one of ${wanted(leastFlask(input, input.layouts))}`,
    }
  const fitsNone = (ways: readonly L[]): boolean =>
    rack.every(({ flask, index }) => (bestFit({ ...input, layouts: ways }, flask, index)?.grade ?? 0) === 2)
  const tooLarge = input.alone.filter((one) => fitsNone(one.layouts))
  const [first] = tooLarge
  if (first !== undefined) {
    const least = tooLarge.flatMap((one) => {
      const size = leastFlask(input, one.layouts)
      return size === undefined ? [] : [{ ...size, name: one.name }]
    })
    const size = {
      diameter: Math.max(...least.map((one) => one.diameter)),
      height: Math.max(...least.map((one) => one.height)),
    }
    const told = least.map(
      ({ name, way }): Words =>
        say` for ${name} by itself, ${shortfall(input, fitOne(input, largest.flask, largest.index, way))}.`,
    )
    return {
      ...base,
      title: say`${tooLarge.map((one) => one.name).join(', ')}: too large for any flask of the rack`,
      reason: say`In the largest flask, ${sizeWords(largest.flask)}:${told.flat()}`,
      remedy: say`add a flask of ${wanted(size)} under Shop if kiln and machine take it, make the piece smaller, or cast it in parts and join them`,
    }
  }
  const nearest = rack
    .flatMap(({ flask, index }) => bestFit(input, flask, index) ?? [])
    .sort((a, b) => Math.min(b.side, b.top) - Math.min(a.side, a.top))[0]
  return {
    ...base,
    title: say`No flask of the rack holds this tree`,
    reason:
      nearest === undefined
        ? []
        : say`The nearest, ${sizeWords(nearest.flask)}: ${shortfall(input, nearest)}.`,
    remedy: say`pour the pieces in two flasks, or add a flask of ${wanted(leastFlask(input, input.layouts))} under Shop`,
  }
}

const STEEL = { density: 7900, source: 'stainless steel, material data page' }

const describe = <L extends Standing>(
  input: FlaskInput<L>,
  index: number,
  fit: Fit<L> | undefined,
  nextSmaller: FlaskPlan<L>['nextSmaller'],
): FlaskPlan<L> => {
  const { roots, shop } = input
  const flask = shop.flasks[index] as Flask
  const at = `/shop/flasks/${index}`
  const diameter = roots.at(`${at}/insideDiameter_mm`, 'Flask, inside diameter')
  const height = roots.at(`${at}/insideHeight_mm`, 'Flask, inside height')
  const wall = roots.at(`${at}/wall_mm`, 'Flask, wall')
  const steel = roots.has(`${at}/mass_g`)
    ? roots.at(`${at}/mass_g`, 'Empty flask', { kind: 'weighed', plainMass: true })
    : massOfShell(
        {
          diameter,
          height,
          wall,
          density: root({
            id: 'flask.steelDensity',
            title: 'Density of the flask’s steel',
            unit: 'kg/m3',
            value: STEEL.density,
            u: 40,
            kind: 'usual',
            source: STEEL.source,
          }),
        },
        { id: 'flask.steel' },
      )
  const cone = roots.at(`/shop/bases/${input.baseIndex}/depth_mm`, 'Depth of the base’s cone')
  const perDiameter = roots.at(
    '/shop/rules/topPerDiameter',
    'Above the pieces, for each of the flask’s diameter',
  )
  const leastTop = roots.at('/shop/rules/topLeast_mm', 'Above the pieces, at the very least')
  const sizes = fit && input.sizesOf(fit.layout)
  return {
    flask,
    index,
    diameter,
    height,
    wall,
    room: roomOfFlask({ diameter, height }, { id: 'flask.room' }),
    steel,
    layout: fit?.layout,
    sideGap: sizes && gapToWall({ diameter, reach: sizes.reach }, { id: 'flask.sideGap' }),
    topGap: sizes && gapAbove({ height, cone, rise: sizes.rise }, { id: 'flask.topGap' }),
    neededSide: roots.at('/shop/rules/wallClearance_mm', 'Gap to the wall, at least'),
    neededTop: decide({
      id: 'flask.neededTop',
      title: 'Wanted above the pieces',
      unit: 'm',
      says: 'the flask’s diameter times the rule, and never under the least',
      source: 'common practice: a quarter inch for each inch of diameter, so that the end does not blow out',
      inputs: { diameter, perDiameter, leastTop },
      body: (n) => Math.max(n.leastTop, n.perDiameter * n.diameter),
    }),
    leastTop,
    nextSmaller,
  }
}

const fitVerdicts = <L extends Standing>(input: FlaskInput<L>, fit: Fit<L>, remedy: Words): Verdict[] => {
  const { rules } = input.shop
  const needed = rules.wallClearance_mm / 1000
  const byBoxes = input.onlyBoxes
    ? say` That is of the waxes’ outside boxes laid out anew, not of the waxes where they stand.`
    : []
  const wallWhere = '/pour/flask'
  return [
    fit.side >= needed - HAIR
      ? {
          id: 'flask.wall',
          part: 'flask',
          verdict: 'pass',
          title: say`Gap to the wall ${lengthOf(fit.side)}`,
          reason: say`${lengthOf(needed)} is needed.${byBoxes}`,
          remedy: [],
        }
      : {
          id: 'flask.wall',
          part: 'flask',
          verdict: 'stop',
          title: say`Too near the wall`,
          reason: say`In the flask of ${sizeWords(fit.flask)} there is ${fit.side < 0 ? say`no room: the tree is ${lengthOf(-fit.side)} too wide` : say`${lengthOf(fit.side)} to the wall; ${lengthOf(needed)} is needed, or metal may break through`}.`,
          remedy,
          where: wallWhere,
        },
    fit.top >= fit.neededTop - HAIR
      ? {
          id: 'flask.top',
          part: 'flask',
          verdict: 'pass',
          title: say`Above the pieces ${lengthOf(fit.top)}`,
          reason: say`${lengthOf(fit.neededTop)} is wanted for this flask.${byBoxes}`,
          remedy: [],
        }
      : fit.top >= rules.topLeast_mm / 1000 - HAIR
        ? {
            id: 'flask.top',
            part: 'flask',
            verdict: 'check',
            title: say`Little above the pieces`,
            reason: say`${lengthOf(fit.top)} above the pieces; the rule wants ${lengthOf(fit.neededTop)}, the least is ${lengthOf(rules.topLeast_mm / 1000)}. A thin end may blow out under the spin.`,
            remedy: say`take a taller flask, shorten the main sprue, or accept it for a light tree`,
            where: wallWhere,
          }
        : {
            id: 'flask.top',
            part: 'flask',
            verdict: 'stop',
            title: say`The end is too thin`,
            reason: say`${fit.top < 0 ? say`The tree stands ${lengthOf(-fit.top)} out of the flask` : say`Only ${lengthOf(fit.top)} above the pieces`}; ${lengthOf(rules.topLeast_mm / 1000)} is the very least, or the end blows out and throws metal.`,
            remedy,
            where: wallWhere,
          },
  ]
}

/**
 * The smallest flask of the rack that keeps the wall and top clearances, from the pieces' real extents, and
 * why the next smaller one fails; or the flask the caster asked for, held against the same rules.
 */
export const chooseFlask = <L extends Standing>(input: FlaskInput<L>): FlaskAnswer<L> => {
  const { shop, pour, layouts } = input
  const problems: Problem[] = []
  const rack = shop.flasks
    .map((flask, index) => ({ flask, index }))
    .filter(({ flask }) => flask.owned)
    .sort((a, b) => volumeOf(a.flask) - volumeOf(b.flask))
  const askedIndex = pour.flask === undefined ? -1 : shop.flasks.findIndex((flask) => flask.id === pour.flask)
  if (pour.flask !== undefined && askedIndex < 0)
    problems.push({
      kind: 'no-such-flask',
      where: '/pour/flask',
      what: say`This shop has no flask called ${pour.flask}`,
      remedy: say`choose one of the rack, or leave the choice open`,
    })
  const open = (reason: Words, remedy: Words): Verdict => ({
    id: 'flask.open',
    part: 'flask',
    verdict: 'check',
    title: say`The fit is open`,
    reason,
    remedy,
    where: '/pour/flask',
  })

  if (layouts.length === 0) {
    const reason = input.pending
      ? say`A model is still being measured.`
      : say`Not every piece has its sizes, so nobody can say whether the tree fits.`
    const remedy = say`measure each piece by calipers, or give its model`
    if (askedIndex >= 0)
      return {
        plan: describe(input, askedIndex, undefined, undefined),
        answer: { verdicts: [open(reason, remedy)], cautions: [], problems },
      }
    return { answer: { verdicts: [open(reason, remedy)], cautions: [], problems } }
  }

  if (askedIndex >= 0) {
    const fit = bestFit(input, shop.flasks[askedIndex] as Flask, askedIndex) as Fit<L>
    const othersFit = rack.some(({ flask, index }) => (bestFit(input, flask, index)?.grade ?? 2) < 2)
    // where nothing of the rack would do, the next flask up is no remedy
    const remedy = othersFit
      ? say`take the next flask up, or leave the choice open`
      : say`no other flask of the rack would do either: ${rackVerdict(input, rack).remedy}`
    return {
      plan: describe(input, askedIndex, fit, undefined),
      answer: { verdicts: fitVerdicts(input, fit, remedy), cautions: [], problems },
    }
  }

  const fits = rack.map(({ flask, index }) => bestFit(input, flask, index) as Fit<L>)
  const chosen = fits.find((fit) => fit.grade === 0) ?? fits.find((fit) => fit.grade === 1)
  if (chosen === undefined) {
    return { answer: { verdicts: [rackVerdict(input, rack)], cautions: [], problems } }
  }
  const place = fits.indexOf(chosen)
  const smaller = fits[place - 1]
  return {
    plan: describe(
      input,
      chosen.index,
      chosen,
      smaller && {
        flask: smaller.flask,
        why: say`${sizeWords(smaller.flask)}: ${shortfall(input, smaller)}`,
      },
    ),
    answer: { verdicts: fitVerdicts(input, chosen, []), cautions: [], problems },
  }
}
