import { findEdges, findRims, findShells, isClosed } from './edges.ts'
import type { TriangleMesh } from './model-reading.ts'
import { ringNormal, triangulate } from './polygon.ts'
import { areaOf } from './volume.ts'
import { weldWithin } from './weld.ts'

/** A mending of the surface that the user may accept, told in full. */
export type Mending = {
  mesh: TriangleMesh
  /** What was done, in plain words, in order. */
  steps: string[]
  joinedWithin_mm: number | null
  droppedTriangles: number
  flippedTriangles: number
  /** The triangles added over holes, as a mesh for drawing. */
  patch: TriangleMesh
  patchArea_mm2: number
  /** Which share of the whole surface the patches are. */
  patchShare: number
}

const LONGEST_RIM = 3_000
const MOST_RIMS = 5_000
const plural = (n: number, word: string): string =>
  `${n.toLocaleString('en-US')} ${word}${n === 1 ? '' : 's'}`

/**
 * Tries to close an open or partly flipped surface: joins corners that nearly meet, drops doubled triangles,
 * turns flipped ones, and closes holes with flat patches.
 * @param size the diagonal of the model, mm, which sets how near is near
 * @returns null where that does not give a closed surface
 */
export function mendSurface(start: TriangleMesh, size: number): Mending | null {
  const steps: string[] = []
  let mesh = start
  let edges = findEdges(mesh)
  let joinedWithin: number | null = null
  for (const share of [1e-5, 1e-4]) {
    if (edges.open.length === 0) break
    const wide = weldWithin(mesh, size * share)
    const then = findEdges(wide.mesh)
    if (wide.joined === 0 || then.open.length > edges.open.length / 2 || then.tangled > edges.tangled)
      continue
    joinedWithin = size * share
    steps.push(`${plural(wide.joined, 'corner')} joined within ${Number(joinedWithin.toPrecision(2))} mm`)
    mesh = wide.mesh
    edges = then
  }

  let dropped = 0
  if (edges.tangled > 0) {
    const single = dropDoubles(mesh)
    dropped = single.dropped
    if (dropped > 0) {
      steps.push(`${plural(dropped, 'doubled triangle')} left out`)
      mesh = single.mesh
      edges = findEdges(mesh)
    }
    if (edges.tangled > 0) return null
  }

  let flipped = 0
  if (edges.misdirected > 0) {
    const map = findShells(edges)
    if (map.oneSided.size > 0) return null
    const turned = mostlyUnturned(map.turned, map.shellOf, map.count)
    const corners = mesh.corners.slice()
    for (let t = 0; t < turned.length; t++)
      if (turned[t]) {
        flipped++
        corners[t * 3 + 1] = mesh.corners[t * 3 + 2]!
        corners[t * 3 + 2] = mesh.corners[t * 3 + 1]!
      }
    steps.push(`${plural(flipped, 'triangle')} turned to agree with their neighbours`)
    mesh = { positions: mesh.positions, corners }
    edges = findEdges(mesh)
  }

  let patch: TriangleMesh = { positions: mesh.positions, corners: new Uint32Array(0) }
  if (edges.open.length > 0) {
    const rims = findRims(mesh, edges.open)
    if (!rims || rims.length > MOST_RIMS || rims.some((rim) => rim.length < 3)) return null
    patch = patchOver(mesh, rims)
    const corners = new Uint32Array(mesh.corners.length + patch.corners.length)
    corners.set(mesh.corners)
    corners.set(patch.corners, mesh.corners.length)
    mesh = { positions: patch.positions, corners }
    edges = findEdges(mesh)
    steps.push(
      `${plural(rims.length, 'hole')} closed with ${plural(patch.corners.length / 3, 'triangle')}, ${Number(areaOf(patch).toPrecision(3))} mm2 in all`,
    )
  }
  if (!isClosed(edges) || steps.length === 0) return null
  const patchArea = areaOf(patch)
  return {
    mesh,
    steps,
    joinedWithin_mm: joinedWithin,
    droppedTriangles: dropped,
    flippedTriangles: flipped,
    patch,
    patchArea_mm2: patchArea,
    patchShare: patchArea / areaOf(mesh),
  }
}

