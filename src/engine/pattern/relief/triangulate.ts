import earcut, { refine } from 'earcut'

/** A loop of point numbers. The face lies to its left: outsides anticlockwise, holes clockwise. */
export type Ring = readonly number[]

/**
 * Triangles, anticlockwise, that fill the face between rings and meet every side of every ring exactly once,
 * so that what is laid along the ring closes on them. Diagonals are chosen short (Delaunay).
 * @param xy x, y of all points; rings name points by their number and touch nowhere else than at points
 * @returns null where no such triangles were found (rings that cross)
 */
export const triangulate = (xy: ArrayLike<number>, rings: readonly Ring[]): number[] | null => {
  const triangles: number[] = []
  for (const face of facesOf(xy, rings)) {
    const flat = new Float64Array(face.reduce((sum, ring) => sum + ring.length, 0) * 2)
    const names: number[] = []
    const holes: number[] = []
    for (const ring of face) {
      if (names.length > 0) holes.push(names.length)
      for (const point of ring) {
        flat[names.length * 2] = xy[point * 2] as number
        flat[names.length * 2 + 1] = xy[point * 2 + 1] as number
        names.push(point)
      }
    }
    const cut = earcut(flat, holes)
    turnAnticlockwise(flat, cut)
    if (!takeBackStraightPoints(cut, face)) return null
    refine(cut, flat)
    turnAnticlockwise(flat, cut)
    for (const corner of cut) triangles.push(names[corner] as number)
  }
  return triangles
}

const turnAnticlockwise = (xy: Float64Array, cut: number[]): void => {
  for (let t = 0; t < cut.length; t += 3) {
    const [a, b, c] = [cut[t] as number, cut[t + 1] as number, cut[t + 2] as number]
    if (turn(xy, a, b, c) >= 0) continue
    cut[t + 1] = c
    cut[t + 2] = b
  }
}

/** The cutter leaves out points on a straight side; each is put back by parting the triangle on that side. */
const takeBackStraightPoints = (cut: number[], face: readonly Ring[]): boolean => {
  const count = face.reduce((sum, ring) => sum + ring.length, 0)
  const onward = new Int32Array(count)
  let start = 0
  for (const ring of face) {
    for (let i = 0; i < ring.length; i++) onward[start + i] = start + ((i + 1) % ring.length)
    start += ring.length
  }
  const sides = new Set<number>()
  for (let t = 0; t < cut.length; t++)
    sides.add((cut[t] as number) * count + (cut[t % 3 === 2 ? t - 2 : t + 1] as number))
  for (let t = 0; t < cut.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const a = cut[t + k] as number
      const c = cut[t + ((k + 1) % 3)] as number
      if (onward[a] === c || sides.has(c * count + a)) continue
      const apex = cut[t + ((k + 2) % 3)] as number
      let from = onward[a] as number
      // The triangle at hand keeps the first stretch; each further one is a triangle of its own.
      cut[t] = a
      cut[t + 1] = from
      cut[t + 2] = apex
      for (let steps = 0; from !== c; steps++) {
        const to = onward[from] as number
        if (steps > count || to === apex) return false
        cut.push(from, to, apex)
        sides.add(from * count + to)
        sides.add(to * count + apex)
        sides.add(apex * count + from)
        from = to
      }
      sides.add(a * count + (onward[a] as number))
      sides.add((onward[a] as number) * count + apex)
      k = -1
    }
  for (let point = 0; point < count; point++)
    if (!sides.has(point * count + (onward[point] as number))) return false
  return true
}

/** Puts each hole with the smallest outside that holds it. */
const facesOf = (xy: ArrayLike<number>, rings: readonly Ring[]): Ring[][] => {
  const faces: { area: number; rings: Ring[] }[] = []
  const holes: Ring[] = []
  for (const ring of rings) {
    const area = ringArea(xy, ring)
    if (area > 0) faces.push({ area, rings: [ring] })
    else if (area < 0) holes.push(ring)
  }
  if (faces.length === 1) return [[...(faces[0]?.rings ?? []), ...holes]]
  faces.sort((a, b) => a.area - b.area)
  for (const hole of holes)
    faces.find(({ rings: [outer = []] }) => holdsRing(xy, outer, hole))?.rings.push(hole)
  return faces.map((face) => face.rings)
}

/** Whether a ring lies inside another: its first point that is not one of the other's own decides. */
const holdsRing = (xy: ArrayLike<number>, outer: Ring, ring: Ring): boolean => {
  const own = new Set(outer)
  const point = ring.find((candidate) => !own.has(candidate))
  if (point === undefined) return true
  return holdsPlace(xy, outer, xy[point * 2] as number, xy[point * 2 + 1] as number)
}

const holdsPlace = (xy: ArrayLike<number>, ring: Ring, x: number, y: number): boolean => {
  let inside = false
  let before = ring.at(-1) as number
  for (const point of ring) {
    const [px, py] = [xy[point * 2] as number, xy[point * 2 + 1] as number]
    const [qx, qy] = [xy[before * 2] as number, xy[before * 2 + 1] as number]
    if (py > y !== qy > y && x < ((qx - px) * (y - py)) / (qy - py) + px) inside = !inside
    before = point
  }
  return inside
}

/** Anticlockwise above 0. */
export const ringArea = (xy: ArrayLike<number>, ring: Ring): number => {
  const first = ring[0] ?? 0
  const [ox, oy] = [xy[first * 2] as number, xy[first * 2 + 1] as number]
  let twice = 0
  let before = ring.at(-1) as number
  for (const point of ring) {
    twice +=
      ((xy[before * 2] as number) - ox) * ((xy[point * 2 + 1] as number) - oy) -
      ((xy[point * 2] as number) - ox) * ((xy[before * 2 + 1] as number) - oy)
    before = point
  }
  return twice / 2
}

const turn = (xy: ArrayLike<number>, a: number, b: number, c: number): number => {
  const [ax, ay] = [xy[a * 2] as number, xy[a * 2 + 1] as number]
  return (
    ((xy[b * 2] as number) - ax) * ((xy[c * 2 + 1] as number) - ay) -
    ((xy[b * 2 + 1] as number) - ay) * ((xy[c * 2] as number) - ax)
  )
}
