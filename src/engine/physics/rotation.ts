import { STANDARD_GRAVITY } from './atmosphere.ts'

/** A spinning arm: rad/s, m, kg. Steady speed; the arm's own spring-up to speed is not in it. */

export const radiansPerSecond = (revolutionsPerMinute: number): number =>
  (2 * Math.PI * revolutionsPerMinute) / 60

/**
 * Pressure [Pa] at the outer radius of metal that turns with the arm and has its free face at the inner:
 * rho w² (r2² - r1²)/2.
 */
export const spinPressure = (density: number, speed: number, inner: number, outer: number): number =>
  0.5 * density * speed ** 2 * (outer ** 2 - inner ** 2)

/** Speed [rad/s] that gives a pressure [Pa] at the outer radius; the inverse of spinPressure. */
export const speedForPressure = (pressure: number, density: number, inner: number, outer: number): number =>
  Math.sqrt((2 * pressure) / (density * (outer ** 2 - inner ** 2)))

/** Acceleration at a radius in multiples of standard gravity. */
export const spinGravities = (speed: number, radius: number): number =>
  (speed ** 2 * radius) / STANDARD_GRAVITY

export const rimSpeed = (speed: number, radius: number): number => speed * radius

export interface OnArm {
  readonly mass: number
  /** distance of its centre of mass from the pivot */
  readonly radius: number
}

/** Sum of mass times radius [kg m]. */
export const moment = (bodies: readonly OnArm[]): number =>
  bodies.reduce((sum, { mass, radius }) => sum + mass * radius, 0)

/** Counterweight [kg] at a radius that balances bodies on the other side. */
export const counterweight = (bodies: readonly OnArm[], radius: number): number => moment(bodies) / radius

/** Force [N] on the pivot from an unbalanced moment [kg m]. */
export const outOfBalanceForce = (unbalanced: number, speed: number): number =>
  Math.abs(unbalanced) * speed ** 2

/** Moment of inertia [kg m2] of small bodies about the pivot; the arm itself is extra. */
export const momentOfInertia = (bodies: readonly OnArm[]): number =>
  bodies.reduce((sum, { mass, radius }) => sum + mass * radius ** 2, 0)

/** Energy [J] stored in the spin: what a flask that comes loose would carry away in part. */
export const spinEnergy = (bodies: readonly OnArm[], speed: number): number =>
  0.5 * momentOfInertia(bodies) * speed ** 2
