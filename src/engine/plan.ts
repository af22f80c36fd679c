import { type ArrangementFacts, arrangementOf, judgeArrangement, wouldDo } from './arrangement-verdict.ts'
import { type ChargePlan, type NeededPlan, planCharge, planNeeded } from './charge/index.ts'
import type { ChargeAnswer } from './charge/make-up/index.ts'
import { openRoots, type Pour, type Shop } from './documents/index.ts'
import { type FinishAnswer, planFinish } from './finishing/index.ts'
import { chooseFlask, type FlaskPlan, outsideOfFlask } from './flask/index.ts'
import { afterFlask, type GoList, gatherVerdicts, goOrNoGo, judgeAim, judgeClocks, judgeTrial } from './go.ts'
import {
  type Burnout,
  type CooledFlask,
  type DesignedBurnout,
  formulas as heatFormulas,
  planBurnout,
  planQuench,
  type Quench,
} from './heat/index.ts'
import { type Mix, planMix, stationPressure } from './investment/index.ts'
import { type MeltAnswer, planMelt } from './melt/index.ts'
import { resolveMoment } from './physics/schedule.ts'
import { type MeshFacts, massOfWax, type PiecesAnswer, shapeKey, weighPieces } from './piece/index.ts'
import { type ArrangedTree, type ByRule, differFromRule, judgeEnd, readArranged } from './plan-arranged.ts'
import {
  type Conditions,
  chooseFromShop,
  gateDepth,
  highestMelt,
  type Mould,
  massKnown,
  readConditions,
  thinnestOf,
  type Work,
  weighMould,
  workOf,
} from './plan-parts.ts'
import { type PriceAnswer, planPrice } from './price/index.ts'
import {
  addUp,
  type Caution,
  PARTS,
  type Problem,
  type Quantity,
  type RoomAnswer,
  type Verdict,
  type Words,
} from './quantity/index.ts'
import { planSpin, type SpinAnswer } from './spin/index.ts'
import {
  type BuiltSprues,
  compactest,
  compareSprues,
  judgeAsBuilt,
  judgeReservoir,
  type Layout,
  type LayoutSizes,
  layoutsInFlasks,
  metalInFeeds,
  planFeeds,
  planTree,
  roomByLayout,
  roomOfSprues,
  sizesOfLayout,
  type TreePlan,
} from './tree/index.ts'

/** The moment now, and whatever slow results are finished, each under a hash of its inputs. */
export interface Given {
  /** milliseconds since 1970-01-01T00:00Z */
  readonly now: number
  readonly meshes?: Readonly<Record<string, MeshFacts>>
  readonly makeUps?: Readonly<Record<string, ChargeAnswer>>
  readonly burnouts?: Readonly<Record<string, DesignedBurnout>>
  readonly coolings?: Readonly<Record<string, CooledFlask>>
  /** where the waxes were found to fit, under `arrangementKey`; without it the plan stands by outside boxes */
  readonly arrangements?: Readonly<Record<string, ArrangementFacts>>
}

/** A slow result the plan would use if it were there. */
export type Wanted =
  | { readonly kind: 'mesh' | 'pattern'; readonly key: string; readonly pieceIndex: number }
  | { readonly kind: 'make-up'; readonly key: string }
  | { readonly kind: 'burnout' | 'cooling'; readonly key: string }

/** A piece whose size and weight are still being worked out. */
export const isShape = ({ kind }: Wanted): boolean => kind === 'mesh' || kind === 'pattern'

