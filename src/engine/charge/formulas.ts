import { formula } from '../quantity/index.ts'

export const metalInCavity = formula({
  name: 'metalInCavity',
  title: 'Metal in the cavity',
  says: 'pieces as cast, plus the metal in the sprues',
  unit: 'kg',
  inputs: {
    pieces: { unit: 'kg', valid: [0, 20] },
    sprues: { unit: 'kg', valid: [0, 20] },
  },
  source: 'a sum',
  value: ({ pieces, sprues }) => pieces + sprues,
})

export const metalToFill = formula({
  name: 'metalToFill',
  title: 'Needed to fill the cavity',
  says: 'metal in the cavity, plus what stays in the crucible',
  unit: 'kg',
  inputs: {
    cavity: { unit: 'kg', valid: [0, 20] },
    crucible: { unit: 'kg', valid: [0, 0.1] },
  },
  source: 'conservation of mass',
  value: ({ cavity, crucible }) => cavity + crucible,
})

export const leastMetal = formula({
  name: 'leastMetal',
  title: 'The charge, at the very least',
  says: 'the pieces whose weight is known, as cast, plus what stays in the crucible',
  unit: 'kg',
  inputs: {
    pieces: { unit: 'kg', valid: [0, 20] },
    crucible: { unit: 'kg', valid: [0, 0.1] },
  },
  source: 'conservation of mass',
  holdsWhen: 'sprues and button come on top of it',
  value: ({ pieces, crucible }) => pieces + crucible,
})

export const metalNeeded = formula({
  name: 'metalNeeded',
  title: 'Metal needed',
  says: 'pieces, sprues and the least button that feeds them, plus what stays in the crucible',
  unit: 'kg',
  inputs: {
    cavity: { unit: 'kg', valid: [0, 20] },
    button: { unit: 'kg', valid: [0, 5] },
    crucible: { unit: 'kg', valid: [0, 0.1] },
  },
  source: 'conservation of mass; the button from its geometry, never a percentage',
  value: ({ cavity, button, crucible }) => cavity + button + crucible,
})

export const buttonLeft = formula({
  name: 'buttonLeft',
  title: 'Button this charge leaves',
  says: 'the charge, less what fills the cavity and what stays in the crucible',
  unit: 'kg',
  inputs: {
    charge: { unit: 'kg', valid: [0, 20] },
    fill: { unit: 'kg', valid: [0, 20] },
  },
  source: 'conservation of mass',
  value: ({ charge, fill }) => charge - fill,
})

export const metalBack = formula({
  name: 'metalBack',
  title: 'Sprues and button, back on the shelf',
  says: 'the charge, less the pieces as cast and what stays in the crucible',
  unit: 'kg',
  inputs: {
    charge: { unit: 'kg', valid: [0, 20] },
    pieces: { unit: 'kg', valid: [0, 20] },
    crucible: { unit: 'kg', valid: [0, 0.1] },
  },
  source: 'conservation of mass',
  value: ({ charge, pieces, crucible }) => charge - pieces - crucible,
})
