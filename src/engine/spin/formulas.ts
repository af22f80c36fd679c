import { entryPressure, metalHead } from '../physics/flow.ts'
import { moment, outOfBalanceForce, spinEnergy, spinGravities, spinPressure } from '../physics/rotation.ts'
import { formula } from '../quantity/index.ts'

const MASS = { unit: 'kg', valid: [0, 50] } as const
const RADIUS = { unit: 'm', valid: [0, 2] } as const
const SPEED = { symbol: 'ω', unit: 'rad/s', valid: [0, 210] } as const
const TIME = { unit: 's', valid: [0, 1200] } as const

/** Where the middle of a flask lies that rests with its mouth at a known radius. */
export const flaskMiddle = formula({
  name: 'flaskMiddle',
  title: "To the flask's middle",
  says: 'from the pivot to the mouth of the flask, and half its height',
  unit: 'm',
  inputs: { mouth: RADIUS, height: RADIUS },
  source: 'geometry',
  holdsWhen: "the flask's weight is even along its height",
  value: ({ mouth, height }) => mouth + height / 2,
})

/** A place inside the flask, measured from the pivot. */
export const fromPivot = formula({
  name: 'fromPivot',
  title: 'From the pivot',
  says: 'from the pivot to the mouth of the flask, and the depth behind it',
  unit: 'm',
  inputs: { mouth: RADIUS, depth: RADIUS },
  source: 'geometry',
  value: ({ mouth, depth }) => mouth + depth,
})

export const halfWay = formula({
  name: 'halfWay',
  title: 'Metal half-way out',
  says: "midway between the metal's place in the crucible and its place in the flask",
  unit: 'm',
  inputs: { crucible: RADIUS, flask: RADIUS },
  source: 'common practice: the metal moves outward during the shot, so the arm is set for the middle of it',
  value: ({ crucible, flask }) => (crucible + flask) / 2,
})

export const burnedOutFlask = formula({
  name: 'burnedOutFlask',
  title: 'Flask as it comes out of the kiln',
  says: 'steel, and investment with its water burned out',
  unit: 'kg',
  plainMass: true,
  inputs: { steel: MASS, investment: MASS },
  source: 'mass is conserved',
  value: ({ steel, investment }) => steel + investment,
})

const ARM = {
  flask: MASS,
  flaskAt: RADIUS,
  cradle: MASS,
  cradleAt: RADIUS,
  metal: MASS,
  metalAt: RADIUS,
} as const

/** Moment of everything on the flask's side of the pivot. */
export const armMoment = formula({
  name: 'armMoment',
  title: 'Moment on the flask side',
  says: 'flask, cradle with crucible, and metal, each times its distance from the pivot',
  unit: 'kg m',
  inputs: ARM,
  source: 'statics: the sum of weight times distance',
  value: ({ flask, flaskAt, cradle, cradleAt, metal, metalAt }) =>
    moment([
      { mass: flask, radius: flaskAt },
      { mass: cradle, radius: cradleAt },
      { mass: metal, radius: metalAt },
    ]),
})

export const counterweightAt = formula({
  name: 'counterweightAt',
  title: 'Counterweight at',
  says: 'the moment on the flask side, over the counterweight',
  unit: 'm',
  inputs: { moment: { unit: 'kg m', valid: [0, 50] }, counterweight: { unit: 'kg', valid: [0.01, 50] } },
  source: 'statics: equal moments on both sides of the pivot',
  holdsWhen: 'the bare arm balances by itself',
  value: ({ moment, counterweight }) => moment / counterweight,
})

/** Weight that, lying at the flask's middle, pulls as the hot flask and the metal half-way out will. */
export const standInWeight = formula({
  name: 'standInWeight',
  title: 'Stand-in to balance cold with',
  says: "the burned-out flask, and the metal at its half-way place counted at the flask's middle",
  unit: 'kg',
  plainMass: true,
  inputs: { flask: MASS, flaskAt: { unit: 'm', valid: [0.01, 2] }, metal: MASS, metalAt: RADIUS },
  source: 'statics: equal moments about the pivot',
  holdsWhen: "it lies in the cradle with its middle where the flask's middle will be, crucible empty",
  value: ({ flask, flaskAt, metal, metalAt }) =>
    moment([
      { mass: flask, radius: flaskAt },
      { mass: metal, radius: metalAt },
    ]) / flaskAt,
})

export const momentLeft = formula({
  name: 'momentLeft',
  title: 'Moment left unbalanced',
  says: 'what the weight in question adds, times how far it is from where the arm was set for',
  unit: 'kg m',
  inputs: { mass: { unit: 'kg', valid: [-50, 50] }, offset: { unit: 'm', valid: [-2, 2] } },
  source: 'statics',
  value: ({ mass, offset }) => mass * offset,
})

export const pullAtSpeed = formula({
  name: 'pullAtSpeed',
  title: 'Out-of-balance pull at speed',
  says: 'the moment left unbalanced, times the speed squared',
  symbol: 'F',
  unit: 'N',
  inputs: { moment: { unit: 'kg m', valid: [-50, 50] }, speed: SPEED },
  source: 'rigid-body rotation; mechanics textbooks',
  value: ({ moment, speed }) => outOfBalanceForce(moment, speed),
})

