import type { Roots } from '../documents/index.ts'
import { type Quantity, reckon } from '../quantity/index.ts'
import {
  armMoment,
  burnedOutFlask,
  counterweightAt,
  energyInArm,
  flaskMiddle,
  fromPivot,
  halfWay,
  momentLeft,
  pullAtSpeed,
  standInWeight,
} from './formulas.ts'

export interface BalanceInput {
  readonly roots: Roots
  readonly machine: string
  readonly flaskSteel: Quantity
  readonly dryInvestment: Quantity
  readonly wetFlask?: Quantity
  readonly charge: Quantity
  readonly flaskHeight: Quantity
  /** from the flask's mouth to the middle of the metal in it */
  readonly metalCentroid: Quantity
  readonly speed: Quantity
  /** where the waxes are placed: what the metal adds to the mould, and how far its middle lies off the flask's axis */
  readonly offAxis?: { readonly mass: Quantity; readonly offset: Quantity }
}

export interface Balance {
  readonly flask: Quantity
  readonly flaskAt: Quantity
  readonly metalInCrucibleAt: Quantity
  readonly metalHalfWayAt: Quantity
  readonly metalInFlaskAt: Quantity
  readonly moments: { readonly start: Quantity; readonly halfWay: Quantity; readonly end: Quantity }
  readonly counterweight: Quantity
  /** where to set it, for the metal half-way out */
  readonly counterweightAt: Quantity
  /** where it would have to be with the metal still in the crucible, and all of it in the flask */
  readonly counterweightSpan: { readonly start: Quantity; readonly end: Quantity }
  readonly reach: { readonly least: Quantity; readonly most: Quantity }
  readonly standIn: Quantity
  /** the metal's part of the stand-in, counted at the flask's middle */
  readonly metalPart: Quantity
  readonly pull: {
    readonly start: Quantity
    readonly end: Quantity
    readonly ifWet?: Quantity
    readonly sideways?: Quantity
  }
  readonly energy: Quantity
}

const less = (id: string, title: string, from: Quantity, take: Quantity): Quantity =>
  reckon({
    id,
    title,
    unit: from.unit,
    says: 'the one less the other',
    source: 'a difference',
    inputs: { from, take },
    body: (at) => at.from - at.take,
  })

/** Moments about the pivot while the metal travels, and what balances the half-way place. */
export const balanceArm = (input: BalanceInput): Balance => {
  const { roots, machine, charge, speed } = input
  const mouth = roots.at(`${machine}/flaskEnd_mm`, "To the flask's mouth")
  const cradle = roots.at(`${machine}/cradle_g`, 'Cradle with empty crucible', { plainMass: true })
  const cradleAt = roots.at(`${machine}/cradleAt_mm`, 'Middle of cradle and crucible')
  const inCrucible = roots.at(`${machine}/crucibleAt_mm`, 'To the metal in the crucible')
  const counterweight = roots.at(`${machine}/counterweight_g`, 'Counterweight', { plainMass: true })
  const flask = burnedOutFlask(
    { steel: input.flaskSteel, investment: input.dryInvestment },
    { id: 'spin.flask' },
  )
  const flaskAt = flaskMiddle({ mouth, height: input.flaskHeight }, { id: 'spin.flaskAt' })
  const inFlask = fromPivot(
    { mouth, depth: input.metalCentroid },
    { id: 'spin.metalInFlaskAt', title: 'To the metal in the flask' },
  )
  const half = halfWay({ crucible: inCrucible, flask: inFlask }, { id: 'spin.metalHalfWayAt' })
  const momentWith = (metalAt: Quantity, name: string, title: string): Quantity =>
    armMoment(
      { flask, flaskAt, cradle, cradleAt, metal: charge, metalAt },
      { id: `spin.moment.${name}`, title },
    )
  const moments = {
    start: momentWith(inCrucible, 'start', 'Moment with the metal in the crucible'),
    halfWay: momentWith(half, 'halfWay', 'Moment with the metal half-way'),
    end: momentWith(inFlask, 'end', 'Moment with the metal in the flask'),
  }
  const weightFor = (of: Quantity, id: string, title: string): Quantity =>
    counterweightAt({ moment: of, counterweight }, { id, title })
  const setAt = weightFor(moments.halfWay, 'spin.counterweightAt', 'Counterweight at')
  const standIn = standInWeight({ flask, flaskAt, metal: charge, metalAt: half }, { id: 'spin.standIn' })
  const pullFrom = (mass: Quantity, offset: Quantity, name: string, title: string): Quantity =>
    pullAtSpeed(
      { moment: momentLeft({ mass, offset }, { id: `spin.left.${name}` }), speed },
      { id: `spin.pull.${name}`, title },
    )
  const { wetFlask, offAxis } = input
  return {
    flask,
    flaskAt,
    metalInCrucibleAt: inCrucible,
    metalHalfWayAt: half,
    metalInFlaskAt: inFlask,
    moments,
    counterweight,
    counterweightAt: setAt,
    counterweightSpan: {
      start: weightFor(moments.start, 'spin.counterweightAtStart', 'Counterweight, metal in the crucible'),
      end: weightFor(moments.end, 'spin.counterweightAtEnd', 'Counterweight, metal in the flask'),
    },
    reach: {
      least: roots.at(`${machine}/counterweightLeast_mm`, 'Counterweight reaches in to'),
      most: roots.at(`${machine}/counterweightMost_mm`, 'Counterweight reaches out to'),
    },
    standIn,
    metalPart: less('spin.standInMetal', "Metal half-way out, counted at the flask's middle", standIn, flask),
    pull: {
      start: pullFrom(
        charge,
        less('spin.offset.start', 'From the crucible to half-way', half, inCrucible),
        'start',
        'Left unbalanced as the shot starts',
      ),
      end: pullFrom(
        charge,
        less('spin.offset.end', 'From half-way to the flask', inFlask, half),
        'end',
        'Left unbalanced as the shot ends',
      ),
      ifWet:
        wetFlask &&
        pullFrom(
          less('spin.water', 'Water and wax that burn out', wetFlask, flask),
          flaskAt,
          'ifWet',
          'Left unbalanced if set with the wet flask',
        ),
      sideways:
        offAxis && pullFrom(offAxis.mass, offAxis.offset, 'sideways', 'Sideways by how the waxes stand'),
    },
    energy: energyInArm(
      {
        flask,
        flaskAt,
        cradle,
        cradleAt,
        metal: charge,
        metalAt: inFlask,
        counterweight,
        counterweightAt: setAt,
        speed,
      },
      { id: 'spin.energy' },
    ),
  }
}
