import { type Caution, say } from '../quantity/index.ts'

export const acidCautions: readonly Caution[] = [
  {
    id: 'finish.acid',
    part: 'finish',
    step: 'mixing the pickle',
    level: 'warning',
    words: say`Acid goes into water, never water into acid. Goggles, gloves, a lid and moving air. Warm, never boiling. The maker's sheet comes first.`,
  },
  {
    id: 'finish.pickle-quench',
    part: 'finish',
    step: 'pickling',
    level: 'warning',
    words: say`Never quench hot work in pickle: it throws hot acid. Let the piece cool in air or water first.`,
  },
]

export const benchCautions: readonly Caution[] = [
  {
    id: 'finish.wheel',
    part: 'finish',
    step: 'polishing',
    level: 'warning',
    words: say`A polishing wheel grabs. No gloves, no loose cuffs, hair tied back, jewellery off. Hold the piece below the middle of the wheel, eyes covered.`,
  },
  {
    id: 'finish.dust',
    part: 'finish',
    step: 'filing and polishing',
    level: 'caution',
    words: say`Polishing dust carries metal, compound and leftover investment with silica in it. Extract it at the wheel or wear a fitted respirator; wipe up wet.`,
  },
]

export const glueCaution: Caution = {
  id: 'finish.epoxy',
  part: 'finish',
  step: 'setting the stone',
  level: 'caution',
  words: say`If a stone is glued: uncured epoxy sensitises skin and its hardener burns. Nitrile gloves and moving air; don't sand it half cured.`,
}

export const stoneDustCaution: Caution = {
  id: 'finish.stone-dust',
  part: 'finish',
  step: 'fitting the stone',
  level: 'caution',
  words: say`Ream the seat, not the stone. If a stone must be ground, grind it wet: its dust can hold silica or copper.`,
}
