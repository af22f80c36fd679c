import type { Point, Transform } from '../piece/mesh/index.ts'
import { after } from '../piece/mesh/transform.ts'
import { minus, move, shifting, turningAboutAxis } from './vectors.ts'

/** How a wax stands in the flask, as the numbers a person would set: degrees and mm. */
export interface Stand {
  /** round the flask's axis to its middle, against the clock seen from above, 0 to 360 */
  readonly angle: number
  /** its middle above where flask and base meet */
  readonly up: number
  /** its middle from the axis */
  readonly out: number
  /** leaning out from the axis about a level line across, -180 to 180 */
  readonly tilt: number
  /** leaning sideways about the line outward, -90 to 90 */
  readonly roll: number
  /** turned about the model's own z, before it leans, -180 to 180 */
  readonly twist: number
}

const DEGREE = Math.PI / 180

const about = (axis: 0 | 1 | 2, angle: number): Transform => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  if (axis === 0) return [1, 0, 0, 0, c, s, 0, -s, c, 0, 0, 0]
  return axis === 1 ? [c, 0, -s, 0, 1, 0, s, 0, c, 0, 0, 0] : turningAboutAxis(angle)
}

/** Never minus nothing. */
const degrees = (angle: number): number => angle / DEGREE + 0

/** The numbers of a place. @param middle  the point of the model that counts as its middle, in its own mm */
export const standOf = (motion: Transform, middle: Point): Stand => {
  const [x, y, z] = move(motion, middle)
  const out = Math.hypot(x, y)
  const angle = out < 1e-9 ? 0 : Math.atan2(y, x)
  const [a = 1, b = 0, c = 0, , e = 1, , g = 0, h = 0, i = 1] = after(turningAboutAxis(-angle), motion)
  // turned by tilt about y, after roll about x, after twist about z; leaning flat sideways, the first and last are one
  const flat = Math.abs(h) > 1 - 1e-9
  const roll = Math.asin(Math.min(1, Math.max(-1, -h)))
  const tilt = flat ? 0 : Math.atan2(g, i)
  const twist = flat ? Math.atan2(-Math.sign(h) * c, a) : Math.atan2(b, e)
  return {
    angle: (degrees(angle) + 360) % 360,
    up: z,
    out,
    tilt: degrees(tilt),
    roll: degrees(roll),
    twist: degrees(twist),
  }
}

/** The rigid motion that makes a wax stand so. */
export const motionTo = ({ angle, up, out, tilt, roll, twist }: Stand, middle: Point): Transform => {
  const turned = [about(2, twist * DEGREE), about(0, roll * DEGREE), about(1, tilt * DEGREE)].reduce(
    (before, next) => after(next, before),
  )
  const round = after(turningAboutAxis(angle * DEGREE), turned)
  const at: Point = [out * Math.cos(angle * DEGREE), out * Math.sin(angle * DEGREE), up]
  return after(shifting(minus(at, move(round, middle))), round)
}

/** The same place turned a little more about the level line across or the line outward, about its middle; degrees. */
export const leant = (motion: Transform, middle: Point, which: 'tilt' | 'roll', by: number): Transform => {
  const at = move(motion, middle)
  const angle = Math.atan2(at[1], at[0])
  const turn = [
    turningAboutAxis(-angle),
    about(which === 'tilt' ? 1 : 0, by * DEGREE),
    turningAboutAxis(angle),
  ].reduce((before, next) => after(next, before))
  return after(shifting(at), after(turn, after(shifting([-at[0], -at[1], -at[2]]), motion)))
}
