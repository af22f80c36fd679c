import type { Piece, Roots } from '../documents/index.ts'
import { type Quantity, root } from '../quantity/index.ts'
import type { CastPiece, FinishingRoots } from './cast-piece.ts'
import {
  finishedSize,
  lossByArea,
  lossByShare,
  lossWithFile,
  massLeft,
  massOfSeveral,
  sectionLeft,
  takenAtRim,
  waxOpening,
  waxSize,
} from './formulas.ts'
import { type FinishedSeat, fitSeat } from './seat.ts'

export interface FinishedLength {
  readonly name: string
  readonly opening: boolean
  readonly finished: Quantity
  readonly wax: Quantity
}

export interface FinishedPiece {
  readonly id: string
  readonly name: string
  readonly quantity: number
  readonly index: number
  readonly castMass?: Quantity
  /** taken off one piece */
  readonly loss?: Quantity
  readonly lossFrom?: 'surface' | 'usual share'
  readonly finishedMass?: Quantity
  readonly castMassOfAll?: Quantity
  readonly lossOfAll?: Quantity
  readonly finishedMassOfAll?: Quantity
  readonly lengths: readonly FinishedLength[]
  /** outside sizes when finished, both faces of each taken down */
  readonly sizes?: { readonly length: Quantity; readonly width: Quantity; readonly height: Quantity }
  readonly thinnestLeft?: Quantity
  readonly seat?: FinishedSeat
}

const caliperSizes = (piece: Piece, cast: CastPiece, roots: Roots): CastPiece['extents'] => {
  if (piece.source.calipers === undefined || !('length_mm' in piece.source.calipers)) return undefined
  const place = `/pour/pieces/${cast.index}/source/calipers`
  return {
    length: roots.at(`${place}/length_mm`, `Length of the wax, ${cast.name}`),
    width: roots.at(`${place}/width_mm`, `Width of the wax, ${cast.name}`),
    height: roots.at(`${place}/height_mm`, `Height of the wax, ${cast.name}`),
  }
}

const planSizes = (piece: Piece, cast: CastPiece, given: FinishingRoots): FinishedPiece['sizes'] => {
  const extents = cast.extents ?? caliperSizes(piece, cast, given.roots)
  if (extents === undefined) return undefined
  const faces = root({
    id: `finish.${cast.id}.faces`,
    title: 'Faces of an outside size',
    unit: '1',
    value: 2,
    kind: 'usual',
    source: 'an outside size ends in two faces',
  })
  const filing = `/pour/pieces/${cast.index}/source/heights/filing_mm`
  const atRim = given.roots.has(filing)
    ? takenAtRim(
        {
          left: given.roots.at(filing, `Left on the outline of ${cast.name} for the file`),
          perFace: given.perFace,
        },
        { id: `finish.${cast.id}.atRim`, title: `Taken off the outline of ${cast.name}` },
      )
    : given.perFace
  const size = (wax: Quantity, name: string, perFace = atRim): Quantity =>
    finishedSize(
      { wax, faces, perFace, shrink: given.shrink },
      { id: `finish.${cast.id}.${name}`, title: `${cast.name}, ${name} when finished` },
    )
  return {
    length: size(extents.length, 'length'),
    width: size(extents.width, 'width'),
    height: size(extents.height, 'height', given.perFace),
  }
}

const planLengths = (piece: Piece, cast: CastPiece, given: FinishingRoots): FinishedLength[] =>
  (piece.lengths ?? []).map((length, at) => {
    const place = `/pour/pieces/${cast.index}/lengths/${at}`
    const opening = length.hole === true
    const finished = given.roots.at(`${place}/finished_mm`, `${cast.name}, ${length.name} when finished`)
    const wax = (opening ? waxOpening : waxSize)(
      {
        finished,
        faces: given.roots.at(`${place}/faces`, `Faces of it that are finished`),
        perFace: given.perFace,
        shrink: given.shrink,
      },
      { id: `finish.${cast.id}.length${at}`, title: `${cast.name}, ${length.name} in wax` },
    )
    return { name: length.name, opening, finished, wax }
  })

const planThinnest = (cast: CastPiece, given: FinishingRoots): Quantity | undefined => {
  const path = `/pour/pieces/${cast.index}/source/calipers/thinnest_mm`
  if (!given.roots.has(path)) return undefined
  return sectionLeft(
    {
      thinnest: given.roots.at(path, `Thinnest section of the wax, ${cast.name}`),
      perFace: given.perFace,
      shrink: given.shrink,
    },
    { id: `finish.${cast.id}.thinnest`, title: `${cast.name}, thinnest section when finished` },
  )
}

const planMass = (cast: CastPiece, given: FinishingRoots): Partial<FinishedPiece> => {
  const { castMass, area, id, name } = cast
  if (castMass === undefined) return {}
  const polished =
    area === undefined
      ? lossByShare(
          { castMass, share: given.shareLost },
          { id: `finish.${id}.loss`, title: `Taken off ${name}` },
        )
      : lossByArea(
          { area, perFace: given.perFace, density: given.density },
          { id: `finish.${id}.loss`, title: `Taken off ${name}` },
        )
  const loss =
    cast.filed === undefined
      ? polished
      : lossWithFile(
          { loss: polished, filed: cast.filed, density: given.density },
          { id: `finish.${id}.lossWithFile`, title: `Taken off ${name}, the file's share with it` },
        )
  const finishedMass = massLeft({ castMass, loss }, { id: `finish.${id}.mass`, title: `${name}, finished` })
  const count = given.roots.at(`/pour/pieces/${cast.index}/quantity`, `How many of ${name}`)
  return {
    loss,
    lossFrom: area === undefined ? 'usual share' : 'surface',
    finishedMass,
    castMassOfAll: massOfSeveral(
      { one: castMass, count },
      { id: `finish.${id}.castOfAll`, title: `All of ${name}, as cast` },
    ),
    lossOfAll: massOfSeveral(
      { one: loss, count },
      { id: `finish.${id}.lossOfAll`, title: `Taken off all of ${name}` },
    ),
    finishedMassOfAll: massOfSeveral(
      { one: finishedMass, count },
      { id: `finish.${id}.massOfAll`, title: `All of ${name}, finished` },
    ),
  }
}

/** One piece from the pickle to the last polish. What it has no numbers for stays undefined. */
export const finishPiece = (piece: Piece, cast: CastPiece, given: FinishingRoots): FinishedPiece => ({
  id: cast.id,
  name: cast.name,
  quantity: cast.quantity,
  index: cast.index,
  castMass: cast.castMass,
  ...planMass(cast, given),
  lengths: planLengths(piece, cast, given),
  sizes: planSizes(piece, cast, given),
  thinnestLeft: planThinnest(cast, given),
  seat: piece.seat === undefined ? undefined : fitSeat(piece.seat, cast, given),
})
