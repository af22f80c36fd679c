import { addUp, type Quantity, reckon, say, type Verdict } from '../quantity/index.ts'
import { fineMetal } from './formulas.ts'
import type { PriceInput } from './price-input.ts'

/** A client's own metal, in fine grams: what came in stands again in what goes out. */
export interface ClientsMetal {
  readonly charged?: Quantity
  readonly inPieces?: Quantity
  /** sprues and button */
  readonly back?: Quantity
  /** filings and dust that are caught */
  readonly filings?: Quantity
  /** filings and dust that are never recovered */
  readonly lost?: Quantity
  /** what the other entries leave open: metal kept by the crucible, splash, weighing */
  readonly unexplained?: Quantity
}

/** Fine metal in and out, on an account of its own; it is never billed and never mixed with the shop's. */
export const keepAccount = (input: PriceInput, fineShare: Quantity): ClientsMetal => {
  const { roots, charge, castMassTotal, finishedMassTotal, metalBack } = input
  const fine = (mass: Quantity | undefined, name: string, title: string): Quantity | undefined =>
    mass && fineMetal({ mass, share: fineShare }, { id: `price.fine.${name}`, title })
  const takenOff =
    castMassTotal &&
    finishedMassTotal &&
    reckon({
      id: 'price.takenOff',
      title: 'Taken off in finishing',
      unit: 'kg',
      says: 'the castings less the finished pieces',
      source: 'mass is conserved',
      inputs: { cast: castMassTotal, finished: finishedMassTotal },
      body: (at) => at.cast - at.finished,
    })
  const gone = roots.at('/shop/prices/unrecoveredLoss', 'Share of the loss never recovered')
  const part = (name: string, title: string, says: string, share: (gone: number) => number) =>
    takenOff &&
    reckon({
      id: `price.fine.${name}`,
      title,
      unit: 'kg',
      says,
      source: 'mass balance',
      inputs: { takenOff, fineShare, gone },
      body: (at) => at.takenOff * at.fineShare * share(at.gone),
    })
  const charged = fine(charge, 'charged', 'Fine metal in the charge')
  const inPieces = fine(finishedMassTotal, 'inPieces', 'Fine metal in the finished pieces')
  const back = fine(metalBack, 'back', 'Fine metal in sprues and button')
  const filings = part(
    'filings',
    'Fine metal in the filings kept',
    'what is taken off, times the fineness, less what is never recovered',
    (lost) => 1 - lost,
  )
  const lost = part(
    'lost',
    'Fine metal never recovered',
    'what is taken off, times the fineness, times the share never recovered',
    (share) => share,
  )
  const out = [inPieces, back, filings, lost]
  const all = out.every((entry) => entry !== undefined) ? (out as Quantity[]) : undefined
  const accounted =
    all &&
    addUp(
      { id: 'price.fine.accounted', title: 'Fine metal accounted for', says: 'every entry out', unit: 'kg' },
      all,
    )
  const unexplained =
    charged &&
    accounted &&
    reckon({
      id: 'price.fine.unexplained',
      title: 'Fine metal left in crucible and splash',
      unit: 'kg',
      says: 'the fine metal charged, less all that is accounted for',
      source: 'mass is conserved',
      inputs: { charged, accounted },
      body: (at) => at.charged - at.accounted,
    })
  return { charged, inPieces, back, filings, lost, unexplained }
}

export const clientsMetalVerdict = (account: ClientsMetal | undefined): Verdict => ({
  id: 'price.clientsMetal',
  part: 'price',
  verdict: 'check',
  title: say`The client's own metal`,
  reason:
    account?.charged && account.inPieces
      ? say`Kept apart and counted fine: ${account.charged} go in, ${account.inPieces} leave in the pieces. None of it is billed.`
      : say`Kept apart, counted in fine grams, and not billed.`,
  remedy: say`Agree in writing who keeps sprues, button, filings and any difference in fineness; have metal of unknown make-up assayed first.`,
  where: '/pour/price/clientsMetal',
})