/** Of triangles on the same three points one is kept; two that face opposite ways cancel, and both go. */
export function dropDoubles({ positions, corners }: TriangleMesh): { mesh: TriangleMesh; dropped: number } {
  const order = Array.from({ length: corners.length / 3 }, (_, t) => t)
  const key = new Uint32Array(corners.length)
  const odd = new Uint8Array(order.length)
  for (let t = 0; t < order.length; t++) {
    let [a, b, c] = [corners[t * 3]!, corners[t * 3 + 1]!, corners[t * 3 + 2]!]
    let swaps = 0
    if (a > b) {
      ;[a, b] = [b, a]
      swaps++
    }
    if (b > c) {
      ;[b, c] = [c, b]
      swaps++
    }
    if (a > b) {
      ;[a, b] = [b, a]
      swaps++
    }
    key.set([a, b, c], t * 3)
    odd[t] = swaps % 2
  }
  const compare = (s: number, t: number): number =>
    key[s * 3]! - key[t * 3]! || key[s * 3 + 1]! - key[t * 3 + 1]! || key[s * 3 + 2]! - key[t * 3 + 2]!
  order.sort((s, t) => compare(s, t) || s - t)
  const keep = new Uint8Array(order.length)
  let kept = 0
  for (let i = 0; i < order.length; ) {
    let j = i
    let way = 0
    while (j < order.length && compare(order[i]!, order[j]!) === 0) way += odd[order[j++]!]! ? -1 : 1
    if (way !== 0) {
      const chosen = order.slice(i, j).find((t) => odd[t] === (way > 0 ? 0 : 1))!
      keep[chosen] = 1
      kept++
    }
    i = j
  }
  const list = new Uint32Array(kept * 3)
  let n = 0
  for (let t = 0; t < keep.length; t++)
    if (keep[t]) for (let k = 0; k < 3; k++) list[n++] = corners[t * 3 + k]!
  return { mesh: { positions, corners: list }, dropped: keep.length - kept }
}

/** The first triangle of a shell may be the flipped one: per shell, the fewer triangles are the ones to turn. */
function mostlyUnturned(turned: Uint8Array, shellOf: Int32Array, count: number): Uint8Array {
  const total = new Uint32Array(count)
  const many = new Uint32Array(count)
  for (let t = 0; t < turned.length; t++) {
    total[shellOf[t]!]!++
    many[shellOf[t]!]! += turned[t]!
  }
  return turned.map((value, t) => (many[shellOf[t]!]! * 2 > total[shellOf[t]!]! ? 1 - value : value))
}

/** Flat rims are cut into ears; a rim that crosses itself in its own plane, or is very long, gets a fan about its middle. */
function patchOver(mesh: TriangleMesh, rims: readonly number[][]): TriangleMesh {
  const corners: number[] = []
  const added: number[] = []
  const first = mesh.positions.length / 3
  for (const rim of rims) {
    const ears: number[] = []
    const [nx, ny, nz] = ringNormal(mesh.positions, rim)
    const flat = rim.length <= LONGEST_RIM && Math.hypot(nx, ny, nz) > 0
    if (flat && triangulate(mesh.positions, rim, (a, b, c) => ears.push(a, b, c))) {
      for (const corner of ears) corners.push(corner)
      continue
    }
    if (rim.length === 3) continue
    const middle = first + added.length / 3
    for (let axis = 0; axis < 3; axis++)
      added.push(rim.reduce((sum, point) => sum + mesh.positions[point * 3 + axis]!, 0) / rim.length)
    rim.forEach((point, i) => {
      corners.push(point, rim[(i + 1) % rim.length]!, middle)
    })
  }
  const positions = new Float64Array(mesh.positions.length + added.length)
  positions.set(mesh.positions)
  positions.set(added, mesh.positions.length)
  return { positions, corners: Uint32Array.from(corners) }
}
