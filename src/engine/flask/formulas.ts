import { formula } from '../quantity/index.ts'

export const roomOfFlask = formula({
  name: 'roomOfFlask',
  title: 'Room inside the flask',
  says: 'π/4 times the inside diameter squared, times the inside height',
  unit: 'm3',
  inputs: {
    diameter: { unit: 'm', valid: [0.02, 0.4] },
    height: { unit: 'm', valid: [0.02, 0.6] },
  },
  source: 'geometry of a cylinder',
  value: ({ diameter, height }) => (Math.PI / 4) * diameter ** 2 * height,
})

export const massOfShell = formula({
  name: 'massOfShell',
  title: 'Empty flask',
  says: 'π times the middle diameter, times wall, times height, times the density of steel',
  unit: 'kg',
  plainMass: true,
  inputs: {
    diameter: { unit: 'm', valid: [0.02, 0.4] },
    height: { unit: 'm', valid: [0.02, 0.6] },
    wall: { unit: 'm', valid: [3e-4, 0.015] },
    density: { unit: 'kg/m3', valid: [7000, 8500] },
  },
  source: 'geometry of a tube',
  holdsWhen: 'the flask is solid, not perforated',
  value: ({ diameter, height, wall, density }) => Math.PI * (diameter + wall) * wall * height * density,
})

export const gapToWall = formula({
  name: 'gapToWall',
  title: 'Least gap to the wall',
  says: 'half the flask’s inside diameter, less the tree’s farthest reach',
  unit: 'm',
  inputs: {
    diameter: { unit: 'm', valid: [0.02, 0.4] },
    reach: { unit: 'm', valid: [0, 0.4] },
  },
  source: 'a difference',
  value: ({ diameter, reach }) => diameter / 2 - reach,
})

export const gapAbove = formula({
  name: 'gapAbove',
  title: 'Above the pieces',
  says: 'the flask’s height, less the base’s cone, less how far the tree rises above it',
  unit: 'm',
  inputs: {
    height: { unit: 'm', valid: [0.02, 0.6] },
    cone: { unit: 'm', valid: [0, 0.15] },
    rise: { unit: 'm', valid: [0, 0.6] },
  },
  source: 'a difference',
  value: ({ height, cone, rise }) => height - cone - rise,
})

export const roomOfMould = formula({
  name: 'roomOfMould',
  title: 'Room the investment fills',
  says: 'the flask’s room, less the wax, less the base’s cone',
  unit: 'm3',
  inputs: {
    flask: { unit: 'm3', valid: [1e-5, 0.05] },
    wax: { unit: 'm3', valid: [0, 0.01] },
    cone: { unit: 'm3', valid: [0, 0.005] },
  },
  source: 'a difference',
  value: ({ flask, wax, cone }) => flask - wax - cone,
})

export const dryDensity = formula({
  name: 'dryDensity',
  title: 'Density of the burned-out investment',
  says: 'what is left of the powder once the plaster has lost its water, over the room its slurry filled',
  unit: 'kg/m3',
  inputs: {
    ratio: { unit: '1', valid: [0.25, 0.7] },
    particle: { unit: 'kg/m3', valid: [2000, 3500] },
    hemihydrate: { unit: '1', valid: [0.1, 0.6] },
    water: { unit: 'kg/m3', valid: [950, 1000] },
  },
  source: 'stoichiometry of plaster of Paris: hemihydrate loses 6.206 % of its mass to anhydrite; check Y5',
  holdsWhen: 'the set mould keeps the slurry’s size',
  value: ({ ratio, particle, hemihydrate, water }) =>
    (1 - 0.0620601 * hemihydrate) / (1 / particle + ratio / water),
})

export const massOfDryMould = formula({
  name: 'massOfDryMould',
  title: 'Burned-out investment',
  says: 'room the investment fills, times its burned-out density',
  unit: 'kg',
  plainMass: true,
  inputs: {
    volume: { unit: 'm3', valid: [1e-6, 0.05] },
    density: { unit: 'kg/m3', valid: [800, 2500] },
  },
  source: 'the definition of density',
  value: ({ volume, density }) => volume * density,
})

export const massOfWetMould = formula({
  name: 'massOfWetMould',
  title: 'Set investment, still wet',
  says: 'room the investment fills, times (1 + water to powder), over the room a unit of powder and its water fill',
  unit: 'kg',
  plainMass: true,
  inputs: {
    volume: { unit: 'm3', valid: [1e-6, 0.05] },
    ratio: { unit: '1', valid: [0.25, 0.7] },
    particle: { unit: 'kg/m3', valid: [2000, 3500] },
    water: { unit: 'kg/m3', valid: [950, 1000] },
  },
  source: 'volumes of powder and water add; check I4',
  value: ({ volume, ratio, particle, water }) => (volume * (1 + ratio)) / (1 / particle + ratio / water),
})

export const outsideOfFlask = formula({
  name: 'outsideOfFlask',
  title: 'Flask, across the outside',
  says: 'the inside diameter and the wall on either side',
  unit: 'm',
  inputs: {
    diameter: { unit: 'm', valid: [0.02, 0.4] },
    wall: { unit: 'm', valid: [3e-4, 0.015] },
  },
  source: 'a sum',
  value: ({ diameter, wall }) => diameter + 2 * wall,
})
