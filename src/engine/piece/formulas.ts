import { formula } from '../quantity/index.ts'

export const volumeOfWax = formula({
  name: 'volumeOfWax',
  title: 'Volume of the wax',
  says: 'mass of the wax over its density',
  symbol: 'V',
  unit: 'm3',
  inputs: {
    mass: { symbol: 'm', unit: 'kg', valid: [1e-5, 20] },
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [700, 1600] },
  },
  source: 'the definition of density',
  holdsWhen: 'the wax holds no hidden air',
  value: ({ mass, density }) => mass / density,
})

export const massOfMetal = formula({
  name: 'massOfMetal',
  title: 'As cast',
  says: 'room left by the wax, times the density of the metal',
  symbol: 'm',
  unit: 'kg',
  inputs: {
    volume: { symbol: 'V', unit: 'm3', valid: [1e-9, 0.01] },
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [2000, 22_000] },
  },
  source: 'the definition of density; wax-to-metal factor as the trade uses it',
  holdsWhen: 'the cavity fills whole and is fed while it shrinks',
  value: ({ volume, density }) => volume * density,
})

export const massOfWax = formula({
  name: 'massOfWax',
  title: 'In wax',
  says: 'volume of the pattern, times the density of the wax',
  symbol: 'm',
  unit: 'kg',
  plainMass: true,
  inputs: {
    volume: { symbol: 'V', unit: 'm3', valid: [1e-9, 0.01] },
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [700, 1600] },
  },
  source: 'the definition of density',
  value: ({ volume, density }) => volume * density,
})

export const timesQuantity = formula({
  name: 'timesQuantity',
  title: 'All of this piece',
  says: 'one piece, times how many',
  unit: 'kg',
  inputs: {
    one: { unit: 'kg', valid: [0, 20] },
    count: { unit: '1', valid: [1, 200] },
  },
  source: 'a product',
  value: ({ one, count }) => one * count,
})

export const waxOfSeveral = formula({
  name: 'waxOfSeveral',
  title: 'All of this piece, in wax',
  says: 'one wax, times how many',
  unit: 'kg',
  plainMass: true,
  inputs: {
    one: { unit: 'kg', valid: [0, 20] },
    count: { unit: '1', valid: [1, 200] },
  },
  source: 'a product',
  holdsWhen: 'the waxes are alike; weigh each by itself when they are not',
  value: ({ one, count }) => one * count,
})

export const thinBodySurface = formula({
  name: 'thinBodySurface',
  title: 'Surface to finish',
  says: 'twice the volume over the middle of the thickest and the thinnest section',
  symbol: 'A',
  unit: 'm2',
  inputs: {
    volume: { symbol: 'V', unit: 'm3', valid: [1e-9, 0.01] },
    thickest: { symbol: 'a', unit: 'm', valid: [2e-4, 0.1] },
    thinnest: { symbol: 'b', unit: 'm', valid: [1e-4, 0.1] },
  },
  source: 'geometry of a thin body with two faces, edges left out',
  holdsWhen: 'the piece is a plate or a wall; a chunky piece has less surface than this',
  value: ({ volume, thickest, thinnest }) => (4 * volume) / (thickest + thinnest),
})

export const asCalipersSay = formula({
  name: 'asCalipersSay',
  title: 'As thick as calipers say',
  says: 'the size in the solid, times the calipers’ thickest over the solid’s, though never less than in the solid',
  unit: 'm',
  inputs: {
    size: { unit: 'm', valid: [5e-5, 0.1] },
    byCalipers: { unit: 'm', valid: [2e-4, 0.1] },
    inSolid: { unit: 'm', valid: [2e-4, 0.1] },
  },
  source: 'a ratio: a wax as a whole is thicker or thinner than its model',
  holdsWhen: 'both tell of the same place',
  value: ({ size, byCalipers, inSolid }) => size * Math.max(1, byCalipers / inSolid),
})

export const modulusOfPlate = formula({
  name: 'modulusOfPlate',
  title: 'Modulus of the thickest section',
  says: 'one over (two over the thickness, plus two over each of the other two sizes)',
  symbol: 'M',
  unit: 'm',
  inputs: {
    thickness: { symbol: 't', unit: 'm', valid: [2e-4, 0.1] },
    length: { symbol: 'a', unit: 'm', valid: [5e-4, 0.4] },
    width: { symbol: 'b', unit: 'm', valid: [5e-4, 0.4] },
  },
  source: 'volume over cooling area of a block, geometry',
  holdsWhen: 'the thickest place reaches across the whole piece; a small boss has less',
  value: ({ thickness, length, width }) => 1 / (2 / thickness + 2 / length + 2 / width),
})

export const modulusOfBar = formula({
  name: 'modulusOfBar',
  title: 'Modulus of the thickest section',
  says: 'one over (four over the thickness, plus two over the length)',
  symbol: 'M',
  unit: 'm',
  inputs: {
    thickness: { symbol: 't', unit: 'm', valid: [2e-4, 0.1] },
    length: { symbol: 'a', unit: 'm', valid: [5e-4, 0.4] },
  },
  source: 'volume over cooling area of a square or round bar, geometry',
  value: ({ thickness, length }) => 1 / (4 / thickness + 2 / length),
})

