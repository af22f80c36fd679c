import {
  type Arrangement,
  type ArrangeProblem,
  type Clearance,
  isAsked,
  placeNames,
} from './arrange/index.ts'
import type { Pour, Shop } from './documents/index.ts'
import type { MeasuredTree } from './measure-arrangement.ts'
import { shapeKey } from './piece/index.ts'
import type { Plan } from './plan.ts'
import { chooseFromShop } from './plan-parts.ts'
import { keyOf, lengthOf, say, type Verdict, type Words } from './quantity/index.ts'
import { wordsOf } from './quantity/say-lengths.ts'

/** What a plan says of a finished arrangement: a slow result, handed in under `arrangementKey`. */
export interface ArrangementFacts {
  /** false where nothing fits, or a place locked by the caster breaks a clearance */
  readonly fits: boolean
  readonly flask: {
    readonly id: string
    readonly diameter_mm: number
    readonly height_mm: number
  } | null
  /** against its need, between real surfaces */
  readonly tightest: Clearance | null
  /** what was decided that the caster should look at before building it */
  readonly minds: readonly { readonly what: string; readonly remedy: string }[]
  /** the first of what stops it */
  readonly stop: Pick<ArrangeProblem, 'kind' | 'what' | 'remedy'> | null
  /** by its own solids; the plan reckons with these where it fits, and by rule where they are not there */
  readonly measured?: MeasuredTree
  /** of the same waxes before a change, until those of the changed tree are known: nothing is judged by them */
  readonly meanwhile?: boolean
}

/** What the plan itself asks for before any wax can be placed, piece by piece. */
const ASKED_BY_PLAN: ReadonlySet<string> = new Set(['no-solid', 'no-sprue', 'no-pieces'])

/** Whether places were looked for, or can't be for a reason that the plan does not give by itself. */
const tellsOfPlaces = ({ flask, stop }: ArrangementFacts): boolean =>
  flask !== null || (stop !== null && !ASKED_BY_PLAN.has(stop.kind))

/** What is known of this tree's places among finished results, where it tells anything. */
export const arrangementOf = (
  known: Readonly<Record<string, ArrangementFacts>> | undefined,
  tree: Pick<Plan, 'shop' | 'pour' | 'pieces' | 'tree'>,
): ArrangementFacts | undefined => {
  const facts = known?.[arrangementKey(tree)]
  return facts !== undefined && tellsOfPlaces(facts) ? facts : undefined
}

const sizesTaken = (machine: Shop['machines'][number] | undefined) =>
  machine ? [machine.mostFlaskDiameter_mm, machine.mostFlaskHeight_mm] : null

/** Everything an arrangement rests on, hashed: a result under another key is of another tree. */
export const arrangementKey = ({
  shop,
  pour,
  pieces,
  tree,
}: Pick<Plan, 'shop' | 'pour' | 'pieces' | 'tree'>): string =>
  keyOf({
    pieces: pieces.pieces.map((piece) => {
      const row = pour.pieces[piece.index]
      const gate = tree.gates.find((one) => one.piece === piece.id)
      const { extents } = piece
      return {
        id: piece.id,
        name: piece.name,
        quantity: piece.quantity,
        shape: (row && shapeKey(row.source)) ?? null,
        volume: piece.volume?.value ?? null,
        sizes: extents ? [extents.length.value, extents.width.value, extents.height.value] : null,
        keepClear: row?.keepClear ?? [],
        gate: gate
          ? [gate.diameter, gate.count, gate.pieceFreezes, gate.margin].map(({ value, low, high }) => [
              value,
              low,
              high,
            ])
          : null,
        drawn: piece.drawn ? [piece.drawn.volume.value, piece.drawn.asDrawn.value] : null,
        asked: row?.gate ?? null,
      }
    }),
    locked: (pour.tree.locked ?? []).map(({ kept: _kept, ...lock }) => lock),
    sprues: (pour.tree.sprues ?? []).map(({ kept: _kept, ...sprue }) => sprue),
    freezing: Object.values(tree.freezing).map(({ value }) => value),
    base: shop.bases.find((base) => base.id === pour.tree.base) ?? shop.bases[0] ?? null,
    flask: pour.flask ?? null,
    rack: shop.flasks,
    machine: sizesTaken(shop.machines[chooseFromShop(shop, pour).machine]),
    rules: [
      shop.rules.wallClearance_mm,
      shop.rules.waxToWax_mm,
      shop.rules.topPerDiameter,
      shop.rules.topLeast_mm,
    ],
    stem: tree.stem?.diameter.value ?? null,
    button: tree.button.depth.value,
  })

/** What has least to spare of all that must keep its distance, the main sprue and the base too. */
const tightestOf = ({ clearances, stemClearances }: Arrangement): Clearance | null =>
  [...clearances, ...stemClearances]
    .filter(isAsked)
    .reduce<Clearance | null>(
      (least, one) =>
        least === null || one.distance_mm - one.needed_mm < least.distance_mm - least.needed_mm ? one : least,
      null,
    )

/** @param problems  of the request and of the arrangement, the request's first */
export const factsOfArrangement = (
  arrangement: Arrangement | undefined,
  problems: readonly ArrangeProblem[],
  measured?: MeasuredTree,
): ArrangementFacts => {
  const stop = problems.find(({ level }) => level === 'stop')
  return {
    fits: (arrangement?.fits ?? false) && stop === undefined,
    flask: arrangement?.flask ?? null,
    tightest: arrangement === undefined ? null : tightestOf(arrangement),
    minds: problems.filter(({ level }) => level === 'check').map(({ what, remedy }) => ({ what, remedy })),
    stop: stop ? { kind: stop.kind, what: stop.what, remedy: stop.remedy } : null,
    ...(measured !== undefined && { measured }),
  }
}

