import { IANAZone } from 'luxon'
import { sayClock, sayMoment, writeMoment } from '../engine/physics/schedule.ts'
import type { Plan } from '../engine/plan.ts'
import { type Part, type UnitChoice, writeWords } from '../engine/quantity/index.ts'
import { beforeTheWax } from './before-the-wax.ts'
import { shortWords, WORST_FIRST } from './caution-words.ts'
import { finishing, quench, whenQuenched } from './cooled-and-finished.ts'
import { begin, sentence, writeFlask } from './say.ts'
import { type Block, type Section, type Sheet, type Sign, sign } from './sheet.ts'
import { burnOut, meltAndSpin, mixAndFill, whenBurned, whenMelted, whenMixed } from './wet-and-hot.ts'

/** Cautions of a step, worst first, one sign for each level; none is left out. */
const cautionsOf = (plan: Plan, units: UnitChoice, parts: readonly Part[]): Block[] => {
  const signs = WORST_FIRST.flatMap((level): Sign[] => {
    const here = plan.cautions.filter((caution) => caution.level === level && parts.includes(caution.part))
    const words = [...new Set(here.map((caution) => shortWords(caution, writeWords(caution.words, units))))]
    return words.length === 0 ? [] : [{ kind: 'sign', level, words: words.join(' ') }]
  })
  return signs.length === 0 ? [] : [{ kind: 'signs', signs }]
}

/** More than this would push the first step off the sheet: they open section 1 instead. */
const STOPS_AT_HEAD = 4
/** Past this the kinds of piece are counted at the head, and not named. */
const KINDS_NAMED = 12

export interface SheetOptions {
  readonly units: UnitChoice
  /** milliseconds since 1970-01-01T00:00Z */
  readonly printedAt: number
  /** the pour's number, where the pour itself has none */
  readonly number?: number
}

const whenLast = ({ burnout, shop }: Plan): string =>
  burnout.mixBy === undefined ? 'before mixing' : `done before ${sayMoment(burnout.mixBy, shop.timeZone)}`

const castLine = (plan: Plan, units: UnitChoice): Sheet['cast'] => {
  const { castAt, shop, pour, flask } = plan
  const alloy = shop.alloys.find(({ id }) => id === pour.alloy)?.name ?? pour.alloy
  const holder =
    flask === undefined
      ? 'flask open'
      : `flask ${writeFlask(flask.diameter.value, flask.height.value, units)}`
  return castAt === undefined
    ? { before: 'Casting moment ', moment: 'not set', after: `. ${alloy}, ${holder}.` }
    : { before: 'Cast ', moment: sayMoment(castAt, shop.timeZone), after: `. ${alloy}, ${holder}.` }
}

/** printed 13 November 2026, 6:02 pm: with its year, since a sheet may lie in a drawer for long */
const writePrinted = (at: number, timeZone: string): string => {
  const day = (sayMoment(at, timeZone).split(',')[0] ?? '').replace(/^\S+ /, '')
  return `printed ${day} ${writeMoment(at, timeZone).slice(0, 4)}, ${sayClock(at, timeZone)}`
}

/** The whole run sheet in words: enough to do the pour with no device. Pure. */
export const laySheet = (given: Plan, options: SheetOptions): Sheet => {
  const { units } = options
  const zoneKnown = IANAZone.isValidZone(given.shop.timeZone)
  const plan = zoneKnown ? given : { ...given, shop: { ...given.shop, timeZone: 'UTC' } }
  const { pour, shop } = plan
  const number = pour.number ?? options.number
  const section = (
    at: number,
    title: string,
    when: string,
    blocks: readonly Block[],
    parts: readonly Part[],
  ): Section => ({ number: at, title, when, blocks: [...cautionsOf(plan, units, parts), ...blocks] })
  const kinds = plan.pieces.pieces.map(
    ({ letter, name, quantity }) => `${letter} ${name}${quantity > 1 ? ` × ${quantity}` : ''}`,
  )
  const before = beforeTheWax(plan, units)
  const lastLook = before.slice(-1)
  const stops = plan.go.stops.map(({ title, reason, remedy }) => {
    const [what = '', ...rest] = [title, reason, remedy].map((words) =>
      begin(sentence(writeWords(words, units))),
    )
    return {
      title: what,
      words: rest
        .filter((words) => words !== what)
        .join(' ')
        .trim(),
    }
  })
  const furtherStops = stops
    .slice(STOPS_AT_HEAD)
    .map(({ title, words }) => sign('stop', `${title} ${words}`.trim()))
  return {
    over: `Run sheet${number === undefined ? '' : `, pour ${number}`}. ${shop.name}${zoneKnown ? '' : '. Times in UTC: the shop’s clocks are not known'}`,
    title: pour.name,
    cast: castLine(plan, units),
    pieces: kinds.length > KINDS_NAMED ? `${kinds.length} kinds of piece` : kinds.join(', '),
    stops: stops.slice(0, STOPS_AT_HEAD),
    stopCount: stops.length,
    sections: [
      {
        number: 1,
        title: 'Before the wax is spent',
        when: whenLast(plan),
        noReturnAfter: true,
        blocks: [
          ...furtherStops,
          ...cautionsOf(plan, units, ['pieces', 'flask', 'freeze', 'charge', 'price']),
          ...before.slice(0, -1),
          ...lastLook,
        ],
      },
      section(2, 'Mix and fill', whenMixed(plan), mixAndFill(plan, units), ['mix']),
      section(3, 'Burn out', whenBurned(plan), burnOut(plan, units), ['burnout']),
      {
        ...section(4, 'Melt and spin', whenMelted(plan), meltAndSpin(plan, units), ['spin']),
        opensSide: true,
      },
      section(5, 'Quench', whenQuenched(plan), quench(plan, units), ['quench']),
      section(6, 'Finish', 'after the quench', finishing(plan, units), ['finish']),
    ],
    notes: pour.notes,
    foot: 'Ranges are nine in ten; none is a promise. Maker’s sheets and local code come first.',
    printed: writePrinted(options.printedAt, shop.timeZone),
  }
}
