import type { Flask, Shop } from '../documents/index.ts'
import { leastLengthOf, lengthOf, say, type Verdict, type Words } from '../quantity/index.ts'
import {
  bestFit,
  coneOf,
  type Fixtures,
  type FlaskInput,
  fitOne,
  insideOf,
  machineTakes,
  type Rack,
  type Size,
  type Standing,
  shortfall,
  sizeWords,
  wantedAbove,
  within,
} from './fit.ts'

/** A flask that would hold one or several trees by the rule, and how each stands in it. */
interface Would<L extends Standing> extends Size {
  readonly ways: readonly L[]
  /** above the pieces it leaves the very least and not what the rule wants */
  readonly onlyLeast?: boolean
}

/** A flask is asked for in whole millimetres; in inches it is shown up to this much wider [m]. */
const MILLIMETRE = 1e-3
const SHOWN_WIDER = 0.254e-3

const wholeMillimetres = (length: number): number => Math.ceil(length / MILLIMETRE - 1e-6) * MILLIMETRE

/**
 * The smallest flask the machine takes that holds each of these trees by itself, each in whichever of its ways does,
 * with this much above the pieces for its diameter [m].
 */
const smallestWith = <L extends Standing>(
  input: FlaskInput<L>,
  trees: readonly (readonly L[])[],
  most: Size,
  above: (diameter: number) => number,
): Would<L> | undefined => {
  const needed = input.shop.rules.wallClearance_mm / 1000
  return trees
    .flat()
    .flatMap(({ reach }) => {
      const diameter = wholeMillimetres(2 * (reach + needed))
      const ways = trees.flatMap(
        (tree) =>
          tree
            .filter((way) => 2 * (way.reach + needed) <= diameter)
            .sort((a, b) => a.rise - b.rise || a.tiers - b.tiers)[0] ?? [],
      )
      if (ways.length < trees.length) return []
      const rise = Math.max(...ways.map((way) => way.rise))
      const height = wholeMillimetres(coneOf(input) + rise + above(diameter + SHOWN_WIDER))
      const size = { diameter, height, ways }
      return within(size, most) ? [size] : []
    })
    .sort((a, b) => a.diameter ** 2 * a.height - b.diameter ** 2 * b.height)[0]
}

/** The same by the rule for what is wanted above the pieces; where the machine takes none such, by the very least. */
const smallestFor = <L extends Standing>(
  input: FlaskInput<L>,
  trees: readonly (readonly L[])[],
  most: Size,
): Would<L> | undefined => {
  const { rules } = input.shop
  const byRule = smallestWith(input, trees, most, (diameter) => wantedAbove(rules, diameter))
  if (byRule !== undefined) return byRule
  const byLeast = smallestWith(input, trees, most, () => rules.topLeast_mm / 1000)
  return byLeast && { ...byLeast, onlyLeast: true }
}

const stands = ({ tiers, upright }: Standing): Words =>
  say`in ${tiers === 1 ? 'one tier' : `${tiers} tiers`}, ${upright === 'longest' ? 'longest sides up' : 'longest sides across'}`

const flaskWords = ({ diameter, height }: Size): Words =>
  say`${leastLengthOf(diameter)} across and ${leastLengthOf(height)} high inside`

/** What has to be minded of a flask that is advised. */
const mind = ({ topPerDiameter }: Shop['rules'], { onlyLeast }: Would<Standing>): Words =>
  onlyLeast
    ? say`; it leaves no more than the very least above the pieces, and the machine takes none that leaves what is wanted`
    : topPerDiameter > 0
      ? say`; a wider one has to be higher too`
      : []

const machineWords = (input: Fixtures): Words => {
  const machine = input.shop.machines[input.machineIndex]
  return machine === undefined
    ? []
    : say`the casting machine takes, up to ${lengthOf(machine.mostFlaskDiameter_mm / 1000)} across the outside and ${lengthOf(machine.mostFlaskHeight_mm / 1000)} high,`
}

/** Boxes laid out by rule may need more room than the waxes do, or less: their sprues have slopes to keep. */
const BY_BOXES =
  'that is by outside boxes, so before you buy a flask see where each wax goes, which may do with less or ask for more'

const COUNTS = ['', 'one flask', 'two flasks', 'three flasks', 'four flasks', 'five flasks', 'six flasks']

/** Into how few flasks of the rack the pieces may be dealt out, each share in one that holds it and the machine takes. */
const howManyFlasks = <L extends Standing>(input: FlaskInput<L>, rack: Rack): number | undefined => {
  const taken = rack.filter(({ flask }) => within(insideOf(flask), machineTakes(input, flask.wall_mm / 1000)))
  const held = (layouts: readonly L[]): boolean =>
    taken.some(({ flask, index }) => (bestFit({ ...input, layouts }, flask, index)?.grade ?? 2) < 2)
  for (let count = 2; count < COUNTS.length; count += 1) {
    const shares = input.inFlasks(count)
    if (shares.length > 0 && shares.every((share) => share.length === 0 || held(share))) return count
  }
  return undefined
}

/** The rack's flask that lacks least for the tree standing this way. */
const nearestFlask = <L extends Standing>(input: FlaskInput<L>, rack: Rack, ways: readonly L[]) => {
  const { rules } = input.shop
  const lack = (fit: { readonly side: number; readonly top: number }): number =>
    Math.max(rules.wallClearance_mm / 1000 - fit.side, rules.topLeast_mm / 1000 - fit.top)
  return rack
    .flatMap(({ flask, index }) => ways.map((way) => fitOne(input, flask, index, way)))
    .sort((a, b) => lack(a) - lack(b))[0]
}

