import { quenchMoments } from '../engine/heat/index.ts'
import { sayClock } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { figureOf, METRIC, type UnitChoice, writeFigure } from '../engine/quantity/index.ts'
import { write, writeBothTemperatures, writeHold, writeRange, writeSides } from './say.ts'
import { type Block, row } from './sheet.ts'

/** To the half minute, as somebody beside a cooling flask counts: 8½ min. */
const halfMinutes = (seconds: number, round: (halves: number) => number): string => {
  const halves = round(seconds / 30)
  return `${Math.floor(halves / 2) || (halves % 2 ? '' : 0)}${halves % 2 ? '½' : ''}`
}

/** Into the bucket, and the first weighing of what came out. */
export const quench = (plan: Plan, units: UnitChoice): Block[] => {
  const { quench: cooling } = plan
  const { window } = cooling
  return [
    ...(cooling.bucket === undefined
      ? []
      : [row(`Bucket ready: ${writeFigure(figureOf(cooling.bucket), units)} of water at least`)]),
    row('No red left in the shade: into the bucket, minutes after the spin', {
      plan:
        window === undefined
          ? undefined
          : window.sure
            ? `${halfMinutes(window.from, Math.ceil)} to ${halfMinutes(window.to, Math.floor)}\u00a0min`
            : 'by the glow',
      got: ':',
      under:
        cooling.opens &&
        cooling.closes &&
        `Opens ${writeRange(cooling.opens, units)}, closes ${writeRange(cooling.closes, units)}`,
    }),
    row('Mud off under water, bagged wet'),
  ]
}

export const whenQuenched = ({ castAt, spin, quench: cooling, shop }: Plan): string => {
  const run = spin.time?.run.value
  const moments =
    castAt === undefined || run === undefined ? undefined : quenchMoments(cooling, castAt + run * 1000)
  if (moments === undefined) return 'no clock is sure: go by the glow'
  const { opens, closes } = moments
  return `from ${sayClock(opens, shop.timeZone)} to about ${sayClock(closes, shop.timeZone)}; any red, and it waits`
}

/** The bath, the sizes that have to come out, and the stone. */
export const finishing = (plan: Plan, units: UnitChoice): Block[] => {
  const { pickle, pieces, finishedMass, castMass, metalBack } = plan.finish
  const bath =
    pickle.water && pickle.salt
      ? `${writeFigure(figureOf(pickle.water), units)} of water, then ${writeFigure({ ...figureOf(pickle.salt), plainMass: true, decimals: 0 }, units)} of salt`
      : undefined
  return [
    ...(bath === undefined ? [] : [row(`Pickle made up: ${bath}`)]),
    row(`Pickle at ${writeBothTemperatures(pickle.temperature.value, units)}, no iron in it`, {
      plan: writeHold(pickle.time.value),
      got: '',
    }),
    row('Rinse, and neutralise in soda water'),
    row('Saw off the sprues, and weigh dry: pieces', {
      plan: castMass && write(castMass, units),
      got: units.mass,
      under: castMass && `Nine in ten: ${writeRange(castMass, units)}`,
    }),
    row('Sprues and button', {
      plan: metalBack && write(metalBack, units),
      got: units.mass,
      under: metalBack && `Nine in ten: ${writeRange(metalBack, units)}`,
    }),
    ...pieces.flatMap(({ name, index, seat, lengths }) => {
      const asked = plan.pour.pieces[index]?.seat
      const stone = [asked?.length_mm, asked?.width_mm].map(
        (side) => (typeof side === 'object' ? side.value : (side ?? 0)) / 1000,
      )
      return [
        ...lengths.map((length) =>
          row(`${name}: ${length.name}, finished`, {
            plan: write(length.finished, units),
            got: units.length,
          }),
        ),
        ...(seat && asked
          ? [
              // the stone as it is sold, by the millimetre
              row(`${name}: seat, for a stone of ${writeSides(METRIC, ...stone)}`, {
                plan: writeSides(units, ...stone.map((side) => side + (2 * asked.gap_mm) / 1000)),
                got: units.length,
              }),
              row(
                seat.heatSensitive
                  ? `Set the ${seat.stone} cold; no flame, no pickle after`
                  : `Set the ${seat.stone}; no heat, no pickle after`,
              ),
            ]
          : []),
      ]
    }),
    row('Finished pieces', {
      plan: finishedMass && write(finishedMass, units),
      got: units.mass,
      under: finishedMass && `Nine in ten: ${writeRange(finishedMass, units)}`,
    }),
  ]
}
