import { formula } from '../quantity/index.ts'

export const modulusOfRod = formula({
  name: 'modulusOfRod',
  title: 'Modulus of the sprue',
  says: 'a quarter of the diameter',
  symbol: 'M',
  unit: 'm',
  inputs: { diameter: { symbol: 'd', unit: 'm', valid: [1e-3, 0.06] } },
  source: 'volume over cooling area of a long round rod, geometry',
  holdsWhen: 'the sprue is long beside its diameter',
  value: ({ diameter }) => diameter / 4,
})

export const volumeOfRods = formula({
  name: 'volumeOfRods',
  title: 'Room of the sprues',
  says: 'π/4 times the diameter squared, times the length, times how many',
  unit: 'm3',
  inputs: {
    diameter: { unit: 'm', valid: [1e-3, 0.06] },
    length: { unit: 'm', valid: [1e-3, 0.4] },
    count: { unit: '1', valid: [1, 400] },
  },
  source: 'geometry of a cylinder',
  value: ({ diameter, length, count }) => (Math.PI / 4) * diameter ** 2 * length * count,
})

export const widthOfCone = formula({
  name: 'widthOfCone',
  title: 'Width of the button’s open face',
  says: 'the neck, and as much wider as the depth is along the base’s cone',
  unit: 'm',
  inputs: {
    mouth: { unit: 'm', valid: [5e-3, 0.2] },
    neck: { unit: 'm', valid: [2e-3, 0.1] },
    coneDepth: { unit: 'm', valid: [2e-3, 0.15] },
    depth: { unit: 'm', valid: [1e-3, 0.15] },
  },
  source: 'similar triangles',
  value: ({ mouth, neck, coneDepth, depth }) => neck + ((mouth - neck) * depth) / coneDepth,
})

export const volumeOfCone = formula({
  name: 'volumeOfCone',
  title: 'Room of a cone cut off',
  says: 'π/12 times the depth, times (wide² + wide × narrow + narrow²)',
  unit: 'm3',
  inputs: {
    wide: { unit: 'm', valid: [2e-3, 0.2] },
    narrow: { unit: 'm', valid: [1e-3, 0.2] },
    depth: { unit: 'm', valid: [1e-3, 0.15] },
  },
  source: 'geometry of a frustum',
  value: ({ wide, narrow, depth }) => coneVolume(wide, narrow, depth),
})

export const coneVolume = (wide: number, narrow: number, depth: number): number =>
  (Math.PI / 12) * depth * (wide ** 2 + wide * narrow + narrow ** 2)

export const modulusOfButton = formula({
  name: 'modulusOfButton',
  title: 'Modulus of the button',
  says: 'its volume, over its cone side and its open face; the neck joins the main sprue and does not cool',
  symbol: 'M',
  unit: 'm',
  inputs: {
    wide: { unit: 'm', valid: [2e-3, 0.2] },
    narrow: { unit: 'm', valid: [1e-3, 0.2] },
    depth: { unit: 'm', valid: [1e-3, 0.15] },
  },
  source: 'volume over cooling area of a frustum, geometry',
  value: ({ wide, narrow, depth }) => buttonModulus(wide, narrow, depth),
})

export const buttonModulus = (wide: number, narrow: number, depth: number): number => {
  const side = (Math.PI / 2) * (wide + narrow) * Math.hypot(depth, (wide - narrow) / 2)
  return coneVolume(wide, narrow, depth) / (side + (Math.PI / 4) * wide ** 2)
}

export const timesLonger = formula({
  name: 'timesLonger',
  title: 'How much longer the feed stays liquid',
  says: 'freezing time of the feed, over that of what it feeds',
  unit: '1',
  inputs: {
    feed: { unit: 's', valid: [0.05, 5000] },
    fed: { unit: 's', valid: [0.05, 5000] },
  },
  source: 'a ratio; what they share cancels, so the order is surer than the seconds',
  value: ({ feed, fed }) => feed / fed,
})

export const metalInFeeds = formula({
  name: 'metalInFeeds',
  title: 'Metal in the sprues',
  says: 'room of the sprues, times the density of the metal',
  unit: 'kg',
  inputs: {
    volume: { unit: 'm3', valid: [0, 0.01] },
    density: { unit: 'kg/m3', valid: [2000, 22_000] },
  },
  source: 'the definition of density',
  value: ({ volume, density }) => volume * density,
})

export const drawnInFreezing = formula({
  name: 'drawnInFreezing',
  title: 'What the metal draws in as it freezes',
  says: 'the metal’s volume times the share of it that it loses on freezing',
  unit: 'm3',
  inputs: {
    cavity: { unit: 'kg', valid: [0, 50] },
    button: { unit: 'kg', valid: [0, 50] },
    density: { unit: 'kg/m3', valid: [1000, 23000] },
    share: { unit: '1', valid: [0, 0.12] },
  },
  source: 'the definition of shrinkage on freezing',
  value: ({ cavity, button, density, share }) => (share * (cavity + button)) / density,
})

