import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  type Problem,
  type Quantity,
  type RoomAnswer,
  reckon,
  root,
  say,
  type Verdict,
} from '../quantity/index.ts'
import { type Balance, balanceArm } from './balance.ts'
import { spinCautions } from './cautions.ts'
import {
  fromPivot,
  gravitiesAt,
  headOfMetal,
  metalForMould,
  pressureAt,
  pressureToEnter,
  speedAfter,
  speedByTurns,
} from './formulas.ts'
import { type FreezingTimes, type PressureAtTime, planRun, pressureSeries, type RunTime } from './run-time.ts'
import { balanceVerdict, capacityVerdicts, pressureVerdict, runVerdicts } from './verdicts.ts'

export interface SpinInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly machineIndex: number
  /** the empty steel flask [kg] */
  readonly flaskSteel?: Quantity
  /** investment after the burnout [kg] */
  readonly dryInvestment?: Quantity
  /** the whole invested flask before the burnout [kg]; only for what goes wrong if balanced on it */
  readonly wetFlask?: Quantity
  /** metal to weigh [kg] */
  readonly charge?: Quantity
  /** what the charge cannot be less than, while it is not known [kg] */
  readonly leastCharge?: Quantity
  readonly flaskInside?: { readonly diameter: Quantity; readonly height: Quantity }
  /** across the outside of the steel [m]; the inside serves where it is absent */
  readonly flaskOutside?: Quantity
  /** from the flask's mouth to the farthest metal [m] */
  readonly gateDepth?: Quantity
  /** from the flask's mouth to the middle of the metal in it [m]; half of `gateDepth` when absent */
  readonly metalCentroid?: Quantity
  /** the metal where its waxes are placed; on the flask's axis when absent */
  readonly placed?: PlacedMetal
  /** density of the liquid metal [kg/m3] */
  readonly liquidDensity: Quantity
  readonly freezing?: FreezingTimes
}

/** The metal as it lies in the flask, from its own solids. */
export interface PlacedMetal {
  /** points that may be the farthest from the pivot: depth behind the mouth and distance from the flask's axis [m] */
  readonly farthest: readonly { readonly depth: number; readonly out: number }[]
  /** how far a hand is off any of them [m] */
  readonly byHand: Quantity
  /** room of pieces, sprues and button [m3] */
  readonly body: Quantity
  /** of its middle, from the flask's axis [m] */
  readonly offset: Quantity
  readonly metalDensity: Quantity
  readonly mouldDensity: Quantity
  /** thinnest wall of any piece [m] */
  readonly thinnest?: Quantity
}

export interface SpinAnswer {
  readonly turns: Quantity
  readonly speed: Quantity
  readonly balance?: Balance
  /** at the farthest metal, at release [Pa] */
  readonly pressure?: Quantity
  /** the same as a column of metal that stands still [m] */
  readonly head?: Quantity
  /** at the farthest metal, in gravities */
  readonly gravities?: Quantity
  readonly time?: RunTime
  /** what is left of the pressure when the run is over [Pa], and as a column of metal [m] */
  readonly pressureLeft?: Quantity
  readonly headLeft?: Quantity
  /** pull at the flask's mouth, in gravities, when the last metal freezes */
  readonly holding?: Quantity
  /** the pressure as the arm runs down, for a chart */
  readonly series: readonly PressureAtTime[]
  readonly answer: RoomAnswer
}

/** The chart runs at least this long, and this long past the run [s]. */
const CHART = { least: 120, past: 30 }

const missing = (kind: string, where: string, what: string, remedy: string): Problem => ({
  kind,
  where,
  what: say`${what}`,
  remedy: say`${remedy}`,
})

