import type { Plan } from '../engine/plan.ts'
import { lengthOf, type UnitChoice, writeFigure, writeNumber } from '../engine/quantity/index.ts'

export interface PlacesRow {
  readonly number: string
  /** the wax by its letter, and by its copy where there are several */
  readonly wax: string
  readonly angle: string
  readonly up: string
  readonly tilt: string
  readonly long: string
  readonly across: string
}

/** What stands beside the drawing on the side that says where each wax goes. */
export interface Places {
  readonly head: readonly PlacesRow[]
  readonly rows: readonly PlacesRow[]
  readonly notes: readonly string[]
}

const MM = 1e-3

/** A letter as the run sheet's head gives it, with the copy: B 2. */
export const letterOf = (plan: Plan, piece: string, copy: number): string => {
  const found = plan.pieces.pieces.find(({ id }) => id === piece)
  return found === undefined ? piece : found.quantity > 1 ? `${found.letter}\u00a0${copy}` : found.letter
}

const cutName = (name: string): { piece: string; copy: number } => {
  const cut = name.lastIndexOf('/')
  return { piece: name.slice(0, cut), copy: Number(name.slice(cut + 1)) }
}

/** What a plan's arrangement says to the hand that builds the tree. Pure. */
export const layPlaces = (
  plan: Plan,
  { measured, tightest }: NonNullable<Plan['arranged']>,
  units: UnitChoice,
): Places => {
  const length = (mm: number): string =>
    writeNumber({ ...lengthOf(mm * MM), decimals: units.length === 'mm' ? 1 : 2 }, units)
  const withUnit = (mm: number): string =>
    writeFigure({ ...lengthOf(mm * MM), decimals: units.length === 'mm' ? 1 : 2 }, units)
  // finer, so that what is needed never looks rounded down
  const finely = (mm: number): string =>
    writeFigure({ ...lengthOf(mm * MM), decimals: units.length === 'mm' ? 2 : 3 }, units)
  const base = plan.shop.bases.find(({ id }) => id === plan.pour.tree.base) ?? plan.shop.bases[0]
  const stemLong = measured.stem.top_mm - (base?.depth_mm ?? 0)
  const named = (place: string): string => {
    if (place === 'wall') return 'the wall'
    if (place === 'top') return 'the top'
    if (place === 'stem') return 'the main sprue'
    if (place === 'base') return 'the base'
    const { piece, copy } = cutName(place)
    return piece === 'sprue' ? `sprue ${copy}` : letterOf(plan, piece, copy)
  }
  return {
    head: [
      { number: '', wax: 'Wax', angle: 'Round', up: 'Up', tilt: 'Tilt', long: 'Long', across: 'Across' },
      {
        number: '',
        wax: '',
        angle: '°',
        up: units.length,
        tilt: '°',
        long: units.length,
        across: units.length,
      },
    ],
    rows: measured.sprues.map((sprue): PlacesRow => {
      const { piece, copy } = cutName(sprue.piece)
      return {
        number: String(sprue.number),
        wax: letterOf(plan, piece, copy),
        angle: sprue.angle.toFixed(0),
        up: length(sprue.height),
        tilt: sprue.tilt.toFixed(0),
        long: length(sprue.length),
        across: length(sprue.diameter),
      }
    }),
    notes: [
      `Main sprue ${withUnit(measured.stem.diameter_mm)} across, ${withUnit(stemLong)} from the base’s cone to its round end.`,
      ...measured.sprues
        .filter(({ diameter, stemEnd }) => Math.abs(diameter - stemEnd) > 0.05)
        .map(
          ({ number, diameter, stemEnd }) =>
            `Sprue ${number} is tapered: ${withUnit(diameter)} at the wax, ${withUnit(stemEnd)} at the main sprue.`,
        ),
      'Round: from the mark on the base, against the clock, seen from above.',
      'Up: along the main sprue from the cone to where the middle lines meet.',
      'Tilt: above level. Long: from the wax to the main sprue.',
      ...(tightest === null
        ? []
        : [
            `Tightest: ${tightest.between.map(named).join(' to ')}, ${finely(tightest.distance_mm)}; ${finely(tightest.needed_mm)} is needed. Measure it on the tree.`,
          ]),
    ],
  }
}
