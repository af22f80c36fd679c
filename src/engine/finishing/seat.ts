import type { Seat } from '../documents/index.ts'
import { normalCdf } from '../physics/normal.ts'
import { NINE_IN_TEN, type Quantity, reckon, root } from '../quantity/index.ts'
import type { CastPiece, FinishingRoots } from './cast-piece.ts'
import { waxSeat } from './formulas.ts'

export interface FinishedSeat {
  readonly stone: string
  readonly heatSensitive: boolean
  /** the seat to carve, along and across the stone */
  readonly length: Quantity
  readonly width: Quantity
  /** asked on each side of the stone when it is set */
  readonly gap: Quantity
  /** how far the room on each side strays from the asked gap, nine in ten: a gap of this much drops in 19 times of 20 */
  readonly spread: Quantity
  /** chance that the stone drops in without reaming the seat, in its tighter direction */
  readonly dropsIn: Quantity
}

/** A carver holds a seat to about this [m]; common practice with calipers and a bur. */
const CARVING_SPREAD = 0.00003

const SEAT_SOURCE = 'first-order spread (JCGM 100) of shrink, stone, polish and carving; normal distribution'

/**
 * The seat that a stone drops into after casting and polishing, and how surely. The wax is carved to one
 * size; the shrink, the stone's own spread, the polish and the carver's hand then move the room round it.
 */
export const fitSeat = (seat: Seat, cast: CastPiece, given: FinishingRoots): FinishedSeat => {
  const place = `/pour/pieces/${cast.index}/seat`
  const { roots, shrink } = given
  const stoneLength = roots.at(`${place}/length_mm`, `Length of the ${seat.name}`)
  const stoneWidth = roots.at(`${place}/width_mm`, `Width of the ${seat.name}`)
  const gap = roots.at(`${place}/gap_mm`, `Gap on each side of the ${seat.name}`)
  const polish = roots.at(`${place}/polish_mm`, 'What polishing opens the seat by, each side')
  const id = `finish.${cast.id}.seat`
  const length = waxSeat(
    { stone: stoneLength, gap, polish, shrink },
    { id: `${id}.length`, title: `Seat for the ${seat.name}, length in wax` },
  )
  const width = waxSeat(
    { stone: stoneWidth, gap, polish, shrink },
    { id: `${id}.width`, title: `Seat for the ${seat.name}, width in wax` },
  )
  const carving = root({
    id: `${id}.carving`,
    title: 'How closely a seat is carved',
    unit: 'm',
    value: CARVING_SPREAD,
    kind: 'usual',
    source: 'common practice, with calipers and a bur',
  })
  // Both sides together: the room is a difference of two sizes, so their spreads add in squares.
  const roomSpread = (wax: number, stone: Quantity, carved: number): number =>
    Math.hypot(wax * shrink.u, stone.u, 2 * polish.u, carved)
  const worst = (lengthInWax: number, widthInWax: number, carved: number): number =>
    Math.max(roomSpread(lengthInWax, stoneLength, carved), roomSpread(widthInWax, stoneWidth, carved))
  const inputs = { length, width, carving }
  const spread = reckon({
    id: `${id}.spread`,
    title: `Room round the ${seat.name}, either way of the gap`,
    unit: 'm',
    says: 'the spreads of shrink over the seat, of the stone, of the polish and of the carving, added in squares, for one side',
    source: SEAT_SOURCE,
    inputs,
    body: (at) => (NINE_IN_TEN * worst(at.length, at.width, at.carving)) / 2,
  })
  const dropsIn = reckon({
    id: `${id}.dropsIn`,
    title: `Chance that the ${seat.name} drops in`,
    unit: '1',
    says: 'the chance that the room on both sides, with its spread, stays above nothing',
    source: SEAT_SOURCE,
    inputs: { ...inputs, gap },
    body: (at) => normalCdf((2 * at.gap) / worst(at.length, at.width, at.carving)),
  })
  return { stone: seat.name, heatSensitive: seat.heatSensitive, length, width, gap, spread, dropsIn }
}
