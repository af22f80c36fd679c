import {
  type ArrangeProblem,
  type ArrangeRequest,
  type KeepClear,
  motionOf,
  type PieceToArrange,
  type PlacedSprue,
  standInFor,
} from './arrange/index.ts'
import type { Flask } from './documents/index.ts'
import { insideOf, machineTakes, within } from './flask/index.ts'
import { radiusToOutlast } from './physics/freezing-time.ts'
import { shapeKey, type WeighedPiece } from './piece/index.ts'
import type { Point, Transform, TriangleMesh } from './piece/mesh/index.ts'
import { determinant } from './piece/mesh/transform.ts'
import type { Plan } from './plan.ts'
import { chooseFromShop } from './plan-parts.ts'
import { METRIC, type Verdict, type Words, writeWords } from './quantity/index.ts'

type Parts = Pick<Plan, 'shop' | 'pour' | 'pieces' | 'tree'>

/** What an arrangement of this plan asks for, or every reason why there can be none yet. */
export const arrangeRequest = (
  plan: Parts,
  meshes: Readonly<Record<string, TriangleMesh>>,
): { readonly request?: ArrangeRequest; readonly problems: readonly ArrangeProblem[] } => {
  const { shop, pour, tree } = plan
  const problems: ArrangeProblem[] = []
  const base = shop.bases.find((one) => one.id === pour.tree.base) ?? shop.bases[0]
  const pieces = plan.pieces.pieces.flatMap((piece) => pieceToArrange(plan, piece, meshes, problems) ?? [])
  problems.push(...lockFaults(pour.tree.locked ?? []), ...idFaults(pour.pieces))
  for (const lock of pour.tree.locked ?? [])
    if (!pour.pieces.some((piece) => piece.id === lock.piece && lock.copy <= piece.quantity))
      problems.push({
        kind: 'locked-nothing',
        level: 'stop',
        where: '/pour/tree/locked',
        what: `A place is locked for ${lock.piece}/${lock.copy}, and the pour has no such piece`,
        remedy: 'take the lock away, or name a piece and copy of this pour',
      })
  for (const sprue of pour.tree.sprues ?? [])
    if (!pour.pieces.some((piece) => piece.id === sprue.piece && sprue.copy <= piece.quantity))
      problems.push({
        kind: 'sprue-on-nothing',
        level: 'stop',
        where: '/pour/tree/sprues',
        what: `A sprue is placed on ${sprue.piece}/${sprue.copy}, and the pour has no such piece`,
        remedy: 'take the sprue away, or name a piece and copy of this pour',
      })
  if (pour.pieces.length === 0)
    problems.push({
      kind: 'no-pieces',
      level: 'stop',
      where: '/pieces',
      what: 'There is no piece to place',
      remedy: 'give a piece with its model, or with its weight and caliper sizes',
    })
  const rules = shop.rules
  const machine = { shop, machineIndex: chooseFromShop(shop, pour).machine }
  const takes = (flask: Flask): boolean =>
    within(insideOf(flask), machineTakes(machine, flask.wall_mm / 1000))
  const owned = shop.flasks.filter((flask) => flask.owned)
  // where the machine takes none of them the plan stops for that, and the waxes are placed all the same
  const rack = owned.some(takes) ? owned.filter(takes) : owned
  const flasks = pour.flask === undefined ? rack : shop.flasks.filter(({ id }) => id === pour.flask)
  const widest = flasks.reduce<Flask | undefined>(
    (one, other) => (one !== undefined && roomOf(one) >= roomOf(other) ? one : other),
    undefined,
  )
  const largest = machineTakes(machine, (widest?.wall_mm ?? 0) / 1000)
  if (problems.some((problem) => problem.level === 'stop') || base === undefined || tree.stem === undefined)
    return { problems }
  return {
    request: {
      pieces,
      isChosen: pour.flask !== undefined,
      flasks: flasks.map((flask) => ({
        id: flask.id,
        diameter_mm: flask.insideDiameter_mm,
        height_mm: flask.insideHeight_mm,
      })),
      largest: { diameter_mm: largest.diameter * 1000, height_mm: largest.height * 1000 },
      base: { mouth_mm: base.mouthDiameter_mm, neck_mm: base.neckDiameter_mm, depth_mm: base.depth_mm },
      rules: {
        wall_mm: rules.wallClearance_mm,
        gap_mm: rules.waxToWax_mm,
        topPerDiameter: rules.topPerDiameter,
        topLeast_mm: rules.topLeast_mm,
      },
      told: toldOf(plan),
      stem_mm: tree.stem.diameter.value * 1000,
      button_mm: tree.button.depth.value * 1000,
      freezing: {
        heatPerVolume: tree.freezing.heat.value,
        drop: tree.freezing.drop.value,
        mouldConductivity: tree.freezing.conductivity.value,
        mouldHeatCapacity: tree.freezing.capacity.value,
        known: timesKnownTo(tree.freezing),
      },
    },
    problems,
  }
}

