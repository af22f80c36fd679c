/** A place in the flask, mm: x and y across, z up from the base. */
export type Place = readonly [x: number, y: number, z: number]
export type Spot = readonly [x: number, y: number]

/** An orthographic view: turned about the flask's axis, then tipped towards the reader. */
export interface View {
  readonly turn: number
  readonly tip: number
}

const DEGREE = Math.PI / 180

/** The view that drawings open with: 34° round and 17° above. */
export const OPENING_VIEW: View = { turn: 34 * DEGREE, tip: 17 * DEGREE }

/** Unit directions of a view in the flask's axes. Right, up and towards the reader make a right-handed set. */
export const directionsOf = ({ turn, tip }: View): { right: Place; down: Place; toward: Place } => {
  const [across, ahead] = [Math.cos(turn), Math.sin(turn)]
  const [level, raised] = [Math.cos(tip), Math.sin(tip)]
  return {
    right: [across, ahead, 0],
    down: [ahead * raised, -across * raised, -level],
    toward: [ahead * level, -across * level, raised],
  }
}

const dot = (one: Place, other: Place): number =>
  one[0] * other[0] + one[1] * other[1] + one[2] * other[2] || 0

/** How near a place is to the reader; larger is nearer. */
export const nearness = (place: Place, view: View): number => dot(place, directionsOf(view).toward)

/** Where a place falls on the sheet, mm; down is positive, as on a screen. */
export const project = (place: Place, view: View): Spot => {
  const { right, down } = directionsOf(view)
  return [dot(place, right), dot(place, down)]
}

/** A block on its footprint, from `bottom` up. */
export interface Block {
  readonly corners: readonly (readonly [x: number, y: number])[]
  readonly bottom: number
  readonly top: number
}

export interface Face {
  readonly spots: readonly Spot[]
  readonly tone: 'top' | 'light' | 'dark'
}

/** The faces of a block that the reader sees, ready to be drawn one over the other. */
export const facesOf = (block: Block, view: View): readonly Face[] => {
  const { corners, bottom, top } = block
  const count = corners.length
  const middle = corners.reduce((sum, [x, y]) => [sum[0] + x / count, sum[1] + y / count] as const, [
    0, 0,
  ] as const)
  const sides = corners.flatMap((corner, index): { face: Face; near: number }[] => {
    const next = corners[(index + 1) % count] ?? corner
    const half: Spot = [(corner[0] + next[0]) / 2, (corner[1] + next[1]) / 2]
    const out: Place = [half[0] - middle[0], half[1] - middle[1], 0]
    const facing = nearness(out, view)
    if (facing <= 1e-9) return []
    const spots = [
      [...corner, bottom],
      [...next, bottom],
      [...next, top],
      [...corner, top],
    ].map((place) => project(place as unknown as Place, view))
    // the side turned further to the right takes the darker of two flat tones
    const right = project(out, view)[0]
    return [{ face: { spots, tone: right > 0 ? 'dark' : 'light' }, near: facing }]
  })
  sides.sort((a, b) => a.near - b.near)
  return [
    ...sides.map(({ face }) => face),
    { spots: corners.map(([x, y]) => project([x, y, top], view)), tone: 'top' },
  ]
}

export const pathOf = (spots: readonly Spot[]): string =>
  `M${spots.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join('L')}Z`
