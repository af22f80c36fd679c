import { type HeatMaterial, type Table, tableAt } from './curves.ts'

const knotsOf = (tables: readonly Table[]): number[] => {
  const all = tables.flatMap((table) => (typeof table === 'number' ? [] : table.map(([at]) => at)))
  return [...new Set(all)].sort((a, b) => a - b)
}

/** A table out of others, exact at all their knots. */
const combined = (tables: readonly Table[], of: (values: readonly number[]) => number): Table => {
  const at = (kelvins: number): number => of(tables.map((table) => tableAt(table, kelvins)))
  const knots = knotsOf(tables)
  return knots.length === 0 ? at(0) : knots.map((knot) => [knot, at(knot)] as const)
}

/**
 * A region too fine to be drawn, taken as one stuff: rounded bits of one material (air, metal, wax) strewn in
 * another. Heat and its reactions add up exactly; conductivity is Maxwell's for balls far apart.
 * @param share of the region's volume that is `strewn`, 0 to 1; Maxwell's figure is good to a few per cent up
 * to about 0.3 and a guide beyond, better the less the two conductivities differ
 * Source: Maxwell 1873, Treatise on electricity and magnetism, art. 314 (from memory).
 */
export const mixture = (around: HeatMaterial, strewn: HeatMaterial, share: number): HeatMaterial => {
  const [outer, inner] = [(1 - share) * around.density, share * strewn.density]
  const density = outer + inner
  const reactionsOf = (material: HeatMaterial, mass: number) =>
    (material.reactions ?? []).map((one) => ({ ...one, heat: (one.heat * mass) / density }))
  return {
    density,
    specificHeat: combined(
      [around.specificHeat, strewn.specificHeat],
      ([one = Number.NaN, other = Number.NaN]) => (outer * one + inner * other) / density,
    ),
    conductivity: combined(
      [around.conductivity, strewn.conductivity],
      ([one = Number.NaN, other = Number.NaN]) =>
        (one * (other + 2 * one + 2 * share * (other - one))) / (other + 2 * one - share * (other - one)),
    ),
    reactions: [...reactionsOf(around, outer), ...reactionsOf(strewn, inner)],
  }
}