const findMissing = (input: SpinInput): Problem[] => {
  const problems: Problem[] = []
  if (!input.charge)
    problems.push(
      missing(
        'charge-missing',
        '/pour/charge',
        'The charge is not known yet, so the arm has no balance.',
        'Give every piece a weight, or enter the charge.',
      ),
    )
  if (!input.flaskInside || !input.flaskSteel || !input.dryInvestment)
    problems.push(
      missing(
        'flask-missing',
        '/pour/flask',
        'The burned-out flask has no weight yet, so the arm has no balance.',
        'Choose a flask, and say what the empty one weighs.',
      ),
    )
  if (!input.gateDepth)
    problems.push(
      missing(
        'depth-missing',
        '/pour/pieces',
        'How far the metal reaches into the flask is not known, so neither is the pressure there.',
        'Measure the pieces with calipers, or give models.',
      ),
    )
  if (!input.freezing || (input.freezing.feeds.length === 0 && !input.freezing.button))
    problems.push(
      missing(
        'freezing-missing',
        '/pour/spin/run_s',
        'How long the metal stays liquid is not known, so no run is planned: 20 to 30 s is only what is told.',
        'Measure the thickest and thinnest sections, or give models.',
      ),
    )
  return problems
}

const centroidOf = (input: SpinInput): Quantity | undefined =>
  input.metalCentroid ??
  (input.gateDepth &&
    reckon({
      id: 'spin.metalCentroid',
      title: 'From the mouth to the middle of the metal',
      unit: 'm',
      says: 'half the way from the mouth to the farthest metal',
      source: 'taken as even along its length, until the pieces are placed',
      inputs: { gateDepth: input.gateDepth },
      body: (at) => at.gateDepth / 2,
    }))

const planBalance = (input: SpinInput, machine: string, speed: Quantity): Balance | undefined => {
  const { roots, charge, flaskSteel, dryInvestment, flaskInside, wetFlask } = input
  const metalCentroid = centroidOf(input)
  if (!charge || !flaskSteel || !dryInvestment || !flaskInside || !metalCentroid) return undefined
  const { placed } = input
  return balanceArm({
    offAxis: placed && {
      mass: metalForMould(
        { body: placed.body, metal: placed.metalDensity, mould: placed.mouldDensity },
        { id: 'spin.metalForMould' },
      ),
      offset: placed.offset,
    },
    roots,
    machine,
    charge,
    flaskSteel,
    dryInvestment,
    wetFlask,
    flaskHeight: flaskInside.height,
    metalCentroid,
    speed,
  })
}

const surfaceTension = (): Quantity =>
  root({
    id: 'spin.surfaceTension',
    title: 'Surface tension of the liquid metal',
    unit: 'N/m',
    value: 1,
    low: 0.8,
    high: 1.35,
    kind: 'usual',
    source: 'handbook values of liquid silver, gold and copper alloys, from memory',
  })

const FARTHEST = { id: 'spin.farthest', title: 'To the farthest metal' }

/** The arm turns about an upright axis and nobody knows how a flask lies turned in its cradle: the worst is taken. */
const farthestOf = (input: SpinInput, mouth: Quantity): Quantity | undefined => {
  const { placed, gateDepth } = input
  if (placed === undefined) return gateDepth && fromPivot({ mouth, depth: gateDepth }, FARTHEST)
  return reckon({
    ...FARTHEST,
    unit: 'm',
    says: 'from the pivot straight to whichever point of the placed metal is farthest, however the flask lies turned',
    source: 'the arrangement, every corner of its joined solid; Pythagoras',
    inputs: { mouth, byHand: placed.byHand },
    body: (at) =>
      Math.max(...placed.farthest.map(({ depth, out }) => Math.hypot(at.mouth + depth + at.byHand, out))),
  })
}

/**
 * The spinning arm: where the counterweight stands, what to balance it on cold, how fast and how hard it
 * presses, how long it has to run, and whether this machine can do it.
 */