/** A torsion spring stores energy as its turns squared, so the speed follows the turns, preload included. */
export const speedByTurns = formula({
  name: 'speedByTurns',
  title: 'Speed at release',
  says: "the speed timed at the usual turns, times this pour's turns over the usual ones, preload counted in both",
  symbol: 'ω',
  unit: 'rad/s',
  inputs: {
    timed: SPEED,
    turns: { unit: '1', valid: [0.25, 20] },
    usualTurns: { unit: '1', valid: [0.25, 20] },
    preload: { unit: '1', valid: [0, 20] },
  },
  source: 'a torsion spring stores half its stiffness times its turns squared; mechanics textbooks',
  holdsWhen: 'the arm was timed with about this load: a heavier flask turns slower on the same spring',
  value: ({ timed, turns, usualTurns, preload }) => (timed * (turns + preload)) / (usualTurns + preload),
})

/** Pressure that the turning metal puts on its far end; its free face is at the mouth of the flask. */
export const pressureAt = formula({
  name: 'pressureAt',
  title: 'Pressure at the farthest metal',
  says: 'half the density, times speed squared, times outer distance squared less inner distance squared',
  symbol: 'p',
  unit: 'Pa',
  inputs: {
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [2000, 20_000] },
    speed: SPEED,
    inner: { symbol: 'r1', ...RADIUS },
    outer: { symbol: 'r2', ...RADIUS },
  },
  source: 'rigid-body rotation of a liquid, integrated along the radius; fluid-mechanics textbooks',
  holdsWhen: 'the flask is full to its mouth and the metal turns with the arm; gravity and friction left out',
  value: ({ density, speed, inner, outer }) => spinPressure(density, speed, inner, outer),
})

export const gravitiesAt = formula({
  name: 'gravitiesAt',
  title: 'Pull on the metal, as times its own weight',
  says: 'speed squared times distance from the pivot, over the pull of the earth',
  unit: '1',
  inputs: { speed: SPEED, radius: RADIUS },
  source: 'rigid-body rotation; mechanics textbooks',
  fitted: true,
  value: ({ speed, radius }) => spinGravities(speed, radius),
})

/** The same pressure as a caster pictures it: how tall a column of the metal, standing still, would press as hard. */
export const headOfMetal = formula({
  name: 'headOfMetal',
  title: 'Pressure, as a standing column of metal',
  says: 'the pressure, over the density of the liquid metal times the pull of the earth',
  unit: 'm',
  inputs: {
    pressure: { symbol: 'p', unit: 'Pa', valid: [0, 5e6] },
    density: { symbol: 'ρ', unit: 'kg/m3', valid: [2000, 20_000] },
  },
  source: 'hydrostatics; fluid-mechanics textbooks',
  fitted: true,
  value: ({ pressure, density }) => metalHead(pressure, density),
})

/** Speed while the arm runs down: steady loss in proportion, a seventh left at the end of the coast-down. */
export const speedAfter = formula({
  name: 'speedAfter',
  title: 'Speed while it runs down',
  says: 'the speed at release, shrinking in proportion as time goes, to about a seventh over the coast-down',
  unit: 'rad/s',
  inputs: { speed: SPEED, time: TIME, coastDown: { unit: 's', valid: [1, 1200] } },
  source: 'drag that grows with speed gives an even decay; an estimate until this arm has been timed',
  holdsWhen: 'air and bearing drag only; dry friction stops it sooner towards the end',
  value: ({ speed, time, coastDown }) => speed * Math.exp((-2 * time) / coastDown),
})

export const energyInArm = formula({
  name: 'energyInArm',
  title: 'Energy in the arm',
  says: 'half of each weight times its distance squared times speed squared, counterweight included',
  symbol: 'E',
  unit: 'J',
  inputs: { ...ARM, counterweight: MASS, counterweightAt: RADIUS, speed: SPEED },
  source: 'rigid-body rotation; mechanics textbooks',
  holdsWhen: 'each weight is small beside its distance; the bare arm comes on top',
  value: ({ flask, flaskAt, cradle, cradleAt, metal, metalAt, counterweight, counterweightAt, speed }) =>
    spinEnergy(
      [
        { mass: flask, radius: flaskAt },
        { mass: cradle, radius: cradleAt },
        { mass: metal, radius: metalAt },
        { mass: counterweight, radius: counterweightAt },
      ],
      speed,
    ),
})

export const metalForMould = formula({
  name: 'metalForMould',
  title: 'Metal, less the mould it takes the place of',
  says: 'room of pieces, sprues and button, times how much denser the metal is than the burned-out mould',
  unit: 'kg',
  inputs: {
    body: { unit: 'm3', valid: [0, 0.01] },
    metal: { unit: 'kg/m3', valid: [2000, 22_000] },
    mould: { unit: 'kg/m3', valid: [500, 2500] },
  },
  source: 'a round flask full of mould would be in balance about its own axis',
  value: ({ body, metal, mould }) => body * (metal - mould),
})

export const pressureToEnter = formula({
  name: 'pressureToEnter',
  title: 'Pressure to enter the thinnest wall',
  says: 'four times the surface tension of the metal, over how thin the wall is',
  symbol: 'p',
  unit: 'Pa',
  inputs: {
    tension: { unit: 'N/m', valid: [0.3, 2] },
    thinnest: { unit: 'm', valid: [1e-4, 0.1] },
  },
  source: 'twice the tension over the radius of a round passage that metal does not wet; check P14',
  holdsWhen: 'the mould lets its gas out and the metal is still liquid; a flat passage needs half as much',
  value: ({ tension, thinnest }) => entryPressure(tension, thinnest / 2),
})