export interface Plan {
  readonly shop: Shop
  readonly pour: Pour
  readonly now: number
  /** the moment of casting, when it can be read */
  readonly castAt?: number
  readonly castAtNote?: Words
  readonly work: Work
  readonly conditions: Conditions
  readonly pieces: PiecesAnswer
  readonly tree: TreePlan
  /** room of all sprues, and the metal in them */
  readonly sprues?: Quantity
  readonly spruesMetal?: Quantity
  /** what they rest on: the tree on the scale, the places found for the waxes, or a layout by outside boxes */
  readonly spruesBy?: 'scale' | 'places' | 'boxes'
  /** the sprues of a weighed tree beside the planned ones */
  readonly builtSprues?: BuiltSprues
  readonly flask?: FlaskPlan<Layout>
  /** the places found for the waxes, where the plan reckons with them, and what the rule says beside them */
  readonly arranged?: ArrangedTree & { readonly byRule: ByRule; readonly waxMass?: Quantity }
  readonly mould: Mould
  readonly pressure: Quantity
  readonly needed: NeededPlan
  readonly charge: ChargePlan
  readonly melt: MeltAnswer
  readonly price: PriceAnswer
  readonly mix: Mix
  readonly burnout: Burnout
  readonly spin: SpinAnswer
  readonly quench: Quench
  readonly finish: FinishAnswer
  readonly verdicts: readonly Verdict[]
  readonly go: GoList
  readonly cautions: readonly Caution[]
  readonly problems: readonly Problem[]
  /** slow results not yet handed in: their parts stand by rule until they are */
  readonly wanted: readonly Wanted[]
}

/**
 * One pour planned whole, as the day goes. Pure: the same shop, pour and given make the same plan to the
 * bit. What cannot be worked out is left open, with a problem or a check that says why; nothing is guessed.
 */