export const modulusOfWideBar = formula({
  name: 'modulusOfWideBar',
  title: 'Modulus of the thickest section',
  says: 'one over (two over the thickness, plus two over the width, plus two over the length)',
  symbol: 'M',
  unit: 'm',
  inputs: {
    thickness: { symbol: 'a', unit: 'm', valid: [2e-4, 0.1] },
    width: { symbol: 'b', unit: 'm', valid: [2e-4, 0.4] },
    length: { symbol: 'l', unit: 'm', valid: [5e-4, 0.4] },
  },
  source: 'volume over cooling area of a block; ab/2(a + b) for a long bar, foundry textbooks',
  value: ({ thickness, width, length }) => 1 / (2 / thickness + 2 / width + 2 / length),
})

export const modulusOfBall = formula({
  name: 'modulusOfBall',
  title: 'Modulus of the thickest section',
  says: 'a sixth of the thickness',
  symbol: 'M',
  unit: 'm',
  inputs: { thickness: { symbol: 'd', unit: 'm', valid: [2e-4, 0.1] } },
  source: 'volume over cooling area of a ball, and of a cube, geometry',
  holdsWhen: 'the lump stands out from what joins it',
  value: ({ thickness }) => thickness / 6,
})

export const waxOfTree = formula({
  name: 'waxOfTree',
  title: 'The tree, in wax',
  says: 'base with the tree, less the base alone',
  unit: 'kg',
  plainMass: true,
  inputs: {
    withTree: { unit: 'kg', valid: [0, 20] },
    base: { unit: 'kg', valid: [0, 20] },
  },
  source: 'two weighings on one scale',
  holdsWhen: 'the base was weighed clean, today',
  value: ({ withTree, base }) => withTree - base,
})

export const volumeAsCarved = formula({
  name: 'volumeAsCarved',
  title: 'Volume as drawn',
  says: 'the drawn solid, grown or shrunk with the drawing’s scale, plus its plan times what the cuts are off in height, plus its upright faces times what the outlines are off',
  symbol: 'V',
  unit: 'm3',
  inputs: {
    solid: { symbol: 'V₀', unit: 'm3', valid: [1e-9, 0.01] },
    plan: { symbol: 'A', unit: 'm2', valid: [0, 1] },
    rim: { symbol: 'F', unit: 'm2', valid: [0, 1] },
    scale: { symbol: 'ε', unit: '1', valid: [-0.2, 0.2] },
    line: { symbol: 'a', unit: 'm', valid: [-0.003, 0.003] },
    cut: { symbol: 'h', unit: 'm', valid: [-0.003, 0.003] },
    edge: { symbol: 'b', unit: 'm', valid: [-0.003, 0.003] },
  },
  source:
    'first order of how a solid moves with its faces, geometry; heights do not follow the drawing’s scale',
  holdsWhen: 'what is off is small beside the heights and widths drawn',
  value: ({ solid, plan, rim, scale, line, cut, edge }) =>
    solid * (1 + 2 * scale) + plan * cut + rim * (line + edge),
})

export const waxOverSize = formula({
  name: 'waxOverSize',
  title: 'Volume to carve',
  says: 'as drawn, over one less the shrink, three ways',
  symbol: 'V',
  unit: 'm3',
  inputs: {
    drawn: { symbol: 'V', unit: 'm3', valid: [1e-9, 0.01] },
    shrink: { symbol: 's', unit: '1', valid: [0, 0.05] },
  },
  source: 'geometry; the shrink as a share of the wax size, the same along every length',
  holdsWhen: 'the template is carved to as printed, over by the shrink',
  value: ({ drawn, shrink }) => drawn / (1 - shrink) ** 3,
})

export const lengthOverSize = formula({
  name: 'lengthOverSize',
  title: 'Size to carve',
  says: 'as drawn, over one less the shrink',
  symbol: 'L',
  unit: 'm',
  inputs: {
    drawn: { symbol: 'L', unit: 'm', valid: [0, 0.4] },
    shrink: { symbol: 's', unit: '1', valid: [0, 0.05] },
  },
  source: 'geometry; the shrink as a share of the wax size, the same along every length',
  holdsWhen: 'the template is carved to as printed, over by the shrink',
  value: ({ drawn, shrink }) => drawn / (1 - shrink),
})

export const volumeAsShrunk = formula({
  name: 'volumeAsShrunk',
  title: 'Volume of the casting',
  says: 'room of the wax, times one less the shrink, three ways',
  symbol: 'V',
  unit: 'm3',
  inputs: {
    wax: { symbol: 'V', unit: 'm3', valid: [1e-9, 0.01] },
    shrink: { symbol: 's', unit: '1', valid: [0, 0.05] },
  },
  source: 'geometry; the shrink as a share of the wax size, the same along every length',
  holdsWhen: 'the casting is sound and shrinks as the pieces did that the shrink was measured on',
  value: ({ wax, shrink }) => wax * (1 - shrink) ** 3,
})