/** What the plan stops for, or would have looked at, of pieces and freezing order: whoever builds from the sheet alone sees it there. */
const toldOf = ({ tree, pieces }: Parts): ArrangeProblem[] =>
  toldAs([...pieces.answer.verdicts, ...tree.answer.verdicts])

/** Stops that rest on where the waxes were placed: plaster, base, machine, crucible, powder and kiln. */
const BY_PLACES =
  /^(flask\.(?!arranged)|spin\.(balance|capacity|flask)|charge\.(cone|button)|melt\.crucible|mix\.bag|burnout\.fits)/

/** What stops a plan that reckons with the places found, beyond the places themselves. */
export const stopsByPlaces = ({ go, arranged }: Pick<Plan, 'go' | 'arranged'>): ArrangeProblem[] =>
  arranged === undefined ? [] : toldAs(go.stops.filter(({ id }) => BY_PLACES.test(id)))

const toldAs = (verdicts: readonly Verdict[]): ArrangeProblem[] =>
  verdicts.flatMap(({ verdict, id, title, reason, remedy, where }): ArrangeProblem[] => {
    if (verdict === 'pass') return []
    const words = (said: Words): string => writeWords(said, METRIC)
    return [
      {
        kind: id,
        level: verdict,
        where: where ?? '/pour',
        what: `${words(title)}: ${words(reason).replace(/\.$/, '')}`,
        remedy: words(remedy),
      },
    ]
  })

const roomOf = ({ insideDiameter_mm, insideHeight_mm }: Flask): number =>
  insideDiameter_mm ** 2 * insideHeight_mm

/**
 * The factor either way to which freezing times are known: they go by the square of heat over drop and inversely by
 * conductivity and capacity (Chvorinov's rule), each with its own range.
 */
const timesKnownTo = ({ heat, drop, conductivity, capacity }: Plan['tree']['freezing']): number => {
  const off = ({ value, low, high }: { value: number; low: number; high: number }): number =>
    value > 0 && low > 0 ? Math.log(high / low) / 2 : 0
  return Math.exp(Math.hypot(2 * off(heat), 2 * off(drop), off(conductivity), off(capacity)))
}

/** Distances name a wax by its piece's id and copy, and a sprue as `sprue/n`: an id must be one piece's own. */
const idFaults = (pieces: Parts['pour']['pieces']): ArrangeProblem[] =>
  pieces.flatMap(({ id }, index): ArrangeProblem[] => {
    const isTaken = pieces.slice(0, index).some((one) => one.id === id)
    if (id !== 'sprue' && !isTaken) return []
    return [
      {
        kind: 'id-not-its-own',
        level: 'stop',
        where: `/pieces/${index}/id`,
        what: isTaken ? `The id ${id} is another piece’s too` : `The id ${id} is what distances call a sprue`,
        remedy: 'give each piece an id of its own; its name may stay',
      },
    ]
  })

const LAST_ROW = [0, 0, 0, 1]

