import type { Pour, Roots, Shop } from '../documents/index.ts'
import { WAX_WIRES } from '../materials/index.ts'
import {
  freezingTimeOfBall,
  freezingTimeOfBar,
  freezingTimeOfPlate,
  freezingTimeOfThickPlace,
  freezingTimeOfWideBar,
  mouldLimitedTime,
  placeTime,
} from '../physics/freezing-formulas.ts'
import { roundness } from '../physics/freezing-time.ts'
import type { PlaceOfSolid, WeighedPiece } from '../piece/index.ts'
import { modulusWithin } from '../piece/mesh/thick-places.ts'
import {
  addUp,
  decide,
  lengthOf,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import { type ButtonPlan, coneOf, LONGER, planButton, type ToFeed } from './button.ts'
import {
  buttonModulus,
  lengthByHand,
  modulusOfRod,
  roomByBoxes,
  timesLonger,
  volumeOfCone,
  volumeOfRods,
  waxLeftForSprues,
} from './formulas.ts'
import { type Layout, type LayoutRule, layOut, layouts, type ToPlace } from './layout.ts'

/** What the mould and the metal bring to every freezing time in this pour. */
export interface FreezingConditions {
  readonly heat: Quantity
  readonly drop: Quantity
  readonly conductivity: Quantity
  readonly capacity: Quantity
}

export interface Gate {
  readonly piece: string
  readonly letter: string
  readonly name: string
  /** sprues on each copy of the piece */
  readonly count: Quantity
  readonly diameter: Quantity
  readonly freezes: Quantity
  readonly pieceFreezes: Quantity
  /** freezing time of the gate over that of the thickest section it feeds */
  readonly margin: Quantity
}

/** What stands in the flask: sprues and main sprue, and the ways to stand the pieces round them. */
export interface TreeFeeds {
  readonly gates: readonly Gate[]
  readonly stem?: { readonly diameter: Quantity; readonly freezes: Quantity }
  readonly domeVolume: Quantity
  /** what every freezing time here rests on */
  readonly freezing: FreezingConditions
  /** the ways to stand the pieces; the flask room takes one */
  readonly layouts: readonly Layout[]
  /** the ways to stand one of each kind by itself, to tell a crowded flask from a piece that fits none */
  readonly alone: readonly { readonly name: string; readonly layouts: readonly Layout[] }[]
}

export interface TreePlan extends TreeFeeds {
  readonly button: ButtonPlan
  /** every freezing time, first to freeze first */
  readonly order: readonly { readonly id: string; readonly name: string; readonly time: Quantity }[]
  readonly answer: RoomAnswer
}

export interface TreeInput {
  readonly shop: Shop
  readonly pour: Pour
  readonly roots: Roots
  readonly pieces: readonly WeighedPiece[]
  readonly freezing: FreezingConditions
  readonly baseIndex: number
  readonly metalDensity: Quantity
}

const STEM_LONGER = 1.1
/** Two freezing times no further apart than this share are those of the same wire. */
const EVEN = 1e-6
/** Two widths no further apart are one, m. */
const HAIR = 1e-9
const SHORTEST = 6e-3
/** Sprues of trees placed by true shapes are seldom shorter, m: for the wax must clear the base, the stem and others. */
const GATE = 12e-3
/** Below this the mould is no brake on anything, and the freezing law says nothing [K]. */
const LEAST_DROP = 80
const practice = 'common practice'

/** Thinner than these no sprue and no main sprue is planned [m]. */
const THINNEST = { sprue: 2e-3, stem: 3e-3 }

/** Across the thinnest wire sold that is enough [m]; the thickest of all where none is. */
const thinnestWire = (least: number, enough: (diameter: number) => boolean): number => {
  const wires = WAX_WIRES.filter((wire) => wire.diameter >= least)
  const wire = wires.find(({ diameter }) => enough(diameter)) ?? wires.at(-1)
  if (wire === undefined) throw new Error(`no wax wire is ${least} m across; the list has thicker ones`)
  return wire.diameter
}

const lawFactor = (input: TreeInput, id: string, title: string): Quantity =>
  root({
    id,
    title,
    unit: '1',
    value: 1,
    low: 1 - input.shop.rules.spreadOfFreezing,
    high: 1 + input.shop.rules.spreadOfFreezing,
    kind: 'usual',
    source: 'how far this shape’s law may be off beside the others; set for this shop',
  })

type Laws = Readonly<Record<'plate' | 'bar' | 'ball', Quantity>>

const nominal = ({
  heat,
  drop,
  conductivity,
  capacity,
}: FreezingConditions): [number, number, number, number] => [
  heat.value,
  drop.value,
  conductivity.value,
  capacity.value,
]

/** Of a solid's thick places, the one that may freeze last, each at the top of what its modulus may be. */
const lastOf = (places: readonly PlaceOfSolid[], freezing: FreezingConditions): PlaceOfSolid | undefined => {
  const time = ({ thickness, modulus }: PlaceOfSolid): number =>
    placeTime(thickness.value, modulusWithin(thickness.value, modulus.value).most, ...nominal(freezing))
  return places.reduce<PlaceOfSolid | undefined>(
    (last, place) => (last === undefined || time(place) > time(last) ? place : last),
    undefined,
  )
}

/** The law of the plain shape that a place is nearest to. */
const lawOf = ({ thickness, modulus }: PlaceOfSolid, laws: Laws): Quantity =>
  [laws.plate, laws.bar, laws.ball][Math.round(roundness(thickness.value, modulus.value))] ?? laws.plate

/** By the law of the shape that the thickest place has. */
const freezingTimeOfPiece = (
  piece: WeighedPiece,
  modulus: Quantity,
  freezing: FreezingConditions,
  laws: Laws,
  as: { id: string; title: string },
): Quantity => {
  const { section, thickest, sectionWidth } = piece
  if (section === 'plate') return freezingTimeOfPlate({ modulus, ...freezing, law: laws.plate }, as)
  if (section === 'ball') return freezingTimeOfBall({ modulus, ...freezing, law: laws.ball }, as)
  return section === 'wide bar' && thickest !== undefined && sectionWidth !== undefined
    ? freezingTimeOfWideBar(
        { modulus, ...freezing, law: laws.bar, thickness: thickest, width: sectionWidth },
        as,
      )
    : freezingTimeOfBar({ modulus, ...freezing, law: laws.bar }, as)
}

/** Sized for the most that the place's own metal may be. */
const sprueOfPlace = (
  piece: WeighedPiece,
  id: string,
  { thickness, modulus }: PlaceOfSolid,
  freezing: FreezingConditions,
  laws: Laws,
): Quantity =>
  decide({
    id: `${id}.diameter`,
    title: `Sprue of ${piece.name}, across`,
    unit: 'm',
    says: `the thinnest wax wire sold that stays liquid ${LONGER} times as long as the place of the solid that freezes last, at the top of what its modulus may be`,
    source: 'freezing time of a round rod in plaster; the margin is common practice',
    inputs: { thickness, modulus, ...freezing, law: lawOf({ thickness, modulus }, laws), bar: laws.bar },
    body: ({ thickness: thick, modulus: measured, heat, drop, conductivity, capacity, law, bar }) => {
      const { most } = modulusWithin(thick, measured)
      const fed = law * placeTime(thick, most, heat, drop, conductivity, capacity)
      return thinnestWire(
        THINNEST.sprue,
        (size) =>
          bar * mouldLimitedTime(size / 4, 1, size / 2, heat, drop, conductivity, capacity) >= LONGER * fed,
      )
    },
  })

const planGate = (piece: WeighedPiece, input: TreeInput, laws: Laws): Gate | undefined => {
  const { roots, freezing } = input
  if (piece.modulus === undefined) return undefined
  const id = `tree.${piece.id}`
  const { places = [] } = piece
  const place = lastOf(places, freezing)
  const as = { id: `${id}.freezes`, title: `${piece.name}, thickest section freezes in` }
  const whole = freezingTimeOfPiece(piece, piece.modulus, freezing, laws, as)
  const at = `/pour/pieces/${piece.index}/gate`
  const diameter = roots.has(`${at}/diameter_mm`)
    ? roots.at(`${at}/diameter_mm`, `Sprue of ${piece.name}, across`)
    : place !== undefined
      ? sprueOfPlace(piece, id, place, freezing, laws)
      : decide({
          id: `${id}.diameter`,
          title: `Sprue of ${piece.name}, across`,
          unit: 'm',
          says: `the thinnest wax wire sold that stays liquid ${LONGER} times as long as the thickest section`,
          source: 'freezing time of a round rod in plaster; the margin is common practice',
          inputs: { fed: whole, ...freezing, law: laws.bar },
          body: ({ fed, heat, drop, conductivity, capacity, law: factor }) =>
            thinnestWire(
              THINNEST.sprue,
              (size) =>
                factor * mouldLimitedTime(size / 4, 1, size / 2, heat, drop, conductivity, capacity) >=
                LONGER * fed,
            ),
        })
  const longest =
    piece.extents === undefined
      ? 0
      : Math.max(piece.extents.length.value, piece.extents.width.value, piece.extents.height.value)
  const count = roots.has(`${at}/count`)
    ? roots.at(`${at}/count`, `Sprues on each ${piece.name}`)
    : root({
        id: `${id}.count`,
        title: `Sprues on each ${piece.name}`,
        unit: '1',
        value: longest > 0.05 ? 2 : 1,
        kind: 'usual',
        source: `${practice}: a long or flat piece wants a second sprue past 50 mm`,
      })
  const freezes = freezingTimeOfBar(
    { modulus: modulusOfRod({ diameter }, { id: `${id}.gateModulus` }), ...freezing, law: laws.bar },
    { id: `${id}.gateFreezes`, title: `Sprue of ${piece.name} freezes in` },
  )
  const fedBy = (pieceFreezes: Quantity) => ({
    pieceFreezes,
    margin: timesLonger(
      { feed: freezes, fed: pieceFreezes },
      { id: `${id}.margin`, title: `Sprue of ${piece.name} against its thickest section` },
    ),
  })
  // of several thick places the one that its sprue may fail to outlast soonest
  const fed = places
    .map((one) => fedBy(freezingTimeOfThickPlace({ ...one, ...freezing, law: lawOf(one, laws) }, as)))
    .sort((a, b) => a.margin.low - b.margin.low)[0]
  return {
    piece: piece.id,
    letter: piece.letter,
    name: piece.name,
    count,
    diameter,
    freezes,
    ...(fed ?? fedBy(whole)),
  }
}

/** The thinnest sprue that the caster set by hand on a piece, where it is thinner than the one planned for it. */
const thinnestByHand = (gate: Gate, { pour, roots }: TreeInput): Quantity | undefined => {
  const set = (pour.tree.sprues ?? []).flatMap(({ piece, diameter_mm }, index) =>
    piece === gate.piece && diameter_mm !== undefined
      ? [roots.at(`/pour/tree/sprues/${index}/diameter_mm`, `Thinnest sprue set by hand on ${gate.name}`)]
      : [],
  )
  const [first, ...others] = set
  if (first === undefined) return undefined
  const thinnest = others.reduce((least, one) => (one.value < least.value ? one : least), first)
  return thinnest.value < gate.diameter.value - HAIR ? thinnest : undefined
}

/** What a sprue set by hand does to the piece it feeds: the planned one is not the one that is poured. */
const judgeByHand = (gate: Gate, input: TreeInput, laws: { readonly bar: Quantity }): readonly Verdict[] => {
  const diameter = thinnestByHand(gate, input)
  if (diameter === undefined) return []
  const id = `tree.${gate.piece}.byHand`
  const freezes = freezingTimeOfBar(
    { modulus: modulusOfRod({ diameter }, { id: `${id}.modulus` }), ...input.freezing, law: laws.bar },
    { id: `${id}.freezes`, title: `Sprue set by hand on ${gate.name} freezes in` },
  )
  const margin = timesLonger(
    { feed: freezes, fed: gate.pieceFreezes },
    { id: `${id}.margin`, title: `Sprue set by hand on ${gate.name} against its thickest section` },
  )
  return [
    feedVerdict(`freeze.byHand.${gate.piece}`, margin, {
      feed: `the sprue set by hand on ${gate.name}`,
      fed: 'its thickest section',
      where: '/pour/flask',
      remedy: say`make that sprue ${lengthOf(gate.diameter.value)} thick, as planned, or find its sprues anew`,
    }),
  ]
}

const feedVerdict = (
  id: string,
  margin: Quantity,
  words: { feed: string; fed: string; where: string; remedy: Verdict['remedy'] },
): Verdict => {
  const times = `${margin.value.toFixed(2)} times as long as ${words.fed}, ${margin.low.toFixed(2)} to ${margin.high.toFixed(2)}`
  const base = {
    id,
    part: 'freeze',
    title: say`${words.feed} feeds ${words.fed}`,
    where: words.where,
  } as const
  if (margin.low >= 1 - EVEN)
    return { ...base, verdict: 'pass', reason: say`${words.feed} stays liquid ${times}.`, remedy: [] }
  if (margin.high < 1)
    return {
      ...base,
      verdict: 'stop',
      title: say`${words.feed} starves ${words.fed}`,
      reason: say`${words.feed} is solid first: it stays liquid ${times}. Shrinkage pits are likely where it joins.`,
      remedy: words.remedy,
    }
  if (margin.value < 1)
    return {
      ...base,
      verdict: 'stop',
      title: say`${words.feed} most likely freezes first`,
      reason: say`${words.feed} most likely freezes before ${words.fed}: it stays liquid ${times}. What it should feed then draws shrinkage pits.`,
      remedy: words.remedy,
    }
  return {
    ...base,
    verdict: 'check',
    title: say`${words.feed} and ${words.fed}: too close to call`,
    reason: say`${words.feed} stays liquid ${times}: the margin is smaller than its spread.`,
    remedy: words.remedy,
  }
}

/** Sprues share the main sprue between them: at one height no more than half of them. */
const AT_ONE_HEIGHT = 0.5

/**
 * The main sprue from the wires sold: longer liquid than the slowest sprue, and round enough for half of all sprues
 * to stand side by side about it, while the fullest button of this base still outlasts it and its neck is no
 * narrower. Where no such wire outlasts the slowest sprue, as thick as that sprue: button and sprues then hold as named.
 */
const decideStem = (
  input: TreeInput,
  laws: { bar: Quantity; ball: Quantity },
  gates: readonly Gate[],
): Quantity => {
  const named: Record<string, Quantity> = {}
  gates.forEach((gate, index) => {
    named[`gate${index + 1}`] = gate.freezes
    named[`wide${index + 1}`] = gate.diameter
    named[`each${index + 1}`] = gate.count
  })
  const copies = gates.map(({ piece }) => input.pieces.find(({ id }) => id === piece)?.quantity ?? 1)
  const cone = coneOf(input)
  return decide<string>({
    id: 'tree.stem.diameter',
    title: 'Main sprue, across',
    unit: 'm',
    says: `the thinnest wax wire sold that stays liquid ${STEM_LONGER} times as long as the slowest sprue and about which half of all sprues stand side by side, as far as the button of a full cone outlasts it and the cone’s neck is as wide; if the button outlasts none such, the thinnest that is no thinner than the sprue`,
    source:
      'freezing time of a round rod in plaster, and the way round it; the margin, and that sprues share two heights or more, are common practice',
    inputs: { ...input.freezing, ...cone, bar: laws.bar, ball: laws.ball, ...named },
    body: (n) => {
      const of = (name: string): number => n[name] ?? Number.NaN
      const mould = [of('heat'), of('drop'), of('conductivity'), of('capacity')] as const
      const slowest = Math.max(...gates.map((_, index) => of(`gate${index + 1}`)))
      const liquid = (size: number): number => of('bar') * mouldLimitedTime(size / 4, 1, size / 2, ...mould)
      const modulus = buttonModulus(of('mouth'), of('neck'), of('coneDepth'))
      const button = of('ball') * mouldLimitedTime(modulus, 2, 3 * modulus, ...mould)
      const isFed = (size: number): boolean => button >= LONGER * liquid(size)
      const longer = thinnestWire(THINNEST.stem, (size) => liquid(size) >= STEM_LONGER * slowest)
      if (!isFed(longer)) return thinnestWire(THINNEST.stem, (size) => liquid(size) >= slowest * (1 - EVEN))
      const round = copies.reduce(
        (sum, many, index) => sum + many * of(`each${index + 1}`) * of(`wide${index + 1}`),
        0,
      )
      const seats = thinnestWire(longer, (size) => Math.PI * size >= AT_ONE_HEIGHT * round)
      const carries = WAX_WIRES.filter(
        ({ diameter }) => diameter > longer && diameter <= seats && diameter <= of('neck') && isFed(diameter),
      )
      return carries.at(-1)?.diameter ?? longer
    },
  })
}

export const toPlace = (
  pieces: readonly WeighedPiece[],
  gates: readonly Gate[],
  sizes?: Readonly<Record<string, number>>,
): ToPlace[] =>
  pieces.map((piece, index) => {
    const side = (name: 'length' | 'width' | 'height'): number =>
      sizes?.[`${name}${index + 1}`] ?? piece.extents?.[name].value ?? 0
    return {
      id: piece.id,
      copies: piece.quantity,
      sizes: [side('length'), side('width'), side('height')],
      sprues: gates.find((gate) => gate.piece === piece.id)?.count.value,
    }
  })

export const layoutRule = (shop: Shop, stemDiameter: number): LayoutRule => ({
  gap: shop.rules.waxToWax_mm / 1000,
  stemDiameter,
  shortest: SHORTEST,
  gate: GATE,
})

/** How far a layout reaches and how long its sprues are, as numbers that rest on the pieces' sizes. */
export interface LayoutSizes {
  readonly reach: Quantity
  readonly rise: Quantity
  readonly gateLength: Quantity
  readonly stemLength: Quantity
  /** room of all sprues, where their own solids were measured */
  readonly room?: Quantity
}

/** @param under  what the ids begin with: sizes of another layout than the one taken have their own */
export const sizesOfLayout = (
  input: TreeInput,
  tree: TreeFeeds,
  layout: Layout,
  under = 'tree',
): LayoutSizes | undefined => {
  const { pieces, shop } = input
  if (tree.stem === undefined) return undefined
  const inputs: Record<string, Quantity> = { stem: tree.stem.diameter }
  pieces.forEach((piece, index) => {
    if (piece.extents === undefined) return
    inputs[`length${index + 1}`] = piece.extents.length
    inputs[`width${index + 1}`] = piece.extents.width
    inputs[`height${index + 1}`] = piece.extents.height
  })
  const size = (id: string, title: string, pick: (laid: Layout) => number): Quantity =>
    decide({
      id,
      title,
      unit: 'm',
      says: 'from how the pieces stand on the tree, each taken as the box of its outside sizes',
      source: 'distances between rectangles, geometry',
      holdsWhen: 'true shapes leave more room than their boxes',
      inputs,
      // unchanged sizes are this very layout; it is laid again only for a what-if
      body: (n) =>
        pick(
          Object.entries(inputs).every(([name, input]) => n[name] === input.value)
            ? layout
            : layOut(
                toPlace(pieces, tree.gates, n),
                layoutRule(shop, n.stem ?? 0),
                layout.upright,
                layout.tiers,
              ),
        ),
    })
  return {
    reach: size(`${under}.reach`, 'Farthest reach of the tree', (laid) => laid.reach),
    rise: size(`${under}.rise`, 'Rise of the tree above the base’s cone', (laid) => laid.rise),
    gateLength: size(`${under}.gateLength`, 'Sprues, long', (laid) => laid.gateLength),
    stemLength: size(`${under}.stemLength`, 'Main sprue, long', (laid) => laid.stemLength),
  }
}

const lawsOf = (input: TreeInput): Laws => ({
  plate: lawFactor(input, 'tree.law.plate', 'The freezing law for plates'),
  bar: lawFactor(input, 'tree.law.bar', 'The freezing law for round sections'),
  ball: lawFactor(input, 'tree.law.ball', 'The freezing law for chunky bodies'),
})

/** Sprues and main sprue by freezing time, and the ways to stand the pieces round them. */
export const planFeeds = (input: TreeInput): TreeFeeds => {
  const { roots, shop, freezing, pieces } = input
  const laws = lawsOf(input)
  const gates = pieces.flatMap((piece) => planGate(piece, input, laws) ?? [])
  const all = gates.length === pieces.length && pieces.length > 0

  let stem: TreeFeeds['stem']
  if (all) {
    const asked = '/pour/tree/stem/diameter_mm'
    const diameter = roots.has(asked) ? roots.at(asked, 'Main sprue, across') : decideStem(input, laws, gates)
    stem = {
      diameter,
      freezes: freezingTimeOfBar(
        {
          modulus: modulusOfRod(
            { diameter },
            { id: 'tree.stem.modulus', title: 'Modulus of the main sprue' },
          ),
          ...freezing,
          law: laws.bar,
        },
        { id: 'tree.stem.freezes', title: 'Main sprue freezes in' },
      ),
    }
  }
  const cone = coneOf(input)
  const domeVolume = volumeOfCone(
    { wide: cone.mouth, narrow: cone.neck, depth: cone.coneDepth },
    { id: 'tree.dome', title: 'Room taken by the base’s cone' },
  )

  const placeable = pieces.every((piece) => piece.extents !== undefined)
  const rule = all && placeable && stem !== undefined ? layoutRule(shop, stem.diameter.value) : undefined
  const ways = rule === undefined ? [] : layouts(toPlace(pieces, gates), rule)
  const alone =
    rule === undefined
      ? []
      : pieces.map((piece) => ({
          name: piece.name,
          layouts: layouts(
            toPlace([piece], gates).map((one) => ({ ...one, copies: 1 })),
            rule,
          ),
        }))

  return { gates, stem, domeVolume, freezing, layouts: ways, alone }
}

/**
 * The whole tree: the button that these feeds ask for, and whether each part freezes after what it feeds.
 * @param toFeed  absent while pieces or sprues are not known; the button then goes by freezing alone
 */
export const planTree = (input: TreeInput, feeds: TreeFeeds, toFeed: ToFeed | undefined): TreePlan => {
  const { freezing, pieces } = input
  const { gates, stem } = feeds
  const laws = lawsOf(input)
  const button = planButton(input, laws.ball, stem, toFeed)

  const verdicts: Verdict[] = gates.map((gate) =>
    feedVerdict(`freeze.${gate.piece}`, gate.margin, {
      feed: `the sprue of ${gate.name}`,
      fed: `its thickest section`,
      where: `/pour/pieces/${pieces.find((piece) => piece.id === gate.piece)?.index ?? 0}/gate/diameter_mm`,
      remedy: say`use a thicker sprue than ${lengthOf(gate.diameter.value)}, or hollow the thick place`,
    }),
  )
  verdicts.push(...gates.flatMap((gate) => judgeByHand(gate, input, laws)))
  if (freezing.drop.low < LEAST_DROP)
    verdicts.push({
      id: 'freeze.mould',
      part: 'freeze',
      verdict: 'stop',
      title: say`The mould is too hot to freeze this metal`,
      reason: say`It would stand ${freezing.drop} below the freezing metal; nothing here can be sized for that.`,
      remedy: say`cast into a cooler flask`,
      where: '/pour/flask_C',
    })
  const { neck, mouth, coneDepth } = coneOf(input)
  const fullest = buttonModulus(mouth.value, neck.value, coneDepth.value)
  const mostOfButton = laws.ball.value * mouldLimitedTime(fullest, 2, 3 * fullest, ...nominal(freezing))
  const outlastsAll = (gate: Gate): boolean => mostOfButton >= gate.freezes.value
  if (stem !== undefined && stem.diameter.value > neck.value + HAIR)
    verdicts.push({
      id: 'freeze.neck',
      part: 'freeze',
      verdict: 'check',
      title: say`The main sprue is wider than the neck it stands on`,
      reason: say`It is ${lengthOf(stem.diameter.value)} across, and the top of the base’s cone ${lengthOf(neck.value)}: it overhangs that all round, and the neck freezes before it and cuts it off from the button.`,
      remedy: say`use a base with a wider neck, or cast the thick piece by itself, hollowed, or with a smaller thick place`,
      where: '/pour/tree/stem/diameter_mm',
    })
  if (stem !== undefined && button.margin !== undefined) {
    gates.forEach((gate) => {
      const margin = timesLonger(
        { feed: stem.freezes, fed: gate.freezes },
        { id: `tree.${gate.piece}.stemMargin`, title: `Main sprue against the sprue of ${gate.name}` },
      )
      if (margin.low < 1 - EVEN)
        verdicts.push(
          feedVerdict(`freeze.stem.${gate.piece}`, margin, {
            feed: 'the main sprue',
            fed: `the sprue of ${gate.name}`,
            where: '/pour/tree/stem/diameter_mm',
            remedy: outlastsAll(gate)
              ? say`thicken the main sprue`
              : say`thin the sprue of ${gate.name}, or use a base with a wider or deeper cone: the button of this one would not outlast a main sprue as thick as that sprue`,
          }),
        )
    })
    verdicts.push(
      feedVerdict('freeze.button', button.margin, {
        feed: 'the button',
        fed: 'the main sprue',
        where: '/pour/tree/button/depth_mm',
        remedy: thinner(pieces, gates),
      }),
    )
  }

  const order = [
    ...gates.flatMap((gate) => [
      { id: `${gate.piece}.piece`, name: `${gate.name}, thickest section`, time: gate.pieceFreezes },
      { id: `${gate.piece}.gate`, name: `sprue of ${gate.name}`, time: gate.freezes },
    ]),
    ...(stem === undefined ? [] : [{ id: 'stem', name: 'main sprue', time: stem.freezes }]),
    { id: 'button', name: 'button', time: button.freezes },
  ].sort((a, b) => a.time.value - b.time.value)

  return { ...feeds, button, order, answer: { verdicts, cautions: [], problems: [] } }
}

/** What lets the button outlast the main sprue, without thinning a sprue below what its piece asks. */
const thinner = (pieces: readonly WeighedPiece[], gates: readonly Gate[]): Words => {
  const widest = gates.reduce<Gate | undefined>(
    (one, other) => (one !== undefined && one.freezes.value >= other.freezes.value ? one : other),
    undefined,
  )
  const piece = pieces.find(({ id }) => id === widest?.piece)
  return piece?.section === 'plate'
    ? say`use a base with a wider or deeper cone; or, as the sprue of ${piece.name} is that of a plate and a smaller thick place asks far less, give its model, or call that place a bar and say how wide it is`
    : say`use a base with a wider or deeper cone, or thin the main sprue and what it feeds`
}

/** The pieces' wax together, when each is known. */
export const waxOfPieces = ({ pieces }: TreeInput): Quantity | undefined =>
  pieces.every((piece) => piece.waxMass !== undefined)
    ? addUp(
        {
          id: 'tree.piecesWax',
          title: 'The pieces, in wax',
          says: 'the pieces’ wax, added up, each as often as it is there',
          plainMass: true,
        },
        pieces.flatMap((piece) => Array.from({ length: piece.quantity }, () => piece.waxMass as Quantity)),
      )
    : undefined

export const densityOfSprueWax = ({ roots, shop }: TreeInput): Quantity | undefined => {
  const index = shop.waxes.findIndex((wax) => wax.role === 'sprue')
  return index < 0 ? undefined : roots.at(`/shop/waxes/${index}/density_g_cm3`, 'Density of sprue wax')
}

/** The sprues' room once a layout is taken: gates and stem by geometry, or by the scale when the tree was weighed. */
export const roomOfSprues = (
  input: TreeInput,
  tree: TreeFeeds,
  sizes: LayoutSizes | undefined,
  treeWax: Quantity | undefined,
): Quantity | undefined => {
  const parts = waxOfPieces(input)
  const density = densityOfSprueWax(input)
  if (treeWax !== undefined && parts !== undefined && density !== undefined)
    return waxLeftForSprues({ tree: treeWax, pieces: parts, density }, { id: 'tree.sprues' })
  return roomByLayout(input, tree, sizes, { id: 'tree.sprues', title: 'Room of all sprues' })
}

/** How far a tree built by hand is off what was planned for it. */
export const builtByHand = (): Quantity =>
  root({
    id: 'tree.byHand',
    title: 'Sprues as built by hand',
    unit: 'm',
    value: 0,
    low: -1e-3,
    high: 1e-3,
    kind: 'usual',
    source: 'common practice: cut and set to about 1 mm either way',
  })

/**
 * The room of the sprues planned here, whatever a scale says of those that were built.
 * @param under  what the ids begin with, as that of the sizes
 */
export const roomByLayout = (
  input: TreeInput,
  tree: TreeFeeds,
  sizes: LayoutSizes | undefined,
  as: { id: string; title: string },
  under = 'tree',
): Quantity | undefined => {
  const { roots, pieces } = input
  if (sizes === undefined || tree.stem === undefined) return undefined
  if (sizes.room !== undefined)
    return addUp({ ...as, says: 'sprues and main sprue as they are placed' }, [sizes.room])
  const byHand = builtByHand()
  const laidOut: Quantity[] = []
  const entered: Quantity[] = []
  const length = (id: string, title: string, laid: Quantity, path: string): Quantity =>
    roots.has(path) ? roots.at(path, title) : lengthByHand({ laid, byHand }, { id, title })
  const listOf = (path: string): Quantity[] => (roots.has(path) ? entered : laidOut)
  for (const gate of tree.gates) {
    const piece = pieces.find((candidate) => candidate.id === gate.piece)
    const path = `/pour/pieces/${piece?.index ?? 0}/gate/length_mm`
    const rods = volumeOfRods(
      {
        diameter: gate.diameter,
        length: length(
          `${under}.${gate.piece}.length`,
          `Sprue of ${gate.name}, long`,
          sizes.gateLength,
          path,
        ),
        count: decide({
          id: `${under}.${gate.piece}.counted`,
          title: `Sprues on all of ${gate.name}`,
          unit: '1',
          says: 'sprues on each, times how many pieces',
          source: 'a product',
          inputs: { each: gate.count },
          body: ({ each }) => each * (piece?.quantity ?? 1),
        }),
      },
      { id: `${under}.${gate.piece}.room`, title: `Room of the sprues of ${gate.name}` },
    )
    listOf(path).push(rods)
  }
  listOf('/pour/tree/stem/length_mm').push(
    volumeOfRods(
      {
        diameter: tree.stem.diameter,
        length: length(
          `${under}.stem.length`,
          'Main sprue, long',
          sizes.stemLength,
          '/pour/tree/stem/length_mm',
        ),
        count: root({
          id: 'tree.stem.count',
          title: 'Main sprues',
          unit: '1',
          value: 1,
          kind: 'usual',
          source: 'one main sprue',
        }),
      },
      { id: `${under}.stem.room`, title: 'Room of the main sprue' },
    ),
  )
  const says = 'sprues and main sprue, added up'
  if (laidOut.length === 0) return addUp({ ...as, says }, entered)
  const boxes = roomByBoxes(
    {
      laid: addUp({ id: `${as.id}.laid`, title: `${as.title}, by outside boxes`, says }, laidOut),
      placed: root({
        id: 'tree.placedOverBoxes',
        title: 'Sprues of a tree placed by true shapes, over those laid out by boxes',
        unit: '1',
        value: 0.9,
        low: 0.5,
        high: 2,
        kind: 'usual',
        source:
          'sixty trees of one to twenty waxes, six kinds, were placed by true shapes: nine in ten had 0.5 to 2 times the sprue metal of this layout',
      }),
    },
    entered.length === 0 ? as : { id: `${as.id}.boxes`, title: `${as.title}, those laid out` },
  )
  return entered.length === 0 ? boxes : addUp({ ...as, says }, [boxes, ...entered])
}
