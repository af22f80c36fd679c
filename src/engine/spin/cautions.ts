import { type Caution, type Quantity, say } from '../quantity/index.ts'

export const spinCautions = (energy?: Quantity): Caution[] => [
  {
    id: 'spin.metal-flies',
    part: 'spin',
    step: 'letting go',
    level: 'danger',
    words: say`Molten metal flies. Lid or tub in place, face shield on, nobody in line with the arm. Machine bolted down.${energy ? say` The turning arm hits like ${energy}, enough to throw a loose flask.` : say``}`,
  },
  {
    id: 'spin.wire',
    part: 'spin',
    step: 'seating the flask',
    level: 'warning',
    words: say`Wire the flask and tuck the ends. See that the pin holds, the cradle is home, and the flask's mouth faces the crucible. Pin out only when all is clear.`,
  },
  {
    id: 'spin.never-stop',
    part: 'spin',
    step: 'waiting',
    level: 'warning',
    words: say`Never stop the arm by hand or with a tool. Hands off until it has stopped by itself. The maker's sheet sets the most turns and the most load.`,
  },
  {
    id: 'spin.spring',
    part: 'spin',
    step: 'winding',
    level: 'caution',
    words: say`A wound spring can let go: wind with the arm held firmly and stand outside its circle.`,
  },
]
