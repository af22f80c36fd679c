import type { Roots, Shop } from '../documents/index.ts'
import { normalCdf, normalQuantile } from '../physics/normal.ts'
import {
  decide,
  GRAM_PER_AVOIRDUPOIS_OUNCE,
  GRAM_PER_TROY_OUNCE,
  massOf,
  NINE_IN_TEN,
  type Quantity,
  type RoomAnswer,
  say,
  type Verdict,
  type Words,
  writeChance,
} from '../quantity/index.ts'
import { buttonLeft, leastMetal, metalBack, metalInCavity, metalNeeded, metalToFill } from './formulas.ts'

export interface Blunder {
  readonly id: string
  readonly words: Words
}

export interface NeededPlan {
  readonly cavity?: Quantity
  /** cavity and crucible: below this the casting is short */
  readonly fill?: Quantity
  /** with the least button that feeds */
  readonly needed?: Quantity
  readonly toWeigh?: Quantity
  /** the least the scale can weigh that still fills the pieces within the shop's limit, whatever the button [kg] */
  readonly leastToFill?: number
  /** what it cannot be less than, while the charge is open */
  readonly least?: Quantity
  readonly probabilityShort?: Quantity
  readonly probabilityButtonShort?: Quantity
  readonly button?: Quantity
  readonly back?: Quantity
  readonly crucible: Quantity
  readonly blunders: readonly Blunder[]
  readonly answer: RoomAnswer
}

export interface NeededInput {
  readonly shop: Shop
  readonly roots: Roots
  readonly crucibleIndex: number
  readonly pieces?: Quantity
  /** the pieces whose mass is known, when not all of them or not the sprues are */
  readonly knownPieces?: Quantity
  readonly sprues?: Quantity
  readonly leastButton: Quantity
  /** a button that fills the base's cone [kg] */
  readonly fullButton: Quantity
  /** the sprues are known by outside boxes alone, which asks a charge with much to spare */
  readonly byBoxes: boolean
  /** density of the metal over that of the wax, for what a tare error is worth */
  readonly metalPerWax?: number
}

/** Chance that a normally spread need is more than what is there; a step function when the need is exact. */
const chanceAbove = (there: number, need: Quantity, scale: number): number => {
  const spread = Math.hypot(need.u, scale)
  return spread === 0 ? (need.value > there ? 1 : 0) : normalCdf((need.value - there) / spread)
}

const chance = (
  id: string,
  title: string,
  says: string,
  charge: Quantity,
  need: Quantity,
  scale: number,
): Quantity =>
  decide({
    id,
    title,
    unit: '1',
    says,
    source: 'normal spread of the need, first-order from its roots (GUM, JCGM 100), with the scale’s step',
    holdsWhen: 'no blunder: no old tare, no ounce for a troy ounce, no wrong figure',
    inputs: { charge, need },
    body: (n) => chanceAbove(n.charge, { ...need, value: n.need }, scale),
  })

const limitVerdict = (
  facts: { id: string; title: Words; short: Words; where: string; remedy: Words },
  found: Quantity,
  limit: number,
): Verdict => {
  const odds = writeChance(found.value)
  const base = { id: facts.id, part: 'charge', where: facts.where } as const
  return found.value <= limit + 1e-12
    ? {
        ...base,
        verdict: 'pass',
        title: facts.title,
        reason: say`Falls short: ${odds}. No more than ${writeChance(limit)} is your limit.`,
        remedy: [],
      }
    : {
        ...base,
        verdict: found.value > 0.5 ? 'stop' : 'check',
        title: facts.short,
        reason: say`Falls short: ${odds}, more than your limit of ${writeChance(limit)}.`,
        remedy: facts.remedy,
      }
}

/** What the commonest blunders would do to this charge, beside the chances that leave them out. */
const blundersOf = (charge: Quantity, fill: Quantity, metalPerWax: number | undefined): Blunder[] => {
  const ratio = GRAM_PER_AVOIRDUPOIS_OUNCE / GRAM_PER_TROY_OUNCE
  const mistaken = charge.value * ratio
  const gap = mistaken - fill.value
  const blunders: Blunder[] = [
    {
      id: 'ounces',
      words: say`Ounces taken for troy ounces: ${massOf(mistaken)} in the crucible instead of ${massOf(charge.value)}, ${
        gap < 0 ? say`${massOf(-gap)} short of filling the pieces` : say`all of the loss out of the button`
      }.`,
    },
  ]
  if (metalPerWax !== undefined)
    blunders.push({
      id: 'tare',
      words: say`An old tare: each ${massOf(1e-4)} of wax left on the base when it was weighed makes the charge ${massOf(1e-4 * metalPerWax)} short.`,
    })
  return blunders
}

/** Metal past the brim of the base's cone lies on the flask's face, and the arm throws it. */
const coneVerdict = (button: Quantity, { fullButton, byBoxes }: NeededInput): Verdict[] => {
  if (button.value <= fullButton.value) return []
  const isSure = button.low > fullButton.value
  return [
    {
      id: 'charge.cone',
      part: 'charge',
      verdict: isSure ? 'stop' : 'check',
      title: isSure
        ? say`The button this charge leaves does not fit the base’s cone`
        : say`The button may be more than the base’s cone holds`,
      reason: say`This charge leaves ${button} for the button, ${massOf(button.low)} to ${massOf(button.high)}, and the whole cone holds ${massOf(fullButton.value)}. What is over stands out of the flask’s mouth while it is liquid, and is thrown when the arm turns.`,
      remedy: byBoxes
        ? say`see where each wax goes, or build the tree and weigh it: outside boxes know the sprues so loosely that much is added for them; or use a base with a larger cone`
        : say`use a base with a larger cone, or pour fewer pieces at once; a built tree on the scale asks the least to spare`,
      where: '/pour/charge/toWeigh_g',
    },
  ]
}