/** Locks that say two things of one wax, or what no motion is. */
const lockFaults = (locks: NonNullable<Parts['pour']['tree']['locked']>): ArrangeProblem[] =>
  locks.flatMap(({ piece, copy, matrix }, index): ArrangeProblem[] => {
    const stop = (kind: string, what: string, remedy: string): ArrangeProblem => ({
      kind,
      level: 'stop',
      where: `/pour/tree/locked/${index}`,
      what,
      remedy,
    })
    const isSecond = locks.slice(0, index).some((one) => one.piece === piece && one.copy === copy)
    return [
      ...(isSecond
        ? [stop('locked-twice', `${piece}/${copy} is locked in two places`, 'take one of the two locks away')]
        : []),
      ...(LAST_ROW.every((value, k) => matrix[12 + k] === value)
        ? []
        : [
            stop(
              'locked-not-rigid',
              `The place locked for ${piece}/${copy} has a last row of ${matrix.slice(12).join(', ')}, which no turn and shift has`,
              'give a 4 × 4 matrix, row by row, whose last row is 0, 0, 0, 1',
            ),
          ]),
    ]
  })

const pieceToArrange = (
  { pour, tree, pieces }: Parts,
  piece: WeighedPiece,
  meshes: Readonly<Record<string, TriangleMesh>>,
  problems: ArrangeProblem[],
): PieceToArrange | undefined => {
  const row = pour.pieces[piece.index]
  const gate = tree.gates.find((one) => one.piece === piece.id)
  const where = `/pieces/${piece.index}`
  if (row === undefined) return undefined
  const key = shapeKey(row.source)
  const solid: Pick<PieceToArrange, 'mesh' | 'over' | 'envelope' | 'standIn'> | undefined =
    key === undefined ? standIn(piece, where, problems) : modelOf(piece, meshes[key], pieces, problems)
  if (solid === undefined) return undefined
  if (gate === undefined) {
    problems.push({
      kind: 'no-sprue',
      level: 'stop',
      where,
      what: `How thick ${piece.name} is at its thickest is not known, so no sprue can be sized for it`,
      remedy: 'measure the thickest place by calipers',
    })
    return undefined
  }
  const asked = row.gate?.diameter_mm !== undefined
  const bySolid = piece.places !== undefined
  const locks = (pour.tree.locked ?? []).filter((lock) => lock.piece === piece.id)
  return {
    id: piece.id,
    name: piece.name,
    copies: piece.quantity,
    ...solid,
    thicker: piece.thicker,
    sprue: {
      diameter_mm: gate.diameter.value * 1000,
      count: Math.round(gate.count.value),
      countAsked: row.gate?.count !== undefined,
      length_mm: row.gate?.length_mm,
      ...(bySolid ? {} : { needed_mm: leastSprue(tree, gate.pieceFreezes.value) }),
      because: `${asked ? 'as the caster asked, ' : ''}${bySolid ? '' : `by its calipers it stays liquid ${gate.margin.value.toFixed(2)} times as long as the section it feeds (${gate.margin.low.toFixed(2)} to ${gate.margin.high.toFixed(2)}), `}by freezing time: in plaster a rod freezes about twice as fast as a plate of equal modulus`,
    },
    keepClear: (row.keepClear ?? []).map((ball) => larger(ball, solid.over ?? 1)),
    placed: placedOn(pour.tree.sprues, piece.id, solid.over ?? 1),
    locked: new Map(
      locks.map(({ copy, matrix }) => [
        copy,
        solid.over === undefined ? motionOf(matrix) : ofTheWax(motionOf(matrix)),
      ]),
    ),
  }
}

/** The thinnest round sprue that outlasts what it feeds, mm; unknown where the mould is no cooler than the metal. */
const leastSprue = ({ freezing }: Plan['tree'], fed: number): number | undefined => {
  const across =
    2000 *
    radiusToOutlast('rod', fed, {
      heatPerVolume: freezing.heat.value,
      drop: freezing.drop.value,
      mouldConductivity: freezing.conductivity.value,
      mouldHeatCapacity: freezing.capacity.value,
    })
  return Number.isFinite(across) && across > 0 ? across : undefined
}

