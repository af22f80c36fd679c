import { type Caution, celsius, say, temperatureOf } from '../quantity/index.ts'

const always: readonly Caution[] = [
  {
    id: 'melt.damp',
    part: 'spin',
    step: 'before the metal goes in',
    level: 'danger',
    words: say`Damp on tools, crucible or metal turns to steam under molten metal and blows it out. Heat everything dry first. Dry floor, dry sand at hand, never water.`,
  },
  {
    id: 'melt.burns',
    part: 'spin',
    step: 'melting',
    level: 'warning',
    words: say`Face shield with a shade for the glare, natural-fibre clothes, closed shoes, nothing that can melt or catch. A second person present.`,
  },
  {
    id: 'melt.gas',
    part: 'spin',
    step: 'lighting the torch',
    level: 'warning',
    words: say`Check hoses, flash-back arrestors and valves. Bottles chained, moving air against carbon monoxide. Follow the torch maker's sheet and local fire code.`,
  },
  {
    id: 'melt.borax',
    part: 'spin',
    step: 'fluxing',
    level: 'caution',
    words: say`Borax and boric acid dust: don't breathe it or leave it on the hands. Their maker's sheet says more.`,
  },
  {
    id: 'melt.unknown-scrap',
    part: 'charge',
    step: 'choosing the metal',
    level: 'danger',
    words: say`Refuse scrap of unknown make-up. Old easy solder can hold cadmium, whose fume kills; lead embrittles and poisons. Have it refined first.`,
  },
]

const zinc: Caution = {
  id: 'melt.zinc',
  part: 'spin',
  step: 'melting',
  level: 'danger',
  words: say`Zinc boils at ${temperatureOf(celsius(907))}, below this metal's pouring heat: its fume brings metal-fume fever. Extract at the crucible or work outdoors, and stay out of the smoke. Local code sets the limit.`,
}

export const meltCautions = (zincFume: boolean): Caution[] => (zincFume ? [...always, zinc] : [...always])
