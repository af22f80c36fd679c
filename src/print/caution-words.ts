import type { Caution } from '../engine/quantity/index.ts'

/**
 * The same cautions in the few words that a sheet at arm's length has room for: hazard first, then the first
 * protection. A caution that is not listed is printed in full, so none is ever left out.
 */
const SHORT: Readonly<Record<string, string>> = {
  'melt.unknown-scrap': 'Unknown scrap: cadmium fume kills, lead poisons. Refuse it.',
  'mix.silica': 'Silica dust: respirator until the bag is shut and the bench wiped wet.',
  'mix.belljar': 'Bell jar: no chips, eyes covered.',
  'burnout.fumes': 'Fumes: hood on, stay out.',
  'burnout.wax-fire': 'Wax vapour flashes: door shut while it smokes.',
  'burnout.hot': 'Hot flask: dry tongs, shield.',
  'burnout.unattended': 'Left alone: vented, smoke alarm.',
  'melt.damp': 'Damp blows metal out: tools hot, floor dry.',
  'spin.metal-flies': 'Metal flies: guard down, nobody in line.',
  'melt.zinc': 'Zinc fume: extract it or work outdoors.',
  'melt.burns': 'Shaded shield, cotton or wool, a second person.',
  'melt.gas': 'Hoses and arrestors checked, air moving.',
  'spin.wire': 'Flask wired, pin out last.',
  'spin.never-stop': 'Hands off until the arm has stopped.',
  'spin.spring': 'Wind from outside the circle.',
  'melt.borax': 'Don’t breathe borax.',
  'quench.silica': 'Silica in the steam: respirator, hood or outdoors; mud bagged wet.',
  'quench.steam': 'It spits: shield, gloves, deep bucket.',
  'quench.tongs': 'Long dry tongs; lower it, don’t drop it.',
  'finish.acid': 'Acid into water, never water into acid; goggles, gloves.',
  'finish.pickle-quench': 'Nothing hot into pickle.',
  'finish.wheel': 'A wheel grabs: no gloves, cuffs or loose hair.',
  'finish.dust': 'Dust: extract it, wipe up wet.',
  'finish.stone-dust': 'Grind stone wet.',
  'finish.epoxy': 'Epoxy: nitrile gloves.',
}

export const WORST_FIRST = ['danger', 'warning', 'caution'] as const

export const shortWords = (caution: Caution, full: string): string => SHORT[caution.id] ?? full
