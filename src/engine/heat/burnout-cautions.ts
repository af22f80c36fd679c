import { type Caution, say } from '../quantity/index.ts'

export const BURNOUT_CAUTIONS: readonly Caution[] = [
  {
    id: 'burnout.fumes',
    part: 'burnout',
    step: 'wax out',
    level: 'warning',
    words: say`Burning wax gives off acrid fumes, acrolein among them; later sulphur may follow. Vent outdoors or under a hood, and keep out of the room for the first hours. No filter mask is made for this; local rules come first.`,
  },
  {
    id: 'burnout.wax-fire',
    part: 'burnout',
    step: 'opening the door while wax burns',
    level: 'danger',
    words: say`Wax vapour can flash when the door lets air in. Keep the door shut while smoke shows; if it must open, stand to the side, in gloves, face shield and plain cotton or wool, with a fire extinguisher at hand.`,
  },
  {
    id: 'burnout.hot',
    part: 'burnout',
    step: 'lifting the flask out',
    level: 'warning',
    words: say`Flask and kiln are hot enough to burn through cloth. Tongs that fit this flask, dry, tried cold; face shield, and a clear way to the casting machine.`,
  },
  {
    id: 'burnout.unattended',
    part: 'burnout',
    step: 'kiln on overnight',
    level: 'caution',
    words: say`A kiln left alone, or started by its own delay, needs its fumes vented outdoors the whole time, room all round, a smoke alarm, and wiring that a licensed electrician would pass. The maker's sheet and local code come first.`,
  },
]
