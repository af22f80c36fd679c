import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  addUp,
  type Caution,
  lengthOf,
  type Problem,
  type Quantity,
  type RoomAnswer,
  reckon,
  say,
  type Words,
} from '../quantity/index.ts'
import type { CastPiece } from './cast-piece.ts'
import { acidCautions, benchCautions, glueCaution, stoneDustCaution } from './cautions.ts'
import { type FinishedPiece, finishPiece } from './finish-piece.ts'
import { pickleSalt, pickleWater } from './formulas.ts'
import { usualFinishing } from './usual.ts'
import { finishVerdicts } from './verdicts.ts'

export interface FinishInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly alloyIndex: number
  readonly pieces: readonly CastPiece[]
  /** sprues and button, which come back as metal [kg] */
  readonly sproutMetal?: Quantity
  readonly charge?: Quantity
}

/** One step of finishing, in order. A step with heat has to come before any stone. */
export interface FinishStep {
  readonly name: string
  readonly words: Words
  readonly heat: boolean
}

export interface FinishAnswer {
  readonly pieces: readonly FinishedPiece[]
  readonly finishedMass?: Quantity
  readonly castMass?: Quantity
  readonly loss?: Quantity
  /** filings and dust that are caught, to be kept and refined */
  readonly filings?: Quantity
  /** sprues and button, cut off and cleaned */
  readonly metalBack?: Quantity
  /** finished metal over the charge */
  readonly yield?: Quantity
  readonly pickle: {
    readonly water?: Quantity
    readonly salt?: Quantity
    readonly temperature: Quantity
    readonly time: Quantity
  }
  readonly steps: readonly FinishStep[]
  readonly answer: RoomAnswer
}

const known = <T>(found: readonly (T | undefined)[]): readonly T[] | undefined =>
  found.length > 0 && found.every((one) => one !== undefined) ? (found as readonly T[]) : undefined

const stepsOf = (pieces: readonly FinishedPiece[], bath: Quantity, time: Quantity): FinishStep[] => {
  const seats = pieces.flatMap((piece) => (piece.seat === undefined ? [] : [piece.seat]))
  const steps: FinishStep[] = [
    {
      name: 'Pickle',
      heat: true,
      words: say`${time} at ${bath}, copper or plastic tongs, no iron or steel. Black is normal and comes off. Rinse, then neutralise in soda water.`,
    },
    {
      name: 'Saw off sprues',
      heat: false,
      words: say`Leave ${lengthOf(0.001)} to ${lengthOf(0.002)} standing and file it down; a saw that runs into the piece can't be undone.`,
    },
    {
      name: 'File and stone',
      heat: false,
      words: say`Edges and back first. Firestain lies under the surface: take it off before the last polish, or leave it and say so.`,
    },
    { name: 'Polish', heat: false, words: say`Wash between compounds. Pits show now, if there are any.` },
  ]
  if (seats.length > 0) {
    const sensitive = seats.filter((seat) => seat.heatSensitive).map((seat) => seat.stone)
    const after =
      sensitive.length > 0
        ? `Set cold, after all heat and pickle: ${sensitive.join(', ')} can't stand a flame, acid or the ultrasonic bath.`
        : 'After all soldering and pickling.'
    steps.push({
      name: 'Set the stone',
      heat: false,
      words: say`${after} The wall stands ${lengthOf(0.0005)} to ${lengthOf(0.001)} above the girdle and the floor stays at least ${lengthOf(0.0008)} thick. Raise a low stone on a shelf or bedding; leave a hole to push it out by. More than ${lengthOf(0.0003)} of room a side: burnish the wall down.`,
    })
  }
  return steps
}

const massProblems = (pieces: readonly FinishedPiece[]): Problem[] =>
  pieces.flatMap((piece) =>
    piece.castMass === undefined
      ? [
          {
            kind: 'cast-mass-missing',
            where: `/pour/pieces/${piece.index}/source`,
            what: say`${piece.name} has no weight yet, so neither has what is left of it after finishing.`,
            remedy: say`Weigh its wax, or give its volume or a sound model.`,
          },
        ]
      : [],
  )

