import { celsius, decide, hours, keyOf, type Quantity, say } from '../../quantity/index.ts'
import type { BurnoutCourse, FlaskQuantities } from '../burnout-model.ts'
import { type LaidProgram, type Stage, stepsOf, usual, wordsOfFirstHold } from '../program.ts'
import type { BesideFlask, DesignedBurnout, DesignQuestion, Variant } from './design.ts'
import { meltsOf, numbersOf } from './history.ts'

/** What the solver is asked for one flask, and the key under which its answer is found again. */
export interface AskedBurnout {
  readonly question: DesignQuestion
  readonly key: string
}

/** Wet set plaster 0.8 to 1.2 W/mK: an estimate from saturated plaster and silica mixes, from memory. */
const wetConductivity = (): Quantity =>
  usual(
    'burnout.wetConductivity',
    'Heat passed by the wet mould',
    'W/mK',
    1,
    'estimate from saturated plaster and silica, from memory',
    0.8,
    1.2,
  )

/** What no document holds yet of a flask in its kiln. */
export const usualFilm = (): Pick<
  FlaskQuantities,
  'wetConductivity' | 'waterDoubt' | 'film' | 'emissivity'
> => ({
  wetConductivity: wetConductivity(),
  waterDoubt: usual(
    'burnout.waterDoubt',
    'Heat of the water, over what is reckoned',
    '1',
    1,
    'a guess at what steam carries to colder places and leaves there; log a thermocouple to narrow it',
    0.85,
    1.15,
  ),
  film: usual(
    'burnout.film',
    'Heat passed by the air of the kiln',
    'W/m2K',
    8,
    'hot air moving by itself, 5 to 12 in a textbook; from memory',
    5,
    12,
  ),
  emissivity: usual(
    'burnout.emissivity',
    'How well flask and kiln exchange radiation',
    '1',
    0.8,
    'oxidised steel and plaster 0.7 to 0.93 in a textbook; from memory',
    0.7,
    0.9,
  ),
})

/** Below the 220 °C at which cristobalite swells, and twice as far above boiling as the first hold. */
const dryingHeat = (): Quantity =>
  usual(
    'burnout.solved.drying',
    'Drying hold',
    'K',
    celsius(205),
    'chosen here: well above boiling, below the 220 °C at which cristobalite swells',
  )

const FIRST_HOLD = hours(2)

/** The question for a flask whose rule-laid program is known: same limits, holds left open. */
export const askBurnout = (
  variant: Variant,
  laid: LaidProgram,
  course: Pick<BurnoutCourse, 'waxMelts' | 'sprueMelts'>,
  flask: FlaskQuantities,
  others: readonly BesideFlask[],
): AskedBurnout => {
  const question: DesignQuestion = {
    variant,
    ...(others.length > 0 && { others }),
    ...numbersOf(flask),
    melts: meltsOf(course),
    kiln: {
      room: laid.room.value,
      first: laid.firstHold.value,
      drying: Math.max(dryingHeat().value, laid.firstHold.value),
      top: laid.top.value,
      casting: laid.castingSet.value,
      rise: laid.rise.value,
      fall: laid.fall.value,
    },
    ask: {
      wax: FIRST_HOLD,
      leastDrying: 1800,
      clean: { gentle: hours(2), shortest: hours(1) },
      leastSoak: { gentle: hours(1), shortest: 1800 },
    },
  }
  return { question, key: keyOf(question) }
}

/** A hold the solver found: a setting, in steps of five minutes. */
const found = (id: string, title: string, says: string, seconds: number, from: Record<string, Quantity>) =>
  decide({
    id: `burnout.solved.${id}`,
    title,
    unit: 's',
    says,
    source: 'solved for this flask with its slow properties, rounded up to five minutes',
    inputs: from,
    body: () => seconds,
  })

/** The program with the holds that were found, told step by step as the rule's is. */
export const laySolved = (
  ruled: LaidProgram,
  { holds }: DesignedBurnout,
  waxMelts: Quantity | undefined,
  flask: FlaskQuantities,
): LaidProgram => {
  const { radius, height, conductivity, film } = flask
  const from = { radius, height, conductivity, film }
  const top = found(
    'topHold',
    'Top hold',
    'until the core, at its latest, has stood where carbon burns for the time asked',
    holds.top,
    from,
  )
  const soak = found(
    'soak',
    'Soak at casting heat',
    'until the core of a slow flask stands within ten degrees',
    holds.casting,
    from,
  )
  const stages: Stage[] = [
    {
      id: 'wax',
      to: ruled.firstHold,
      hold: usual('burnout.firstHoldTime', 'First hold', 's', holds.wax),
      words: wordsOfFirstHold(waxMelts),
    },
    ...(holds.drying === undefined
      ? []
      : [
          {
            id: 'drying',
            to: dryingHeat().value > ruled.firstHold.value ? dryingHeat() : ruled.firstHold,
            hold: found(
              'dryingHold',
              'Drying hold',
              'until the core of a slow flask is above boiling',
              holds.drying,
              from,
            ),
            words: say`dries the mould through to its middle`,
          },
        ]),
    { id: 'top', to: ruled.top, hold: top, words: say`burns the carbon off` },
    { id: 'casting', to: ruled.castingSet, hold: soak, words: say`settles at casting heat` },
  ]
  return { ...ruled, steps: stepsOf(stages, ruled, 'burnout.solved'), soak, holds: { top } }
}