export const planPour = (shop: Shop, pour: Pour, given: Given): Plan => {
  const roots = openRoots(shop, pour)
  const chosen = chooseFromShop(shop, pour)
  const meshes = given.meshes ?? {}
  let moment = resolveMoment(pour.castAt, given.now, shop.timeZone)

  const pieces = weighPieces({
    shop,
    pour,
    roots,
    alloyIndex: shop.alloys[chosen.alloy]?.id === pour.alloy ? chosen.alloy : undefined,
    meshes,
  })
  const work = workOf(pieces.pieces)
  const conditions = readConditions(shop, roots, pour, chosen, work)

  const treeInput = {
    shop,
    pour,
    roots,
    pieces: pieces.pieces,
    freezing: {
      heat: conditions.heat,
      drop: conditions.drop,
      conductivity: conditions.conductivity,
      capacity: conditions.capacity,
    },
    baseIndex: chosen.base,
    metalDensity: conditions.metalDensity,
  }
  const feeds = planFeeds(treeInput)
  const pending = pieces.pieces.some((piece) => piece.pending)
  const choose = (
    asked: Pour,
    layouts: readonly Layout[],
    sizesOf: (layout: Layout) => LayoutSizes | undefined,
    { onlyBoxes = false, byShape }: { readonly onlyBoxes?: boolean; readonly byShape?: Words } = {},
  ) =>
    chooseFlask({
      shop,
      pour: asked,
      roots,
      layouts,
      alone: feeds.alone,
      inFlasks: (count) => layoutsInFlasks(treeInput, feeds, count),
      sizesOf,
      baseIndex: chosen.base,
      machineIndex: chosen.machine,
      pending,
      onlyBoxes,
      byShape,
    })
  const boxSizes = (layout: Layout): LayoutSizes | undefined => sizesOfLayout(treeInput, feeds, layout)
  const byBoxes = choose(pour, feeds.layouts, boxSizes)
  const closest = compactest(feeds.layouts)
  const boxLayout = byBoxes.plan?.layout ?? closest
  const sizesByRule = boxLayout && boxSizes(boxLayout)
  const roomByRule = roomByLayout(treeInput, feeds, sizesByRule, {
    id: 'rule.sprues',
    title: 'Room of all sprues, by outside boxes',
  })
  const freezingShrink = roots.at(`/shop/alloys/${chosen.alloy}/shrinkOnFreezing`, 'Shrinkage on freezing')
  // neither the flask taken nor what the built tree weighs: a button that changed with them would be another tree's
  const roomToFeed = roomByLayout(
    treeInput,
    feeds,
    closest && sizesOfLayout(treeInput, feeds, closest, 'closest'),
    { id: 'closest.sprues', title: 'Room of all sprues, as close as their boxes stand' },
    'closest',
  )
  const tree = planTree(
    treeInput,
    feeds,
    roomToFeed && pieces.castMass && { pieces: pieces.castMass, sprues: roomToFeed, share: freezingShrink },
  )
  const facts = arrangementOf(given.arrangements, { shop, pour, pieces, tree })
  const placed = readArranged(shop, pour, chosen.base, facts)
  const { plan: flask, answer: flaskAnswer } =
    placed !== undefined
      ? choose({ ...pour, flask: placed.flask.id }, [placed.layout], () => placed.sizes)
      : facts === undefined
        ? byBoxes
        : choose(pour, feeds.layouts, boxSizes, {
            onlyBoxes: facts.flask !== null,
            byShape: wouldDo(facts, pour),
          })
  const sizes = placed?.sizes ?? sizesByRule
  const sprues = roomOfSprues(treeInput, tree, sizes, pieces.treeWax)
  const builtSprues = compareSprues(treeInput, tree, sizes, pieces.treeWax)
  const spruesMetal =
    sprues &&
    metalInFeeds(
      { volume: sprues, density: conditions.metalDensity },
      { id: 'charge.sprues', title: 'Metal in the sprues' },
    )
  const mould = weighMould(conditions, pieces.pieces, sprues, flask?.room, tree.domeVolume)
  const pressure = stationPressure({ roots, shop })

  const patternDensity = pieces.pieces[0]?.waxDensity
  const needed = planNeeded({
    shop,
    roots,
    crucibleIndex: chosen.crucible,
    pieces: pieces.castMass,
    knownPieces: massKnown(pieces.pieces),
    sprues: spruesMetal,
    leastButton: tree.button.mass,
    fullButton: metalInFeeds(
      { volume: tree.domeVolume, density: conditions.metalDensity },
      { id: 'charge.fullButton', title: 'A button that fills the base’s cone' },
    ),
    byBoxes: pieces.treeWax === undefined && placed === undefined,
    metalPerWax: patternDensity && conditions.metalDensity.value / patternDensity.value,
  })
  const alloy = shop.alloys[chosen.alloy] as Shop['alloys'][number]
  const charge = planCharge({
    roots,
    shop,
    pour,
    alloy,
    toWeigh: needed.toWeigh,
    leastToFill: needed.leastToFill,
    pieces: pieces.pieces.map(({ name, castMassAll }) => ({ name, castMass: castMassAll })),
    makeUps: given.makeUps ?? {},
  })
  const melt = planMelt({
    roots,
    shop,
    pour,
    alloyIndex: chosen.alloy,
    torchIndex: chosen.torch,
    crucibleIndex: chosen.crucible,
    charge: needed.toWeigh,
    leastCharge: needed.least,
    pressure,
    fineness: charge.fineness,
    fineWithCopper: charge.fineWithCopper,
  })

  const growthPath = pieces.pieces
    .map((piece) => shop.waxes.findIndex((wax) => wax.id === piece.waxId))
    .map((index) => `/shop/waxes/${index}/growth_per_K`)
    .find((path) => roots.has(path))
  const seatIndex = pour.pieces.findIndex((piece) => piece.seat !== undefined)
  const mix = planMix({
    roots,
    shop,
    pour,
    investmentIndex: chosen.investment,
    flaskInside: flask && { diameter: flask.diameter, height: flask.height, volume: flask.room },
    waxVolume: mould.wax,
    domeVolume: tree.domeVolume,
    pressure,
    waxGrowth:
      growthPath === undefined ? undefined : roots.at(growthPath, 'Growth of the pattern wax with warmth'),
    seatLength:
      seatIndex < 0 ? undefined : roots.at(`/pour/pieces/${seatIndex}/seat/length_mm`, 'Stone, length'),
  })
  const waxRow = (role: (wax: Shop['waxes'][number]) => boolean): number => shop.waxes.findIndex(role)
  const meltsAt = (index: number, title: string): Quantity | undefined =>
    roots.has(`/shop/waxes/${index}/melts_C`) ? roots.at(`/shop/waxes/${index}/melts_C`, title) : undefined
  const patternWaxes = pieces.pieces
    .map((piece) => waxRow((wax) => wax.id === (piece.waxId ?? shop.waxes[0]?.id)))
    .filter((index) => index >= 0)
    .sort((a, b) => highestMelt(shop, b) - highestMelt(shop, a))
  const waxMass =
    mould.wax &&
    patternDensity &&
    massOfWax(
      { volume: mould.wax, density: patternDensity },
      { id: 'mould.waxMass', title: 'All the wax in the flask' },
    )
  const burnoutFor = (cast: number | undefined): Burnout =>
    planBurnout({
      roots,
      shop,
      pour,
      kilnIndex: chosen.kiln,
      investmentIndex: chosen.investment,
      alloyIndex: chosen.alloy,
      flaskInside: flask && { diameter: flask.diameter, height: flask.height },
      flaskWall: flask?.wall,
      flaskSteel: flask?.steel,
      powder: mix.powder,
      water: mix.water,
      waxMass,
      waxMelts: patternWaxes[0] === undefined ? undefined : meltsAt(patternWaxes[0], 'Pattern wax melts at'),
      sprueMelts: meltsAt(
        waxRow((wax) => wax.role === 'sprue'),
        'Sprue wax melts at',
      ),
      work,
      pressure,
      mixToKiln: mix.intoKiln,
      castAt: cast,
      now: given.now,
      timeZone: shop.timeZone,
      waxShare:
        mould.wax &&
        flask &&
        heatFormulas.waxOfRoom(
          { wax: mould.wax, diameter: flask.diameter, height: flask.height },
          { id: 'burnout.waxShare' },
        ),
      solved: given.burnouts,
    })
  let burnout = burnoutFor(moment.ok ? moment.at : undefined)
  // a weekday names no date: one whose mix would be late already is that of the week after
  if (moment.ok && typeof pour.castAt !== 'string' && (burnout.mixBy ?? given.now) < given.now) {
    moment = resolveMoment(pour.castAt, moment.at + 1, shop.timeZone)
    if (moment.ok) burnout = burnoutFor(moment.at)
  }
  const castAt = moment.ok ? moment.at : undefined
  const farthest = flask?.layout && sizes && gateDepth(sizes.rise, roots, chosen.base)
  const spin = planSpin({
    roots,
    shop,
    pour,
    machineIndex: chosen.machine,
    flaskSteel: flask?.steel,
    dryInvestment: mould.dry,
    wetFlask:
      flask &&
      mould.wet &&
      addUp(
        {
          id: 'mould.wetFlask',
          title: 'Flask, wet',
          says: 'empty flask and set investment',
          plainMass: true,
        },
        [flask.steel, mould.wet],
      ),
    charge: needed.toWeigh,
    leastCharge: needed.least,
    flaskInside: flask && { diameter: flask.diameter, height: flask.height },
    flaskOutside:
      flask && outsideOfFlask({ diameter: flask.diameter, wall: flask.wall }, { id: 'flask.outside' }),
    gateDepth: farthest,
    metalCentroid: placed?.centroid,
    placed: placed && {
      ...placed.placed,
      metalDensity: conditions.metalDensity,
      mouldDensity: conditions.dryDensity,
      thinnest: thinnestOf(pieces.pieces),
    },
    liquidDensity: roots.at(
      `/shop/alloys/${chosen.alloy}/liquidDensity_g_cm3`,
      'Density of the liquid metal',
    ),
    freezing:
      tree.stem === undefined
        ? undefined
        : {
            feeds: [...tree.gates.map((gate) => gate.freezes), tree.stem.freezes],
            button: tree.button.freezes,
          },
  })
  const quench = planQuench({
    roots,
    shop,
    pour,
    alloyIndex: chosen.alloy,
    investmentIndex: chosen.investment,
    charge: needed.toWeigh,
    castingTemperature: conditions.castingTemperature,
    pourTemperature: melt.pourTemperature,
    flaskInside: flask && { diameter: flask.diameter, height: flask.height },
    flaskSteel: flask?.steel,
    dryInvestment: mould.dry,
    spinRun: spin.time?.run,
    work,
    topGap: flask?.topGap,
    solved: given.coolings,
  })
  const finish = planFinish({
    roots,
    shop,
    pour,
    alloyIndex: chosen.alloy,
    pieces: pieces.pieces.map((piece) => ({
      id: piece.id,
      name: piece.name,
      quantity: piece.quantity,
      index: piece.index,
      castMass: piece.castMass,
      area: piece.surface,
      filed: piece.filed,
      extents: piece.extents,
    })),
    sproutMetal: needed.back,
    charge: needed.toWeigh,
  })

  const price = planPrice({
    roots,
    shop,
    pour,
    alloyIndex: chosen.alloy,
    metalCost: charge.cost,
    charge: needed.toWeigh,
    fineness: charge.fineness,
    castMassTotal: pieces.castMass,
    finishedMassTotal: finish.finishedMass,
    metalBack: needed.back,
    powderCost: mix.cost,
    energyCost: burnout.cost,
    waxMass,
  })

  const byRule: ByRule = {
    flask: byBoxes.plan?.flask,
    // on the scale the tree weighs what it weighs, however it was laid out
    sprues:
      placed && roomByRule && pieces.treeWax === undefined
        ? metalInFeeds(
            { volume: roomByRule, density: conditions.metalDensity },
            { id: 'rule.spruesMetal', title: 'Metal in the sprues, by outside boxes' },
          )
        : undefined,
    depth: placed && sizesByRule && gateDepth(sizesByRule.rise, roots, chosen.base, 'rule.depth'),
  }
  const noFlaskHolds = flask === undefined && tree.layouts.length > 0
  const rooms: readonly RoomAnswer[] = [
    pieces.answer,
    flaskAnswer,
    tree.answer,
    needed.answer,
    charge.answer,
    melt.answer,
    price.answer,
    mix.answer,
    burnout.answer,
    spin.answer,
    quench.answer,
    finish.answer,
  ]
  const problems: Problem[] = [
    ...chosen.problems,
    ...(moment.ok ? [] : [moment.problem]),
    ...rooms.flatMap((room) => room.problems).map((problem) => afterFlask(problem, noFlaskHolds)),
  ]
  const reservoir = judgeReservoir({
    button: tree.button,
    cavity: needed.cavity,
    density: conditions.metalDensity,
    share: freezingShrink,
  })
  const verdicts = gatherVerdicts(
    [
      ...judgeAsBuilt([...rooms.flatMap((room) => room.verdicts), ...reservoir], builtSprues),
      ...mould.verdicts,
      ...judgeArrangement(
        { pour, flask },
        facts,
        placed && differFromRule(byRule, { flask: placed.flask, sprues: spruesMetal, depth: farthest }),
      ),
      ...(placed && flask && !placed.meanwhile
        ? judgeEnd(placed, flask.topGap, flask.diameter, spin.pressure)
        : []),
      ...(moment.ok ? judgeClocks(moment.note) : []),
      ...judgeAim(alloy, conditions.aim),
      judgeTrial(shop),
    ],
    problems,
  )
  const wanted: Wanted[] = pieces.pieces
    .filter((piece) => piece.pending)
    .map((piece) => ({
      kind: piece.from === 'pattern' ? 'pattern' : 'mesh',
      key: shapeKey((pour.pieces[piece.index] as Pour['pieces'][number]).source) ?? '',
      pieceIndex: piece.index,
    }))
  if (burnout.byRuleMeanwhile && burnout.asked !== undefined)
    wanted.push({ kind: 'burnout', key: burnout.asked.key })
  if (quench.byRuleMeanwhile && quench.asked !== undefined)
    wanted.push({ kind: 'cooling', key: quench.asked.key })
  if (charge.byRule && charge.key !== undefined) wanted.push({ kind: 'make-up', key: charge.key })
  return {
    shop,
    pour,
    now: given.now,
    castAt,
    castAtNote: moment.ok ? moment.note : undefined,
    work,
    conditions,
    pieces,
    tree,
    sprues,
    spruesMetal,
    spruesBy: sprues && (pieces.treeWax !== undefined ? 'scale' : placed === undefined ? 'boxes' : 'places'),
    builtSprues,
    flask,
    arranged: placed && { ...placed, byRule, waxMass },
    mould,
    pressure,
    needed,
    charge,
    melt,
    price,
    mix,
    burnout,
    spin,
    quench,
    finish,
    verdicts,
    go: goOrNoGo(verdicts, pour.accepted),
    cautions: rooms
      .flatMap((room) => room.cautions)
      .sort((a, b) => PARTS.indexOf(a.part) - PARTS.indexOf(b.part)),
    problems,
    wanted,
  }
}