/**
 * From the quench to the finished piece: sizes to carve so that they come out right, seats, the pickle bath,
 * what finishing takes and what comes back. Pieces without a weight still get their sizes.
 */
export const planFinish = (input: FinishInput): FinishAnswer => {
  const { roots, pour, alloyIndex } = input
  const alloy = `/shop/alloys/${alloyIndex}`
  const usual = usualFinishing()
  const given = {
    roots,
    shrink: roots.at(`${alloy}/castShrink`, 'Shrink from wax to metal'),
    density: roots.at(`${alloy}/density_g_cm3`, 'Density of the metal'),
    perFace: roots.at('/shop/finishing/perFace_mm', 'Taken off each finished face'),
    shareLost: usual.shareLost,
  }
  const pieces = input.pieces.flatMap((cast) => {
    const piece = pour.pieces[cast.index]
    return piece === undefined ? [] : [finishPiece(piece, cast, given)]
  })
  const masses = known(pieces.map((piece) => piece.finishedMassOfAll))
  const losses = known(pieces.map((piece) => piece.lossOfAll))
  const finishedMass =
    masses &&
    addUp(
      { id: 'finish.finishedMass', title: 'Finished, all together', says: 'every finished piece' },
      masses,
    )
  const loss =
    losses &&
    addUp(
      { id: 'finish.loss', title: 'Taken off, all together', says: 'what is taken off every piece' },
      losses,
    )
  const castMass =
    finishedMass && loss
      ? addUp(
          { id: 'finish.castMass', title: 'Castings, sprues off', says: 'finished, and what was taken off' },
          [finishedMass, loss],
        )
      : undefined
  const filings =
    loss &&
    reckon({
      id: 'finish.filings',
      title: 'Filings and dust to keep',
      unit: 'kg',
      says: 'what finishing takes off, less the share that is never recovered',
      source: 'common practice',
      inputs: { loss, gone: roots.at('/shop/prices/unrecoveredLoss', 'Share of the loss never recovered') },
      body: (at) => at.loss * (1 - at.gone),
    })
  const yieldOfCharge =
    finishedMass && input.charge
      ? reckon({
          id: 'finish.yield',
          title: 'Finished metal out of the charge',
          unit: '1',
          says: 'the finished pieces over the charge',
          source: 'common practice',
          inputs: { finishedMass, charge: input.charge },
          body: (at) => at.finishedMass / at.charge,
        })
      : undefined
  const work =
    castMass &&
    (input.sproutMetal
      ? addUp({ id: 'finish.inBath', title: 'Work in the bath', says: 'castings with sprues and button' }, [
          castMass,
          input.sproutMetal,
        ])
      : castMass)
  const temperature = roots.at('/shop/finishing/pickle_C', 'Pickle bath kept at')
  const water =
    work &&
    pickleWater(
      { metal: work, density: usual.pickleCrowding, least: usual.pickleLeast },
      { id: 'finish.pickleWater' },
    )
  const salt = water && pickleSalt({ water, strength: usual.pickleStrength }, { id: 'finish.pickleSalt' })
  const stones = pieces.some((piece) => piece.seat !== undefined)
  const cautions: Caution[] = [...acidCautions, ...benchCautions]
  if (stones) cautions.push(stoneDustCaution, glueCaution)
  return {
    pieces,
    finishedMass,
    castMass,
    loss,
    filings,
    metalBack: input.sproutMetal,
    yield: yieldOfCharge,
    pickle: { water, salt, temperature, time: usual.pickleTime },
    steps: stepsOf(pieces, temperature, usual.pickleTime),
    answer: { verdicts: finishVerdicts(pieces, temperature), cautions, problems: massProblems(pieces) },
  }
}