/** The metal the pour needs, the least charge the scale can weigh that keeps the chances, and what is left over. */
export const planNeeded = (input: NeededInput): NeededPlan => {
  const { roots, shop, pieces, sprues, leastButton } = input
  const crucible = roots.at(`/shop/crucibles/${input.crucibleIndex}/retention_g`, 'Stays in the crucible')
  const verdicts: Verdict[] = []
  if (pieces === undefined || sprues === undefined) {
    verdicts.push({
      id: 'charge.open',
      part: 'charge',
      verdict: 'check',
      title: say`The charge is open`,
      reason:
        pieces === undefined
          ? say`Not every piece has a weight yet.`
          : say`The sprues have no size yet, so the metal in them is not known.`,
      remedy:
        pieces === undefined
          ? say`weigh or measure each piece`
          : say`measure each piece by calipers, or weigh the base alone and with the tree`,
      where: pieces === undefined ? '/pour/pieces' : '/pour/tree/weighed/base_g',
    })
    const known = pieces ?? input.knownPieces
    return {
      crucible,
      least: known && leastMetal({ pieces: known, crucible }, { id: 'charge.least' }),
      blunders: [],
      answer: { verdicts, cautions: [], problems: [] },
    }
  }

  const cavity = metalInCavity({ pieces, sprues }, { id: 'charge.cavity' })
  const fill = metalToFill({ cavity, crucible }, { id: 'charge.fill' })
  const needed = metalNeeded({ cavity, button: leastButton, crucible }, { id: 'charge.needed' })
  const step = shop.scales.metal.resolution_g / 1000
  const scale = step / Math.sqrt(12)
  const { shortChance, buttonChance } = shop.rules
  const asked = '/pour/charge/toWeigh_g'
  const toFill = (need: number): number => need + normalQuantile(1 - shortChance) * Math.hypot(fill.u, scale)
  const toWeigh = roots.has(asked)
    ? roots.at(asked, 'Charge to weigh')
    : decide({
        id: 'charge.toWeigh',
        title: 'Charge to weigh',
        unit: 'kg',
        says: 'the least the scale can weigh that keeps both chances, of a short cavity and of a button too small to feed, under the shop’s limits',
        source: 'normal spread of the need, first-order from its roots (GUM, JCGM 100)',
        inputs: { fill, needed },
        body: (n) => {
          const forCavity = toFill(n.fill)
          const forButton = n.needed + normalQuantile(1 - buttonChance) * Math.hypot(needed.u, scale)
          return Math.ceil(Math.max(forCavity, forButton) / step - 1e-9) * step
        },
      })
  const probabilityShort = chance(
    'charge.short',
    'Falls short',
    'the chance that the cavity and the crucible want more than the charge',
    toWeigh,
    fill,
    scale,
  )
  const probabilityButtonShort = chance(
    'charge.buttonShort',
    'Button too small to feed',
    'the chance that what is left for the button is less than the least that feeds',
    toWeigh,
    needed,
    scale,
  )
  const button = buttonLeft({ charge: toWeigh, fill }, { id: 'charge.button' })
  const back = metalBack({ charge: toWeigh, pieces, crucible }, { id: 'charge.back' })

  const more = say`weigh ${massOf(Math.ceil((needed.value + NINE_IN_TEN * needed.u) / step) * step)}`
  verdicts.push(
    limitVerdict(
      {
        id: 'charge.short',
        title: say`The charge fills the pieces`,
        short: say`The charge may not fill the pieces`,
        where: asked,
        remedy: more,
      },
      probabilityShort,
      shortChance,
    ),
    limitVerdict(
      {
        id: 'charge.button',
        title: say`The button feeds`,
        short: say`The button may be too small to feed`,
        where: asked,
        remedy: more,
      },
      probabilityButtonShort,
      buttonChance,
    ),
  )
  verdicts.push(...coneVerdict(button, input))
  const steps = toWeigh.value / step
  if (Math.abs(steps - Math.round(steps)) > 1e-6)
    verdicts.push({
      id: 'charge.step',
      part: 'charge',
      verdict: 'check',
      title: say`The scale cannot weigh this`,
      reason: say`It reads to ${massOf(step)}; ${massOf(toWeigh.value)} lies between two readings.`,
      remedy: say`round up to what it reads`,
      where: asked,
    })
  if (toWeigh.value * 1000 > shop.scales.metal.most_g)
    verdicts.push({
      id: 'charge.scale',
      part: 'charge',
      verdict: 'check',
      title: say`More than the scale holds`,
      reason: say`The metal scale takes ${massOf(shop.scales.metal.most_g / 1000)}; the charge is ${massOf(toWeigh.value)}.`,
      remedy: say`weigh the charge in two parts, and count each part's step`,
      where: '/shop/scales/metal/most_g',
    })
  return {
    cavity,
    fill,
    needed,
    toWeigh,
    leastToFill: Math.ceil(toFill(fill.value) / step - 1e-9) * step,
    probabilityShort,
    probabilityButtonShort,
    button,
    back,
    crucible,
    blunders: blundersOf(toWeigh, fill, input.metalPerWax),
    answer: { verdicts, cautions: [], problems: [] },
  }
}
