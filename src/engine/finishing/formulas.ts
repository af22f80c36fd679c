import { patternLength } from '../physics/density.ts'
import { formula } from '../quantity/index.ts'

const SIZE = { unit: 'm', valid: [0, 0.4] } as const
const FACE = { unit: 'm', valid: [0, 0.002] } as const
const SHRINK = { symbol: 's', unit: '1', valid: [0, 0.05] } as const
const FACES = { symbol: 'n', unit: '1', valid: [0, 2] } as const

/** How large an outside size stands in the wax: it loses metal at each finished face, and shrinks. */
export const waxSize = formula({
  name: 'waxSize',
  title: 'Size to carve in wax',
  says: 'the finished size, and what filing and polishing take off each finished face, over one less the shrink',
  unit: 'm',
  inputs: { finished: SIZE, faces: FACES, perFace: FACE, shrink: SHRINK },
  source: 'common practice; the shrink as a share of the wax size',
  holdsWhen: 'the shrink is the same along this length as on the pieces it was measured on',
  value: ({ finished, faces, perFace, shrink }) => patternLength(finished + faces * perFace, [-shrink]),
})

/** How large a hole, slot or bore stands in the wax: polishing opens it, shrinking closes it. */
export const waxOpening = formula({
  name: 'waxOpening',
  title: 'Opening to carve in wax',
  says: 'the finished opening, less what polishing opens it by at each finished face, over one less the shrink',
  unit: 'm',
  inputs: { finished: SIZE, faces: FACES, perFace: FACE, shrink: SHRINK },
  source: 'common practice; an opening shrinks with the metal around it',
  holdsWhen: 'the investment core is as free to move as the pieces the shrink was measured on',
  value: ({ finished, faces, perFace, shrink }) => patternLength(finished - faces * perFace, [-shrink]),
})

/** The finished size that a wax size leads to. */
export const finishedSize = formula({
  name: 'finishedSize',
  title: 'Finished size',
  says: 'the wax size times one less the shrink, less what filing and polishing take off each finished face',
  unit: 'm',
  inputs: { wax: SIZE, faces: FACES, perFace: FACE, shrink: SHRINK },
  source: 'common practice; the shrink as a share of the wax size',
  value: ({ wax, faces, perFace, shrink }) => wax * (1 - shrink) - faces * perFace,
})

/** How large a stone's seat stands in the wax. */
export const waxSeat = formula({
  name: 'waxSeat',
  title: 'Seat to carve in wax',
  says: 'the stone, with the gap on both sides, less what polishing opens the seat by on both sides, over one less the shrink',
  unit: 'm',
  inputs: { stone: SIZE, gap: FACE, polish: FACE, shrink: SHRINK },
  source: 'common practice: the stone must drop in after shrinking and polishing',
  value: ({ stone, gap, polish, shrink }) => patternLength(stone + 2 * gap - 2 * polish, [-shrink]),
})

/** Metal that files, papers and wheels take off a surface. */
export const lossByArea = formula({
  name: 'lossByArea',
  title: 'Metal taken off in finishing',
  says: 'the surface, times what is taken off a face, times the density of the metal',
  unit: 'kg',
  inputs: {
    area: { symbol: 'A', unit: 'm2', valid: [0, 1] },
    perFace: FACE,
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [2000, 22_000] },
  },
  source: 'common practice: surface times stock removed',
  holdsWhen: 'the stock is thin beside the piece, and every face is finished alike',
  value: ({ area, perFace, density }) => area * perFace * density,
})

/** Metal taken off when the surface is not known: a share of the casting. */
export const lossByShare = formula({
  name: 'lossByShare',
  title: 'Metal taken off in finishing',
  says: 'the casting, times the share of it that finishing usually takes',
  unit: 'kg',
  inputs: {
    castMass: { unit: 'kg', valid: [0, 20] },
    share: { unit: '1', valid: [0, 1] },
  },
  source: 'common practice, where no surface has been measured',
  value: ({ castMass, share }) => castMass * share,
})

/** Metal taken off where some was left on for the file besides. */
export const lossWithFile = formula({
  name: 'lossWithFile',
  title: 'Metal taken off in finishing',
  says: 'what finishing takes off every face, and what was left round the outline for the file, times the density',
  unit: 'kg',
  inputs: {
    loss: { unit: 'kg', valid: [0, 20] },
    filed: { symbol: 'V', unit: 'm3', valid: [0, 0.01] },
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [2000, 22_000] },
  },
  source: 'mass is conserved',
  value: ({ loss, filed, density }) => loss + filed * density,
})

/** What goes off each side of an outside size on whose rim some metal was left for the file. */
export const takenAtRim = formula({
  name: 'takenAtRim',
  title: 'Taken off at the rim',
  says: 'what was left for the file, and what finishing takes off every face',
  unit: 'm',
  inputs: { left: FACE, perFace: FACE },
  source: 'lengths add',
  value: ({ left, perFace }) => left + perFace,
})

export const massLeft = formula({
  name: 'massLeft',
  title: 'Finished weight',
  says: 'the casting, less what finishing takes off',
  unit: 'kg',
  inputs: {
    castMass: { unit: 'kg', valid: [0, 20] },
    loss: { unit: 'kg', valid: [0, 20] },
  },
  source: 'mass is conserved',
  value: ({ castMass, loss }) => castMass - loss,
})

export const massOfSeveral = formula({
  name: 'massOfSeveral',
  title: 'All of them',
  says: 'one of them, times how many',
  unit: 'kg',
  inputs: { one: { unit: 'kg', valid: [0, 20] }, count: { unit: '1', valid: [1, 200] } },
  source: 'mass is conserved',
  value: ({ one, count }) => one * count,
})

/** What is left of the thinnest wax section after shrinking and finishing both its faces. */
export const sectionLeft = formula({
  name: 'sectionLeft',
  title: 'Thinnest section when finished',
  says: 'the thinnest wax, times one less the shrink, less what finishing takes off both faces',
  unit: 'm',
  inputs: { thinnest: SIZE, perFace: FACE, shrink: SHRINK },
  source: 'common practice',
  value: ({ thinnest, perFace, shrink }) => thinnest * (1 - shrink) - 2 * perFace,
})

/** Water that covers the work with room to turn it: never less than the least bath. */
export const pickleWater = formula({
  name: 'pickleWater',
  title: 'Water in the pickle bath',
  says: 'the room that a kilogram of castings wants, times their weight, and never less than the least bath',
  unit: 'm3 water',
  inputs: {
    metal: { unit: 'kg', valid: [0, 20] },
    density: { unit: 'kg/m3', valid: [1, 1000] },
    least: { unit: 'm3 water', valid: [0, 0.1] },
  },
  source: 'common practice: enough to cover the work',
  value: ({ metal, density, least }) => Math.max(metal / density, least),
})

export const pickleSalt = formula({
  name: 'pickleSalt',
  title: 'Acid salt into the water',
  says: 'the water, times the salt that a litre takes',
  unit: 'kg',
  plainMass: true,
  inputs: {
    water: { unit: 'm3 water', valid: [0, 1] },
    strength: { unit: 'kg/m3', valid: [0, 500] },
  },
  source: 'common practice; the maker of the pickle says how much',
  value: ({ water, strength }) => water * strength,
})