/** The caster's sprues of one piece, by copy, at the size of the wax. */
const placedOn = (
  sprues: Parts['pour']['tree']['sprues'],
  piece: string,
  over: number,
): Map<number, PlacedSprue[]> => {
  const placed = new Map<number, PlacedSprue[]>()
  for (const { piece: id, copy, at_mm, kept, ...rest } of sprues ?? [])
    if (id === piece)
      placed.set(copy, [
        ...(placed.get(copy) ?? []),
        {
          ...rest,
          ...(kept === 'sprue' && { found: true }),
          at_mm: at_mm.map((value) => value * over) as unknown as Point,
        },
      ])
  return placed
}

const larger = ({ at_mm, radius_mm }: KeepClear, over: number): KeepClear => ({
  at_mm: at_mm.map((value) => value * over) as unknown as Point,
  radius_mm: radius_mm * over,
})

/** A place locked for a drawing turns its points into the flask's, over by the shrink of whatever day that was. */
const ofTheWax = (motion: Transform): Transform => {
  const over = Math.cbrt(determinant(motion))
  return over > 0 ? motion.map((value, k) => (k < 9 ? value / over : value)) : motion
}

/** The wax of a drawing as the plan weighs it: over by the shrink, or as drawn. */
const carved = ({ drawn }: WeighedPiece, mesh: TriangleMesh): Pick<PieceToArrange, 'mesh' | 'over'> => {
  if (drawn === undefined) return { mesh }
  const over = Math.cbrt(drawn.volume.value / drawn.asDrawn.value)
  return {
    mesh: { positions: Float64Array.from(mesh.positions, (value) => value * over), corners: mesh.corners },
    over,
  }
}

const modelOf = (
  piece: WeighedPiece,
  mesh: TriangleMesh | undefined,
  { answer }: Plan['pieces'],
  problems: ArrangeProblem[],
): Pick<PieceToArrange, 'mesh' | 'over' | 'standIn'> | undefined => {
  if (mesh !== undefined && piece.volume !== undefined && piece.volume.value > 0)
    return { ...carved(piece, mesh), standIn: false }
  const told = answer.problems.find((problem) => problem.where.startsWith(`/pour/pieces/${piece.index}/`))
  problems.push({
    kind: 'no-solid',
    level: 'stop',
    where: `/pieces/${piece.index}/source`,
    what: `There is no closed solid of ${piece.name} that can be trusted, so no distance from it would be true`,
    remedy:
      told === undefined
        ? 'mend the model, or accept the repair; what is said of its file tells why'
        : 'see what the plan says of this model',
  })
  return undefined
}

const standIn = (
  piece: WeighedPiece,
  where: string,
  problems: ArrangeProblem[],
): Pick<PieceToArrange, 'mesh' | 'envelope' | 'standIn'> | undefined => {
  const { extents, volume } = piece
  const refuse = (what: string, remedy: string): undefined => {
    problems.push({ kind: 'no-solid', level: 'stop', where, what, remedy })
    return undefined
  }
  if (extents === undefined || volume === undefined)
    return refuse(
      `${piece.name} has no outside sizes, so nobody can say where it fits`,
      'measure length, width and height by calipers, or give its model',
    )
  const sizes = [extents.length.value, extents.width.value, extents.height.value].map(
    (side) => side * 1000,
  ) as [number, number, number]
  // as much as the scale or the calipers may be off, a wax may weigh more than its box would
  const box = sizes.reduce((product, side) => product * side, 1)
  const solid = standInFor(
    sizes,
    volume.low * 1e9 <= box ? Math.min(volume.value * 1e9, box) : volume.value * 1e9,
  )
  if (solid === null)
    return refuse(
      `${piece.name} is more than its outside box holds: its sizes or its weight are wrong`,
      'measure and weigh it again',
    )
  problems.push({
    kind: 'stand-in',
    level: 'note',
    where,
    what: `${piece.name} has no model: a box of its outside sizes, ${sizes.map((side) => side.toFixed(1)).join(' × ')} mm along x, y and z with its middle at the origin, stands in for it in every distance, and in the metal that box with a straight opening through its least side, of the right volume`,
    remedy: 'give its model to have its true shape placed',
  })
  return { ...solid, standIn: true }
}
