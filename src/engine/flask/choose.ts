import type { Flask } from '../documents/index.ts'
import {
  decide,
  lengthBeside,
  lengthOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import {
  bestFit,
  type Fit,
  type FlaskInput,
  HAIR,
  insideOf,
  machineTakes,
  type Standing,
  shortfall,
  sizeWords,
  within,
} from './fit.ts'
import { gapAbove, gapToWall, massOfShell, roomOfFlask } from './formulas.ts'
import { rackVerdict } from './none-holds.ts'

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

const volumeOf = (flask: Flask): number => flask.insideDiameter_mm ** 2 * flask.insideHeight_mm

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

/** Whether the machine would take a flask as wide and as tall as the rule wants above this tree. */
const tallerTaken = <L extends Standing>(input: FlaskInput<L>, fit: Fit<L>): boolean => {
  const { height } = insideOf(fit.flask)
  return height - fit.top + fit.neededTop <= machineTakes(input, fit.flask.wall_mm / 1000).height + HAIR
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
          reason: say`In the flask of ${sizeWords(fit.flask)} there is ${fit.side < 0 ? say`no room: the tree reaches ${lengthOf(-fit.side)} past the wall` : say`${lengthBeside(fit.side, needed)} to the wall; ${lengthBeside(needed, fit.side)} is needed, or metal may break through`}.`,
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
            reason: say`${lengthBeside(fit.top, fit.neededTop)} above the pieces; the rule wants ${lengthBeside(fit.neededTop, fit.top)}, the least is ${lengthOf(rules.topLeast_mm / 1000)}. A thin end may blow out under the spin.`,
            remedy: tallerTaken(input, fit)
              ? say`take a taller flask, shorten the main sprue, or accept it for a light tree`
              : say`shorten the main sprue, cast fewer pieces, or accept it for a light tree: the machine takes no flask as tall as the rule wants here`,
            where: wallWhere,
          }
        : {
            id: 'flask.top',
            part: 'flask',
            verdict: 'stop',
            title: say`The end is too thin`,
            reason: say`${fit.top < 0 ? say`The tree stands ${lengthOf(-fit.top)} out of the flask` : say`Only ${lengthBeside(fit.top, rules.topLeast_mm / 1000)} above the pieces`}; ${lengthBeside(rules.topLeast_mm / 1000, fit.top)} is the very least, or the end blows out and throws metal.`,
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
    const taken = rack.filter(({ flask }) =>
      within(insideOf(flask), machineTakes(input, flask.wall_mm / 1000)),
    )
    const graded = (grade: number) =>
      taken.find(({ flask, index }) => bestFit(input, flask, index)?.grade === grade)
    const would = graded(0) ?? graded(1)
    const remedy =
      would === undefined
        ? say`no other flask of the rack would do either: ${rackVerdict(input, rack).remedy}`
        : say`take the flask of ${sizeWords(would.flask)}, or leave the choice open`
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
