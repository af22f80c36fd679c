/**
 * Masses as whole counts of scale steps. Everything that must be exact (the sum of a charge, a lot's
 * stock) is decided in counts; kilograms appear only at the edge.
 */

/** Nearest whole count of steps: what a scale of this step reads. */
export const toSteps = (mass_kg: number, step_kg: number): number => Math.round(mass_kg / step_kg)

/** Most whole steps that the mass covers; a millionth of a step of float noise is forgiven. */
export const stepsWithin = (mass_kg: number, step_kg: number): number => Math.floor(mass_kg / step_kg + 1e-6)

/** Fewest whole steps that reach the mass, with the same forgiveness. */
export const stepsCovering = (mass_kg: number, step_kg: number): number => Math.ceil(mass_kg / step_kg - 1e-6)

/** Kilograms of a count, cleared of float noise past the twelfth digit (743 * 0.0001 reads 0.0743). */
export const toKilograms = (steps: number, step_kg: number): number =>
  Number((steps * step_kg).toPrecision(12))

/** Whether a mass is a whole count of steps, within a thousandth of one. */
export const isWholeSteps = (mass_kg: number, step_kg: number): boolean =>
  Math.abs(mass_kg / step_kg - Math.round(mass_kg / step_kg)) < 1e-3
