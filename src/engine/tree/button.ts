import { freezingTimeOfBall, mouldLimitedTime } from '../physics/freezing-formulas.ts'
import { decide, type Quantity } from '../quantity/index.ts'
import {
  buttonModulus,
  coneVolume,
  metalInFeeds,
  modulusOfButton,
  timesLonger,
  volumeOfCone,
  widthOfCone,
} from './formulas.ts'
import type { TreeFeeds, TreeInput } from './plan-tree.ts'

/** The base's cone, in which the button stands. */
export interface Cone {
  readonly mouth: Quantity
  readonly neck: Quantity
  readonly coneDepth: Quantity
}

export interface ButtonPlan {
  readonly cone: Cone
  readonly depth: Quantity
  readonly wide: Quantity
  readonly volume: Quantity
  readonly mass: Quantity
  readonly modulus: Quantity
  readonly freezes: Quantity
  readonly margin?: Quantity
}

/** What the button has to make up for as the metal freezes. */
export interface ToFeed {
  /** all pieces, cast [kg] */
  readonly pieces: Quantity
  /** room of all sprues [m³] */
  readonly sprues: Quantity
  /** of its volume that the metal loses on freezing, 0 to 0.12 */
  readonly share: Quantity
}

/** A feed should outlast what it feeds by this much; what is above covers the laws' own difference. */
export const LONGER = 1.2
/** It should hold this many times what the metal draws in: a feeder gives up only part of itself. */
const HOLDS = 1.5
/** And so much more than the most that the metal may draw in, for what pieces and sprues may be more than planned. */
const HOLDS_MOST = 1.3
const STEP = 0.5e-3
const LEAST_DEPTH = 3e-3

export const coneOf = ({ roots, baseIndex }: TreeInput): Cone => {
  const at = `/shop/bases/${baseIndex}`
  return {
    mouth: roots.at(`${at}/mouthDiameter_mm`, 'Mouth of the base’s cone'),
    neck: roots.at(`${at}/neckDiameter_mm`, 'Neck of the base’s cone'),
    coneDepth: roots.at(`${at}/depth_mm`, 'Depth of the base’s cone'),
  }
}

const steppedUp = (least: number, most: number, enough: (depth: number) => boolean): number => {
  for (let size = Math.ceil(least / STEP - 1e-9) * STEP; size <= most; size += STEP)
    if (enough(size)) return Math.round(size / STEP) * STEP
  return most
}

/** The least depth that outlasts the main sprue and, where it is known what there is to feed, holds enough for it. */
const decideDepth = (
  { freezing, metalDensity: density }: TreeInput,
  law: Quantity,
  cone: Cone,
  stem: Quantity,
  toFeed: ToFeed | undefined,
): Quantity => {
  const times =
    toFeed === undefined ? HOLDS : Math.max(HOLDS, (HOLDS_MOST * toFeed.share.high) / toFeed.share.value)
  return decide<string>({
    id: 'tree.button.depth',
    title: 'Depth of the button',
    unit: 'm',
    says: `the least depth, by the half millimetre, at which the button stays liquid ${LONGER} times as long as the main sprue${toFeed === undefined ? '' : ` and holds ${times.toFixed(1)} times what the metal draws in as it freezes`}; at most the depth of the base’s cone`,
    source:
      'freezing time of a chunky body in plaster, shrinkage on freezing; both margins are common practice',
    inputs: { stem, ...cone, ...freezing, law, ...(toFeed && { ...toFeed, density }) },
    body: (n) => {
      const of = (name: string): number => n[name] ?? Number.NaN
      const narrow = of('neck')
      return steppedUp(LEAST_DEPTH, of('coneDepth'), (depth) => {
        const wide = narrow + ((of('mouth') - narrow) * depth) / of('coneDepth')
        const modulus = buttonModulus(wide, narrow, depth)
        const time =
          of('law') *
          mouldLimitedTime(
            modulus,
            2,
            3 * modulus,
            of('heat'),
            of('drop'),
            of('conductivity'),
            of('capacity'),
          )
        if (time < LONGER * of('stem')) return false
        if (toFeed === undefined) return true
        const room = coneVolume(wide, narrow, depth)
        return room >= times * of('share') * (of('pieces') / of('density') + of('sprues') + room)
      })
    },
  })
}

/**
 * The button in the base's cone: as deep as the caster asks, or as feeding asks.
 * @param toFeed  absent while pieces or sprues are not known
 */
export const planButton = (
  input: TreeInput,
  law: Quantity,
  stem: TreeFeeds['stem'],
  toFeed: ToFeed | undefined,
): ButtonPlan => {
  const { roots, freezing } = input
  const cone = coneOf(input)
  const { neck } = cone
  const asked = '/pour/tree/button/depth_mm'
  const depth = roots.has(asked)
    ? roots.at(asked, 'Depth of the button')
    : stem === undefined
      ? cone.coneDepth
      : decideDepth(input, law, cone, stem.freezes, toFeed)
  const wide = widthOfCone({ ...cone, depth }, { id: 'tree.button.wide' })
  const volume = volumeOfCone(
    { wide, narrow: neck, depth },
    { id: 'tree.button.volume', title: 'Room of the button' },
  )
  const modulus = modulusOfButton({ wide, narrow: neck, depth }, { id: 'tree.button.modulus' })
  const freezes = freezingTimeOfBall(
    { modulus, ...freezing, law },
    { id: 'tree.button.freezes', title: 'Button freezes in' },
  )
  return {
    cone,
    depth,
    wide,
    volume,
    mass: metalInFeeds({ volume, density: input.metalDensity }, { id: 'tree.button.mass', title: 'Button' }),
    modulus,
    freezes,
    margin:
      stem === undefined
        ? undefined
        : timesLonger(
            { feed: freezes, fed: stem.freezes },
            { id: 'tree.button.margin', title: 'Button against the main sprue' },
          ),
  }
}
