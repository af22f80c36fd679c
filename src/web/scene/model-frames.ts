import type { ModelForm } from './model-form.ts'
import type { Frame } from './model-shape.ts'
import { directionsOf, type Place } from './view.ts'

type Axis = 0 | 1 | 2

const along = (axis: Axis, way: number): Place => {
  const place: [number, number, number] = [0, 0, 0]
  place[axis] = way
  return place
}

const minus = ([x, y, z]: Place): Place => [-x, -y, -z]

const cross = (one: Place, other: Place): Place => [
  one[1] * other[2] - one[2] * other[1],
  one[2] * other[0] - one[0] * other[2],
  one[0] * other[1] - one[1] * other[0],
]

/** The model's axes from its least size to its longest; equal ones in the order the file has them. */
const bySize = (size: Place): readonly [least: Axis, middle: Axis, longest: Axis] =>
  ([0, 1, 2] as Axis[]).toSorted((a, b) => size[a] - size[b]) as [Axis, Axis, Axis]

/** The side on which a piece is looked at flat: its top, its front or its right, whichever is thinnest through. */
const faceOf = (size: Place): Place => {
  const [least] = bySize(size)
  return along(least, least === 1 ? -1 : 1)
}

/** Looking along the least size, upright as the model was drawn. */
export const flatFrame = ({ size }: ModelForm): Frame => {
  const toward = faceOf(size)
  const up = along(bySize(size)[0] === 2 ? 1 : 2, 1)
  return { right: cross(up, toward), down: minus(up), toward, out: toward }
}

/** The lengths that a frame's two directions span on the sheet, for a frame along the model's own axes. */
export const spanOf = ({ size }: ModelForm, frame: Frame): readonly [across: number, down: number] => {
  const span = (way: Place): number =>
    Math.abs(way[0]) * size[0] + Math.abs(way[1]) * size[1] + Math.abs(way[2]) * size[2]
  return [span(frame.right), span(frame.down)]
}

/** How a piece stands on the tree: which of its sides is upright, and which way its face looks, radians. */
export interface Stand {
  readonly upright: 'longest' | 'middle'
  readonly angle: number
}

/** A model standing on the tree, its least size along `angle` and its face that way, seen in this view. */
export const standingFrame = (
  { size }: ModelForm,
  { upright, angle }: Stand,
  seen: { readonly right: Place; readonly down: Place; readonly toward: Place },
): Frame => {
  const [, middle, longest] = bySize(size)
  const out = faceOf(size)
  const up = along(upright === 'longest' ? longest : middle, 1)
  const side = cross(up, out)
  const [ahead, aside] = [Math.cos(angle), Math.sin(angle)]
  const own = ([x, y, z]: Place): Place => {
    const [outward, sideways] = [x * ahead + y * aside, y * ahead - x * aside]
    const part = (axis: Axis): number => out[axis] * outward + side[axis] * sideways + up[axis] * z
    return [part(0), part(1), part(2)]
  }
  return { right: own(seen.right), down: own(seen.down), toward: own(seen.toward), sky: up, out }
}

/** A model where it was placed, `motion` taking its own mm to the flask's, seen in this view. */
export const placedFrame = (
  { size }: ModelForm,
  motion: readonly number[],
  seen: { readonly right: Place; readonly down: Place; readonly toward: Place },
): Frame => {
  const own = (way: Place): Place => {
    const part = (axis: Axis): number =>
      way.reduce((sum, value, k) => sum + value * (motion[axis * 3 + k] ?? 0), 0)
    return [part(0), part(1), part(2)]
  }
  return {
    right: own(seen.right),
    down: own(seen.down),
    toward: own(seen.toward),
    sky: own([0, 0, 1]),
    out: faceOf(size),
  }
}

/** The measured views as directions in the flask's axes. */
export const FROM_ABOVE = { right: [1, 0, 0], down: [0, -1, 0], toward: [0, 0, 1] } as const
export const FROM_SIDE = directionsOf({ turn: 0, tip: 0 })
