import { nameInFlask, placedBy } from '../engine/arrangement-verdict.ts'
import { quantitiesOf } from '../engine/explain.ts'
import type { ProgramStep } from '../engine/heat/index.ts'
import { waxWireOf } from '../engine/materials/index.ts'
import { sayMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import {
  figureOf,
  lengthOf,
  massOf,
  type Quantity,
  temperatureOf,
  type UnitChoice,
  writeChance,
  writeDuration,
  writeFigure,
  writeQuantity,
  writeWords,
} from '../engine/quantity/index.ts'
import { writeFlask } from '../print/say.ts'

const line = (name: string, text: string): string => `  ${name.padEnd(33)} ${text}`

const figure = (quantity: Quantity | undefined, units: UnitChoice): string => {
  if (quantity === undefined) return 'open'
  const { value, low, high, label } = writeQuantity(quantity, units)
  const unit = label === '' ? '' : ` ${label}`
  return low === high ? `${value}${unit}` : `${value}${unit}, ${low} to ${high}`
}

/** A sprue's size, and the wax wire that it is. */
const across = (diameter: Quantity, units: UnitChoice): string => {
  const wire = waxWireOf(diameter.value)
  const size = writeFigure({ ...figureOf(diameter), decimals: units.length === 'in' ? 3 : 2 }, units)
  return `${size}${wire === undefined ? '' : `, wax wire ${wire.name}`}`
}

/** What to enter, from and to which heat, how long, and when by the clock. */
const programLine = (step: ProgramStep, plan: Plan, units: UnitChoice): string => {
  const high = step.setpoint - step.to.value
  const at = (kelvin: number): string => writeFigure(temperatureOf(kelvin + high), units)
  const heat =
    step.kind === 'hold' ? `at ${at(step.to.value)}` : `${at(step.from.value)} to ${at(step.to.value)}`
  const from = step.start === undefined ? '' : `, from ${sayMoment(step.start, plan.shop.timeZone)}`
  return line(
    `${step.kind === 'hold' ? 'hold' : 'ramp'} ${heat}`,
    `${writeDuration(step.duration.value)}${from}; ${writeWords(step.words, units)}`,
  )
}

const section = (title: string, lines: readonly string[]): string => [title, ...lines].join('\n')

/** The kiln's program with its clock times, and how it was come by. */
export const burnoutSection = (plan: Plan, units: UnitChoice): string => {
  const { shop } = plan
  return section('Burnout, heats as this kiln displays them', [
    line(
      'start the mix by, at the latest',
      plan.burnout.mixBy === undefined ? 'open' : sayMoment(plan.burnout.mixBy, shop.timeZone),
    ),
    ...(plan.burnout.eveningBefore === undefined
      ? []
      : [
          `  ${writeWords(plan.burnout.eveningBefore.words, units)}`,
          `  ${writeWords(plan.burnout.eveningBefore.mind, units)}`,
        ]),
    line('kiln on', plan.burnout.start === undefined ? 'open' : sayMoment(plan.burnout.start, shop.timeZone)),
    line(
      'in the kiln',
      `${figure(plan.burnout.total, units)}, ${plan.burnout.core?.by === 'solver' ? 'solved' : 'by rule'}`,
    ),
    ...plan.burnout.program.map((step) => programLine(step, plan, units)),
  ])
}

/** Where each wax was found to fit, and what rests on that. */
const placedLines = ({ arranged, pour }: Plan, units: UnitChoice): string[] => {
  if (arranged === undefined) return []
  const { tightest, placed, measured } = arranged
  const length = (mm: number): string => writeFigure(lengthOf(mm / 1000), units)
  return [
    line('each wax', `${placedBy(pour)}; ${measured.sprues.length} sprues measured on the joined solid`),
    ...(tightest === null
      ? []
      : [
          line(
            'tightest distance',
            `${length(tightest.distance_mm)}, ${tightest.between.map((one) => nameInFlask(one, pour.pieces)).join(' to ')}; ${length(tightest.needed_mm)} is needed`,
          ),
        ]),
    line('metal off the flask’s axis', figure(placed.offset, units)),
  ]
}

/** The plan for a terminal: the answers of each part in the order of the day, then go or no-go. */
export const planInWords = (plan: Plan, units: UnitChoice, explained: boolean): string => {
  const { shop, pour, needed, charge, mix, flask, go } = plan
  const when = plan.castAt === undefined ? 'not set' : sayMoment(plan.castAt, shop.timeZone)
  const state =
    go.stops.length > 0
      ? `NOT READY: ${go.stops.length} to stop for`
      : go.checks.length > 0
        ? `not yet a go: ${go.checks.length} to settle`
        : 'go'
  const sections = [
    `${pour.name}. Cast ${when}. ${state}.`,
    section('Pieces', [
      ...plan.pieces.pieces.map((piece) =>
        line(
          `${piece.letter} ${piece.name}${piece.quantity > 1 ? ` × ${piece.quantity}, together` : ''}`,
          figure(piece.castMassAll, units),
        ),
      ),
      line('pieces as cast', figure(plan.pieces.castMass, units)),
    ]),
    section('Flask', [
      line(
        'flask',
        flask === undefined ? 'open' : writeFlask(flask.diameter.value, flask.height.value, units),
      ),
      line('gap to the wall', figure(flask?.sideGap, units)),
      line(plan.arranged === undefined ? 'above the pieces' : 'above the tree', figure(flask?.topGap, units)),
      ...placedLines(plan, units),
    ]),
    section(
      'Freeze, first to freeze first',
      plan.tree.order.map((one) => line(one.name, figure(one.time, units))),
    ),
    section('Sprues and button', [
      ...plan.tree.gates.map(({ letter, name, count, diameter }) =>
        line(
          `sprue of ${letter} ${name}${count.value > 1 ? `, ${count.value} on each` : ''}`,
          across(diameter, units),
        ),
      ),
      line('main sprue', plan.tree.stem === undefined ? 'open' : across(plan.tree.stem.diameter, units)),
      line('button, deep', figure(plan.tree.button.depth, units)),
    ]),
    section('Charge', [
      line(
        'sprues',
        `${figure(plan.spruesMetal, units)}${plan.spruesBy === 'boxes' ? ', by outside boxes' : ''}`,
      ),
      line('needed', figure(needed.needed, units)),
      line('weigh', needed.toWeigh === undefined ? 'open' : writeFigure(massOf(needed.toWeigh.value), units)),
      line(
        'falls short',
        needed.probabilityShort === undefined ? 'open' : writeChance(needed.probabilityShort.value),
      ),
      line(
        'button too small to feed',
        needed.probabilityButtonShort === undefined
          ? 'open'
          : writeChance(needed.probabilityButtonShort.value),
      ),
      ...charge.lines.map((lot) =>
        line(
          lot.name,
          `${writeFigure(massOf(lot.mass), units)}${
            lot.pieces !== undefined && lot.pieces.length > 1
              ? ` (whole pieces ${lot.pieces.map((piece) => writeFigure(massOf(piece), units)).join(' + ')})`
              : ''
          }`,
        ),
      ),
      line('fineness', figure(charge.fineness, units)),
      line('melting takes, by this torch', figure(plan.melt.time, units)),
      line('pour at', figure(plan.melt.pourTemperature, units)),
    ]),
    section('Mix', [
      line('powder', figure(mix.powder, units)),
      line('water', figure(mix.water, units)),
      line('boils on the gauge from', figure(mix.vacuum.boilGauge, units)),
      line('the gloss goes at', figure(mix.glossOff, units)),
    ]),
    burnoutSection(plan, units),
    section('Spin', [
      line('balance cold before investing on', figure(plan.spin.balance?.standIn, units)),
      line('counterweight then at', figure(plan.spin.balance?.counterweightAt, units)),
      line('turns to wind', `${Number(plan.spin.turns.value.toFixed(2))}`),
      line('from the kiln’s door to the pour, at most', figure(plan.quench.transfer?.seconds, units)),
      line('let it run', figure(plan.spin.time?.run, units)),
    ]),
    section('Quench, after the spin', [
      line(
        'between',
        plan.quench.window === undefined
          ? 'open'
          : `${writeDuration(plan.quench.window.from)} and ${writeDuration(plan.quench.window.to)}`,
      ),
      line('water in the bucket, at least', figure(plan.quench.bucket, units)),
      `  ${writeWords(plan.quench.redFirst, units)}`,
    ]),
    section('Price', [line('ask', figure(plan.price.ask, units))]),
    section('Finish', [line('finished', figure(plan.finish.finishedMass, units))]),
    section('Go or no-go', [
      ...go.stops.map(
        (one) =>
          `  STOP   ${writeWords(one.title, units)}. ${writeWords(one.reason, units)}\n         do: ${writeWords(one.remedy, units)}`,
      ),
      ...go.checks.map(
        (one) =>
          `  check  ${writeWords(one.title, units)}. ${writeWords(one.reason, units)}\n         do: ${writeWords(one.remedy, units)}`,
      ),
      ...go.accepted.map((one) => `  kept   ${writeWords(one.title, units)}, accepted: ${one.accepted}`),
      ...go.passes.map((one) => `  pass   ${writeWords(one.title, units)}`),
    ]),
    section(
      'Cautions, at their steps',
      plan.cautions.map(
        (one) => `  ${one.level.padEnd(8)}${one.part}, ${one.step}: ${writeWords(one.words, units)}`,
      ),
    ),
    'Ranges are nine in ten; none is a promise. The maker’s sheets, local code and licensed practice come first.',
  ]
  if (explained)
    sections.push(
      section(
        'What each number rests on',
        [...quantitiesOf(plan).values()].map((quantity) =>
          [
            `  ${quantity.id}: ${quantity.title}, ${figure(quantity, units)}`,
            ...(quantity.says === undefined ? [] : [`      ${quantity.says}`]),
            ...Object.values(quantity.inputs).map(
              (input) => `      from ${input.id}: ${figure(input, units)}`,
            ),
            `      source: ${quantity.source}`,
          ].join('\n'),
        ),
      ),
    )
  return sections.join('\n\n')
}
