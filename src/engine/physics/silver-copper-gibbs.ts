/**
 * Gibbs energy of the silver-copper solutions, J per mole of atoms, and what follows from it by
 * differentiation. `x` is the mole fraction of copper, temperatures in kelvin.
 *
 * Pure elements: SGTE data for pure elements (Dinsdale 1991), referred to the elements at 298.15 K.
 * Interactions: Hayes, Lukas, Effenberg and Petzow 1986, Redlich-Kister form with the order Ag, Cu, so that
 * the odd term carries (x_Ag - x_Cu). Valid from 298 K to about 1360 K; the liquid functions are carried
 * unchanged above each metal's melting point, where their heat capacity runs about 3 % high.
 */
export const GAS_CONSTANT = 8.31451 // J/molK, the value the assessment was made with
export const SILVER_MOLAR_MASS = 0.1078682 // kg/mol, IUPAC
export const COPPER_MOLAR_MASS = 0.063546 // kg/mol, IUPAC

export type SolutionPhase = 'liquid' | 'solid'

/** G = a + bT + cT ln T + dT² + eT³ + f/T + gT⁷ */
type PureFunction = readonly [a: number, b: number, c: number, d: number, e: number, f: number, g: number]

const SILVER: Record<SolutionPhase, PureFunction> = {
  solid: [-7209.512, 118.202013, -23.8463314, -0.001790585, -3.98587e-7, -12011, 0],
  liquid: [
    -7209.512 + 11025.076,
    118.202013 - 8.891021,
    -23.8463314,
    -0.001790585,
    -3.98587e-7,
    -12011,
    -1.034e-20,
  ],
}

const COPPER: Record<SolutionPhase, PureFunction> = {
  solid: [-7770.458, 130.485235, -24.112392, -0.00265684, 1.29223e-7, 52478, 0],
  liquid: [
    -7770.458 + 12964.736,
    130.485235 - 9.511904,
    -24.112392,
    -0.00265684,
    1.29223e-7,
    52478,
    -5.849e-21,
  ],
}

/** Redlich-Kister terms [L0, its slope with T, L1, its slope with T]. */
const INTERACTION: Record<SolutionPhase, readonly [number, number, number, number]> = {
  liquid: [17323.4, -4.46819, 1654.38, -2.35285],
  solid: [36061.88, -10.44288, -4310.12, 0],
}

const pureGibbs = ([a, b, c, d, e, f, g]: PureFunction, T: number): number =>
  a + b * T + c * T * Math.log(T) + d * T ** 2 + e * T ** 3 + f / T + g * T ** 7

// H = G - T dG/dT, term by term
const pureEnthalpy = ([a, , c, d, e, f, g]: PureFunction, T: number): number =>
  a - c * T - d * T ** 2 - 2 * e * T ** 3 + (2 * f) / T - 6 * g * T ** 7

/**
 * Chemical potentials of silver and copper in a solution [J/mol], and how fast they change with x.
 * @param x mole fraction of copper, strictly between 0 and 1
 */
export function chemicalPotentials(phase: SolutionPhase, x: number, T: number) {
  const [l0, l0T, l1, l1T] = INTERACTION[phase]
  const even = l0 + l0T * T
  const odd = l1 + l1T * T
  const bracket = even + odd * (1 - 2 * x)
  const excess = x * (1 - x) * bracket
  const slope = (1 - 2 * x) * bracket - 2 * odd * x * (1 - x)
  // d(slope)/dx of the excess; with the ideal part it is the curvature of G
  const curvature = -2 * bracket - 4 * odd * (1 - 2 * x) + (GAS_CONSTANT * T) / (x * (1 - x))
  return {
    silver: pureGibbs(SILVER[phase], T) + GAS_CONSTANT * T * Math.log1p(-x) + excess - x * slope,
    copper: pureGibbs(COPPER[phase], T) + GAS_CONSTANT * T * Math.log(x) + excess + (1 - x) * slope,
    silverSlope: -x * curvature,
    copperSlope: (1 - x) * curvature,
  }
}

/**
 * Enthalpy of one mole of a solution [J/mol], over the pure metals at 298.15 K.
 * @param x mole fraction of copper, 0 to 1
 */
export function molarEnthalpy(phase: SolutionPhase, x: number, T: number): number {
  const [l0, , l1] = INTERACTION[phase]
  return (
    (1 - x) * pureEnthalpy(SILVER[phase], T) +
    x * pureEnthalpy(COPPER[phase], T) +
    // the slopes of L with T are entropies: only the constant parts are heat of mixing
    x * (1 - x) * (l0 + l1 * (1 - 2 * x))
  )
}

/** Mass fraction of copper from its mole fraction. */
export const copperByMass = (x: number): number =>
  (x * COPPER_MOLAR_MASS) / (x * COPPER_MOLAR_MASS + (1 - x) * SILVER_MOLAR_MASS)

/** Mole fraction of copper from its mass fraction. */
export const copperByMole = (w: number): number =>
  w / COPPER_MOLAR_MASS / (w / COPPER_MOLAR_MASS + (1 - w) / SILVER_MOLAR_MASS)

/** Mean molar mass of an alloy with mole fraction x of copper [kg/mol]. */
export const molarMass = (x: number): number => x * COPPER_MOLAR_MASS + (1 - x) * SILVER_MOLAR_MASS