export const planSpin = (input: SpinInput): SpinAnswer => {
  const { roots, machineIndex, liquidDensity } = input
  const machine = `/shop/machines/${machineIndex}`
  const mouth = roots.at(`${machine}/flaskEnd_mm`, "To the flask's mouth")
  const turnsWhere = roots.has('/pour/spin/turns') ? '/pour/spin/turns' : `${machine}/turns`
  const turns = roots.at(turnsWhere, 'Turns to wind')
  const speed = speedByTurns(
    {
      timed: roots.at(`${machine}/speedAtTurns_rpm`, 'Speed timed at the usual turns'),
      turns,
      usualTurns: roots.at(`${machine}/turns`, 'Turns it was timed at'),
      preload: roots.at(`${machine}/preload_turns`, 'Turns of preload'),
    },
    { id: 'spin.speed' },
  )
  const farthest = farthestOf(input, mouth)
  const pressure =
    farthest &&
    pressureAt({ density: liquidDensity, speed, inner: mouth, outer: farthest }, { id: 'spin.pressure' })
  const head = pressure && headOfMetal({ pressure, density: liquidDensity }, { id: 'spin.head' })
  const gravities = farthest && gravitiesAt({ speed, radius: farthest }, { id: 'spin.gravities' })

  const time = input.freezing && planRun(roots, machine, input.freezing)
  const speedAt = (when: Quantity, id: string, title: string): Quantity | undefined =>
    time && speedAfter({ speed, time: when, coastDown: time.coastDown }, { id, title })
  const speedLeft = time && speedAt(time.run, 'spin.speedLeft', 'Speed when the run is over')
  const pressureLeft =
    farthest &&
    speedLeft &&
    pressureAt(
      { density: liquidDensity, speed: speedLeft, inner: mouth, outer: farthest },
      { id: 'spin.pressureLeft', title: 'Pressure left when the run is over' },
    )
  const headLeft =
    pressureLeft &&
    headOfMetal(
      { pressure: pressureLeft, density: liquidDensity },
      { id: 'spin.headLeft', title: 'Left when the run is over, as a column of metal' },
    )
  const speedAtLast = time && speedAt(time.lastSolid, 'spin.speedAtLast', 'Speed when the last metal freezes')
  const holding =
    speedAtLast &&
    gravitiesAt(
      { speed: speedAtLast, radius: mouth },
      { id: 'spin.holding', title: "Pull at the flask's mouth when the last metal freezes" },
    )

  const balance = planBalance(input, machine, speed)
  const most = {
    charge: roots.at(`${machine}/mostCharge_g`, 'Most metal for this machine'),
    flaskDiameter: roots.at(`${machine}/mostFlaskDiameter_mm`, 'Widest flask for this machine'),
    flaskHeight: roots.at(`${machine}/mostFlaskHeight_mm`, 'Tallest flask for this machine'),
    flask: roots.at(`${machine}/mostFlask_g`, 'Heaviest flask for this machine', { plainMass: true }),
  }
  const verdicts: Verdict[] = [
    ...(balance ? [balanceVerdict(balance, machine)] : []),
    ...(time ? runVerdicts(time, turnsWhere, machine, holding) : []),
    ...(pressure && input.placed?.thinnest
      ? [
          pressureVerdict(
            pressure,
            pressureToEnter(
              { tension: surfaceTension(), thinnest: input.placed.thinnest },
              { id: 'spin.toEnter' },
            ),
          ),
        ]
      : []),
    ...capacityVerdicts({
      charge: input.charge,
      leastCharge: input.leastCharge,
      flaskDiameter: input.flaskOutside ?? input.flaskInside?.diameter,
      flaskHeight: input.flaskInside?.height,
      flask: balance?.flask,
      most,
    }),
  ]
  const until = Math.max(CHART.least, (time?.run.value ?? 0) + CHART.past)
  return {
    turns,
    speed,
    balance,
    pressure,
    head,
    gravities,
    time,
    pressureLeft,
    headLeft,
    holding,
    series: pressure && time ? pressureSeries(pressure, time.coastDown, until) : [],
    answer: { verdicts, cautions: spinCautions(balance?.energy), problems: findMissing(input) },
  }
}