/** 'tag/1' as the caster calls it; 'sprue/2', 'wall' and 'top' in words. */
export const nameInFlask = (place: string, pieces: Pour['pieces']): string =>
  placeNames(pieces.map(({ id, name, quantity }) => ({ id, name, copies: quantity })))(place)

const tightestWords = ({ tightest }: ArrangementFacts, pour: Pour): Words => {
  if (tightest === null) return []
  const [one, other] = tightest.between.map((place) => nameInFlask(place, pour.pieces))
  return say`The tightest distance between real surfaces is from ${one ?? ''} to ${other ?? ''}: ${lengthOf(tightest.distance_mm / 1000)}, and ${lengthOf(tightest.needed_mm / 1000)} is needed.`
}

/** What places rest on: a wax without a model is a box of its outside sizes in them. */
export const placedBy = ({ pieces }: Pour): string => {
  const boxed = pieces.filter(({ source }) => shapeKey(source) === undefined)
  return boxed.length === 0
    ? 'by true shapes'
    : boxed.length === pieces.length
      ? 'by outside boxes, for want of models'
      : `by true shapes, ${boxed.map(({ name }) => name).join(' and ')} by outside boxes`
}

/** Of a search that ended without an answer. */
export const NOT_WORKED_OUT = 'not-worked-out'

/** Problems of which the tightest distance says it all. */
const DISTANCES: ReadonlySet<string> = new Set(['too-near', 'locked-in-no-flask'])

const isByHand = ({ tree }: Pour): boolean => (tree.locked ?? []).length > 0 || (tree.sprues ?? []).length > 0

/** What would do where no place was found for every wax, by the search that sought one. */
export const wouldDo = ({ flask, stop }: ArrangementFacts, { pieces }: Pour): Words | undefined =>
  flask === null && stop !== null
    ? wordsOf(
        stop.remedy,
        pieces.map(({ name }) => name),
      )
    : undefined

/**
 * What the places found say about a plan.
 * @param differs  where the rule by outside boxes says otherwise, of a plan that reckons with them
 */
export const judgeArrangement = (
  { pour, flask }: Pick<Plan, 'pour' | 'flask'>,
  facts: ArrangementFacts | undefined,
  differs: Words = [],
): readonly Verdict[] => {
  if (facts === undefined || facts.meanwhile === true) return []
  const base = { id: 'flask.arranged', part: 'flask', where: '/pour/flask' } as const
  const names = pour.pieces.map(({ name }) => name)
  const found = facts.flask
  if (found === null)
    return [
      {
        ...base,
        // what was sought and not found is no tree to build; a hand may place it, and is judged then
        verdict: facts.stop?.kind === NOT_WORKED_OUT ? 'check' : 'stop',
        title: say`No place was found for every wax by its true shape`,
        reason:
          facts.stop === null
            ? say`Every place tried broke a clearance.`
            : say`${wordsOf(facts.stop.what, names)}.${flask === undefined ? '' : ' The plan stands by outside boxes meanwhile.'}`,
        remedy: wordsOf(facts.stop?.remedy ?? 'take a larger flask, or pour the pieces in two', names),
      },
    ]
  const isDistance = facts.stop === null || DISTANCES.has(facts.stop.kind)
  if (!facts.fits)
    return [
      {
        ...base,
        verdict: 'stop',
        title: isDistance
          ? isByHand(pour)
            ? say`A wax or a sprue put there by hand comes too near`
            : say`A wax or a sprue comes too near as it was placed`
          : say`The tree can’t be poured as it stands`,
        reason: isDistance
          ? tightestWords(facts, pour)
          : say`${wordsOf(facts.stop?.what ?? '', names)}. ${tightestWords(facts, pour)}`,
        remedy: wordsOf(facts.stop?.remedy ?? 'move it, or let it go so that it is placed anew', names),
      },
    ]
  const size = say`${lengthOf(found.diameter_mm / 1000)} × ${lengthOf(found.height_mm / 1000)}`
  if (flask !== undefined && flask.flask.id !== found.id)
    return [
      {
        ...base,
        verdict: 'check',
        title: say`By true shapes the waxes were placed in another flask`,
        reason: say`They clear everything in the flask of ${size}; the plan reckons with ${lengthOf(flask.flask.insideDiameter_mm / 1000)} × ${lengthOf(flask.flask.insideHeight_mm / 1000)}, by outside boxes. ${tightestWords(facts, pour)}`,
        remedy: say`choose the flask of ${size}, or place the waxes by hand and measure every gap`,
      },
    ]
  const [first, ...more] = facts.minds
  if (first !== undefined)
    return [
      {
        ...base,
        verdict: 'check',
        title: say`Placed ${placedBy(pour)}, with something to mind`,
        reason: say`${wordsOf(first.what, names)}${more.length === 0 ? '' : `; and ${more.length} more, told where each wax goes`}. ${tightestWords(facts, pour)}${differs}`,
        remedy: wordsOf(first.remedy, names),
      },
    ]
  return [
    {
      ...base,
      verdict: 'pass',
      title: say`Placed ${placedBy(pour)}, every wax keeps clear`,
      reason: say`${tightestWords(facts, pour)}${differs}`,
      remedy: [],
    },
  ]
}