export const buttonHolds = formula({
  name: 'buttonHolds',
  title: 'Button over what the metal draws in',
  says: 'the button’s volume over what the metal draws in as it freezes',
  unit: '1',
  inputs: {
    button: { unit: 'm3', valid: [0, 0.01] },
    drawn: { unit: 'm3', valid: [1e-12, 0.01] },
  },
  source: 'a ratio',
  value: ({ button, drawn }) => button / drawn,
})

export const waxLeftForSprues = formula({
  name: 'waxLeftForSprues',
  title: 'Room of the sprues, by the scale',
  says: 'the tree less the pieces’ wax, over the density of sprue wax',
  unit: 'm3',
  inputs: {
    tree: { unit: 'kg', valid: [0, 20] },
    pieces: { unit: 'kg', valid: [0, 20] },
    density: { unit: 'kg/m3', valid: [700, 1600] },
  },
  source: 'a difference of weighings',
  value: ({ tree, pieces, density }) => Math.max(0, tree - pieces) / density,
})

export const waxOfBuiltSprues = formula({
  name: 'waxOfBuiltSprues',
  title: 'Sprue wax on the tree, by the scale',
  says: 'the tree less the pieces’ wax',
  unit: 'kg',
  inputs: {
    tree: { unit: 'kg', valid: [0, 20] },
    pieces: { unit: 'kg', valid: [0, 20] },
  },
  source: 'a difference of weighings',
  holdsWhen: 'the base’s cone makes the button, so that no wax is in it',
  plainMass: true,
  value: ({ tree, pieces }) => tree - pieces,
})

export const waxOfPlannedSprues = formula({
  name: 'waxOfPlannedSprues',
  title: 'Sprue wax as planned',
  says: 'room of the planned sprues, times the density of sprue wax, times what a hand makes of it',
  unit: 'kg',
  inputs: {
    room: { unit: 'm3', valid: [0, 0.01] },
    density: { unit: 'kg/m3', valid: [700, 1600] },
    asBuilt: { unit: '1', valid: [0.5, 2] },
  },
  source: 'the definition of density',
  plainMass: true,
  value: ({ room, density, asBuilt }) => room * density * asBuilt,
})

export const builtLessPlanned = formula({
  name: 'builtLessPlanned',
  title: 'Sprue wax built, less planned',
  says: 'sprue wax by the scale, less what the planned sprues would weigh',
  unit: 'kg',
  inputs: {
    built: { unit: 'kg', valid: [-20, 20] },
    planned: { unit: 'kg', valid: [0, 20] },
  },
  source: 'a difference',
  plainMass: true,
  value: ({ built, planned }) => built - planned,
})

export const lengthByHand = formula({
  name: 'lengthByHand',
  title: 'Sprue, long',
  says: 'the length the layout gives, and how far a hand is off it',
  unit: 'm',
  inputs: {
    laid: { unit: 'm', valid: [1e-3, 0.4] },
    byHand: { unit: 'm', valid: [-2e-3, 2e-3] },
  },
  source: 'a sum; the hand is common practice',
  value: ({ laid, byHand }) => laid + byHand,
})

export const roomByBoxes = formula({
  name: 'roomByBoxes',
  title: 'Room of all sprues, before the waxes are placed',
  says: 'sprues and main sprue as laid out by outside boxes, times how much more or less of them the waxes’ own places take',
  unit: 'm3',
  inputs: {
    laid: { unit: 'm3', valid: [0, 0.01] },
    placed: { unit: '1', valid: [0.2, 5] },
  },
  source: 'a product',
  holdsWhen: 'no place has been found for each wax yet; finding them replaces this',
  value: ({ laid, placed }) => laid * placed,
})

export const roomAsPlaced = formula({
  name: 'roomAsPlaced',
  title: 'Room of all sprues, as placed',
  says: 'the joined solid of pieces, sprues and button, less pieces and button; and all sprues’ sections, times how far a hand is off their length',
  unit: 'm3',
  inputs: {
    joined: { unit: 'm3', valid: [0, 0.01] },
    section: { unit: 'm2', valid: [0, 0.05] },
    byHand: { unit: 'm', valid: [-2e-3, 2e-3] },
  },
  source: 'volume of the joined solid, measured; the hand is common practice',
  holdsWhen: 'the tree is built as the drawing says',
  value: ({ joined, section, byHand }) => joined + section * byHand,
})
