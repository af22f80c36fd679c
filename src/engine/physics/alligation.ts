/**
 * Alligation: blending metal of different fineness. Fineness in parts per thousand by mass of the metal that
 * is counted; masses in any one unit. Mass and fine metal are each conserved; loss is a separate step.
 */
export interface FineLot {
  readonly mass: number
  /** ppt */
  readonly fineness: number
}

/** Fineness [ppt] of karats (parts of 24). Marks round it: 14 karat is stamped 585. */
export const finenessOfKarat = (karat: number): number => (karat / 24) * 1000

/** Lots melted together. No lots give a fineness of NaN. */
export function blend(lots: readonly FineLot[]): FineLot {
  const mass = lots.reduce((sum, lot) => sum + lot.mass, 0)
  const fine = lots.reduce((sum, lot) => sum + lot.mass * lot.fineness, 0)
  return { mass, fineness: fine / mass }
}

/**
 * Mass to add to a lot so that the blend has fineness `to`: m (to - from)/(using - to).
 * @returns null where the metal at hand cannot bring it there (it lies on the wrong side, or is `to` itself)
 */
export function massToAdd(lot: FineLot, to: number, using: number): number | null {
  if (lot.fineness === to) return 0
  const mass = (lot.mass * (to - lot.fineness)) / (using - to)
  return mass > 0 && Number.isFinite(mass) ? mass : null
}

/**
 * Two metals blended to a mass of fineness `to`.
 * @returns their masses, or null where `to` does not lie between them
 */
export function shareOut(total: number, to: number, first: number, second: number) {
  const share = (to - second) / (first - second)
  if (!(share >= 0 && share <= 1)) return null
  return { first: total * share, second: total * (1 - share) }
}

/** The most of a poorer metal (solder) that a body takes while the whole stays at `least`; null if none does. */
export function mostOfPoorer(body: FineLot, poorer: number, least: number): number | null {
  return body.fineness >= least && poorer < least
    ? (body.mass * (body.fineness - least)) / (least - poorer)
    : null
}

/** What is left when only base metal is lost (oxidised copper): the fineness rises. */
export const afterBaseLoss = (lot: FineLot, lost: number): FineLot => ({
  mass: lot.mass - lost,
  fineness: (lot.mass * lot.fineness) / (lot.mass - lost),
})

/** Mass of the counted metal alone. */
export const fineMass = (lot: FineLot): number => (lot.mass * lot.fineness) / 1000
