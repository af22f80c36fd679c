/**
 * Freezing in a mould that is the only brake: the metal stays near its freezing point and the mould takes
 * the heat as a thick, dry, initially even body does. Good for investment and sand, not for metal moulds.
 *
 *   V/A = dT/(rho L) * (2/sqrt(pi) * sqrt(k rho c t) + (n/R) * k t/2)
 *
 * n/R is the curvature of the cooling face: 0 for a plate (then t = C (V/A)², Chvorinov's rule), 1/R for a
 * rod, 2/R for a ball. Holds while the warmed layer stays clear of the next piece and of the flask wall,
 * roughly sqrt(diffusivity * t) below that distance; beyond it freezing takes longer than this says.
 * Mould conductivity is known to a factor of about 1.7, and times scale with it: show the range.
 * Source: Chvorinov's rule; curvature after Adams and Taylor 1957, as in Flemings 1974; from memory.
 */
export interface MouldAndMetal {
  /** J/m3: metal density times the heat to remove per kilogram, see `heatToRemove` */
  readonly heatPerVolume: number
  /** K: metal's freezing temperature less the mould's temperature at pouring; at 0 or below it never freezes */
  readonly drop: number
  /** W/mK, of the burnt-out mould */
  readonly mouldConductivity: number
  /** J/m3K: mould density times heat capacity */
  readonly mouldHeatCapacity: number
}

export type Section =
  | { readonly shape: 'plate'; readonly modulus: number }
  | { readonly shape: 'rod' | 'ball'; readonly radius: number; readonly modulus?: number }

const FACES = { plate: 0, rod: 1, ball: 2 } as const

/** sqrt(k rho c), how readily a body takes heat [W s^0.5/m2K]. */
export const heatDiffusivity = (conductivity: number, density: number, heatCapacity: number): number =>
  Math.sqrt(conductivity * density * heatCapacity)

/**
 * Heat to remove per kilogram [J/kg]: latent, with the superheat's sensible heat added as if given off at
 * the freezing point.
 */
export const heatToRemove = (latent: number, liquidHeatCapacity: number, superheat: number): number =>
  latent + liquidHeatCapacity * superheat

/** Time [s] by Chvorinov's rule with a known constant [s/m2]; any consistent units serve. */
export const chvorinovTime = (modulus: number, constant: number): number => constant * modulus ** 2

/**
 * Chvorinov's constant [s/m2] for a flat face: (pi/4) (rho L/dT)²/(k rho c). Infinity where the mould is as
 * hot as the metal's freezing point or hotter.
 */
export const chvorinovConstant = (given: MouldAndMetal): number => freezingTimeOf(1, 0, given)

/**
 * Time [s] to freeze, for any modulus [m] and curvature of the cooling face n/R [1/m, 0 or more].
 * The equation is a quadratic in sqrt(t), solved in the form that does not cancel as curvature vanishes.
 */
export function freezingTimeOf(modulus: number, curvature: number, given: MouldAndMetal): number {
  const { spread, bend } = uptake(given)
  const root = (2 * modulus) / (spread + Math.sqrt(spread ** 2 + 4 * bend * curvature * modulus))
  return root ** 2
}

/** How round a section of this thickness and modulus is: 0 a plate (t/2), 1 a bar (t/4), 2 a ball (t/6). */
export const roundness = (thickness: number, modulus: number): number =>
  Math.min(2, Math.max(0, thickness / (2 * modulus) - 1))

/** Time [s] for a place of any shape, by its thickness and modulus [m]: its cooling face is as curved as its roundness says. */
export const freezingTimeOfPlace = (thickness: number, modulus: number, given: MouldAndMetal): number =>
  freezingTimeOf(modulus, (2 * roundness(thickness, modulus)) / thickness, given)

// modulus = spread * sqrt(t) + bend * curvature * t
function uptake(given: MouldAndMetal) {
  // a mould hotter than the freezing point takes no heat: times come out infinite, sections nothing
  const perHeat = given.drop <= 0 ? 0 : given.drop / given.heatPerVolume
  return {
    spread:
      ((perHeat * 2) / Math.sqrt(Math.PI)) * Math.sqrt(given.mouldConductivity * given.mouldHeatCapacity),
    bend: (perHeat * given.mouldConductivity) / 2,
  }
}

/** Time [s] for a section to freeze. A rod's or ball's modulus may be given where its ends matter. */
export function freezingTime(section: Section, given: MouldAndMetal): number {
  if (section.shape === 'plate') return freezingTimeOf(section.modulus, 0, given)
  const faces = FACES[section.shape]
  return freezingTimeOf(section.modulus ?? section.radius / (faces + 1), faces / section.radius, given)
}

/** Radius [m] of the long rod or the ball that freezes in this time [s]; a feeder must be larger than it. */
export function radiusToOutlast(shape: 'rod' | 'ball', time: number, given: MouldAndMetal): number {
  // R/(n+1) = spread sqrt(t) + bend n t/R, a quadratic in R
  const { spread, bend } = uptake(given)
  const n = FACES[shape]
  const half = ((n + 1) * spread * Math.sqrt(time)) / 2
  return half + Math.sqrt(half ** 2 + (n + 1) * n * bend * time)
}

/** Thickness [m] of the wide plate that freezes in this time [s]. */
export const plateThicknessFreezingIn = (time: number, given: MouldAndMetal): number =>
  2 * uptake(given).spread * Math.sqrt(time)