const listed = (names: readonly string[]): string => names.join(', ')

/**
 * Why nothing of the rack holds the tree, and what would: a piece that by itself is too large for every flask, or
 * only too many of them. More flasks help the second and never the first. A flask is advised only where the
 * machine takes it, and what the rack lacks is told of the tree as it would stand in that one.
 */
export const rackVerdict = <L extends Standing>(input: FlaskInput<L>, rack: Rack): Verdict => {
  const verdict = byBoxes(input, rack)
  return input.byShape === undefined ? verdict : { ...verdict, remedy: input.byShape }
}

const byBoxes = <L extends Standing>(input: FlaskInput<L>, rack: Rack): Verdict => {
  const base = { id: 'flask.rack', part: 'flask', verdict: 'stop', where: '/shop/flasks' } as const
  const { rules } = input.shop
  const largest = rack[rack.length - 1]
  const wall = (largest?.flask ?? input.shop.flasks[0])?.wall_mm ?? 0
  const most = machineTakes(input, wall / 1000)
  const whole = smallestFor(input, [input.layouts], most)
  const noneTaken = say`No flask that ${machineWords(input)} would hold this tree.`
  if (largest === undefined)
    return {
      ...base,
      title: say`No flask of the rack holds this tree`,
      reason: say`The rack has no flask marked as owned.${whole === undefined ? say` ${noneTaken}` : []}`,
      remedy:
        whole === undefined
          ? say`mark the flasks you own under Shop, and cast fewer pieces at once`
          : say`mark the flasks you own under Shop, or add one ${flaskWords(whole)}${mind(rules, whole)}`,
    }
  const fitsNone = (ways: readonly L[]): boolean =>
    rack.every(({ flask, index }) => (bestFit({ ...input, layouts: ways }, flask, index)?.grade ?? 0) === 2)
  const tooLarge = input.alone.filter((one) => fitsNone(one.layouts))
  if (tooLarge.length > 0) return tooLargeVerdict(input, rack, largest.flask, tooLarge, most, whole)
  const nearest = nearestFlask(input, rack, whole?.ways ?? input.layouts)
  const count = howManyFlasks(input, rack)
  const fewer =
    count === undefined
      ? say`cast fewer pieces at once`
      : say`pour the pieces in ${COUNTS[count] ?? ''} or more`
  return {
    ...base,
    title: say`By outside boxes no flask of the rack holds this tree`,
    reason: say`${
      nearest === undefined
        ? []
        : say`The nearest is ${sizeWords(nearest.flask)}, with the pieces ${stands(nearest.layout)}: ${shortfall(input, nearest, rules.topLeast_mm / 1000)}.`
    }${whole === undefined ? say` ${noneTaken}` : []}`,
    remedy:
      whole === undefined
        ? say`${fewer}; ${BY_BOXES}`
        : say`${fewer}, or add a flask ${flaskWords(whole)} under Shop if the kiln takes it, for the pieces ${whole.ways.flatMap(stands)}${mind(rules, whole)}; ${BY_BOXES}`,
  }
}

const tooLargeVerdict = <L extends Standing>(
  input: FlaskInput<L>,
  rack: Rack,
  largest: Flask,
  tooLarge: FlaskInput<L>['alone'],
  most: Size,
  whole: Would<L> | undefined,
): Verdict => {
  const { rules } = input.shop
  const each = smallestFor(
    input,
    tooLarge.map((one) => one.layouts),
    most,
  )
  const told = tooLarge.map(({ name, layouts }, index): Words => {
    const advised = whole?.ways[0] ?? each?.ways[index]
    const alike = layouts.filter(({ upright }) => advised === undefined || upright === advised.upright)
    const fit = nearestFlask(
      input,
      rack.filter(({ flask }) => flask === largest),
      alike,
    )
    return fit === undefined
      ? []
      : say` ${name} by itself, ${stands({ ...fit.layout, tiers: 1 })}: ${shortfall(input, fit, rules.topLeast_mm / 1000)}.`
  })
  const names = listed(tooLarge.map((one) => one.name))
  const other = say`make the piece smaller, or cast it in parts and join them`
  const add =
    whole !== undefined
      ? say`add a flask ${flaskWords(whole)} under Shop if the kiln takes it, for the pieces ${whole.ways.flatMap(stands)}${mind(rules, whole)}; ${BY_BOXES}`
      : each !== undefined
        ? say`add a flask ${flaskWords(each)} under Shop if the kiln takes it, which holds ${names} one at a time${mind(rules, each)}; ${BY_BOXES}`
        : undefined
  return {
    id: 'flask.rack',
    part: 'flask',
    verdict: 'stop',
    where: '/shop/flasks',
    title: say`${names}: too large for any flask of the rack`,
    reason: say`In the largest flask, ${sizeWords(largest)}:${told.flat()}${
      add === undefined
        ? say` No flask that ${machineWords(input)} would hold ${tooLarge.length === 1 ? 'it' : 'them'} either.`
        : []
    }`,
    remedy: add === undefined ? other : say`${add}; or ${other}`,
  }
}
