import {
  celsius,
  fitOf,
  lengthOf,
  type Quantity,
  say,
  temperatureOf,
  type Verdict,
  writeChance,
} from '../quantity/index.ts'
import type { FinishedPiece } from './finish-piece.ts'
import { PICKLE_TOO_HOT, THINNEST_FINISHED } from './usual.ts'

/** A seat is called sure enough when the stone drops in at least this often. */
const SURE_ENOUGH = 0.9

const seatVerdict = (piece: FinishedPiece): Verdict[] => {
  const { seat } = piece
  if (seat === undefined) return []
  const shared = {
    id: `finish.seat.${piece.id}`,
    part: 'finish',
    title: say`Seat for the ${seat.stone}`,
    where: `/pour/pieces/${piece.index}/seat/gap_mm`,
  } as const
  const carve = say`In wax, carve ${fitOf(seat.length)} by ${fitOf(seat.width)}. Chance that the stone drops in: ${writeChance(seat.dropsIn.value)}. The gap asked is ${fitOf(seat.gap)} a side and the room strays by ${fitOf(seat.spread)} either way.`
  if (seat.dropsIn.value >= SURE_ENOUGH) return [{ ...shared, verdict: 'pass', reason: carve, remedy: say`` }]
  return [
    {
      ...shared,
      verdict: 'check',
      reason: say`${carve} Too tight means reaming the seat; a soft stone can't be ground to fit.`,
      remedy: say`Ask for a gap of ${fitOf(seat.spread)} a side, or measure the stone and this shop's own shrink.`,
    },
  ]
}

const thinVerdict = (piece: FinishedPiece): Verdict[] => {
  const left = piece.thinnestLeft
  if (left === undefined) return []
  const shared = {
    id: `finish.thin.${piece.id}`,
    part: 'finish',
    title: say`Thinnest section of ${piece.name}`,
    where: `/pour/pieces/${piece.index}/source/calipers/thinnest_mm`,
  } as const
  if (left.low >= THINNEST_FINISHED)
    return [
      { ...shared, verdict: 'pass', reason: say`About ${left} is left after finishing.`, remedy: say`` },
    ]
  return [
    {
      ...shared,
      verdict: 'check',
      reason: say`About ${left} is left after finishing both faces, perhaps less. Under ${lengthOf(THINNEST_FINISHED)} files through.`,
      remedy: say`Leave that place thicker in the wax, or finish only its show face.`,
    },
  ]
}

const pickleVerdict = (bath: Quantity): Verdict =>
  bath.value > PICKLE_TOO_HOT
    ? {
        id: 'finish.pickle',
        part: 'finish',
        verdict: 'check',
        title: say`Pickle bath`,
        reason: say`The bath is set to ${bath}. That hot it fumes and spits.`,
        remedy: say`Keep it at ${temperatureOf(celsius(50))} to ${temperatureOf(celsius(60))}, warm and never boiling.`,
        where: '/shop/finishing/pickle_C',
      }
    : {
        id: 'finish.pickle',
        part: 'finish',
        verdict: 'pass',
        title: say`Pickle bath`,
        reason: say`Kept at ${bath}, warm and not boiling. No iron or steel in it, binding wire too: it plates copper on the work.`,
        remedy: say``,
      }

export const finishVerdicts = (pieces: readonly FinishedPiece[], bath: Quantity): Verdict[] => [
  ...pieces.flatMap(seatVerdict),
  ...pieces.flatMap(thinVerdict),
  pickleVerdict(bath),
]
