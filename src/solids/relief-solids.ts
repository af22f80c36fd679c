import Module, { type CrossSection, type Manifold, type ManifoldToplevel } from 'manifold-3d'
import type { Loop } from '../engine/pattern/drawing.ts'
import type { ReliefSolids, Solid, SolidShop } from '../engine/pattern/solids.ts'
import type { TriangleMesh } from '../engine/piece/mesh/index.ts'

/**
 * Loads the solid modeller for reliefs. Node finds its `manifold.wasm` beside the package by itself; a bundle or
 * a page passes where the face keeps or serves that file.
 * @returns rejects where the WebAssembly cannot be loaded
 */
export async function loadReliefSolids(options: { wasmLocation?: string } = {}): Promise<ReliefSolids> {
  const { wasmLocation } = options
  const top = await (wasmLocation === undefined ? Module() : Module({ locateFile: () => wasmLocation }))
  top.setup()
  return { work: (build) => workIn(top, build) }
}

const FEWEST_SEGMENTS = 8
/** Cuts of one solid, one above another, whose areas differ by a smaller share are the same face. */
const SAME_FACE = 1e-7

type Pair = [number, number]

/** Solids live outside the garbage collector: whatever is made during a build is deleted when it ends. */
function workIn<T>(top: ManifoldToplevel, build: (shop: SolidShop) => T): T {
  const made: { delete(): void }[] = []
  const keep = <K extends { delete(): void }>(thing: K): K => {
    made.push(thing)
    return thing
  }
  try {
    return build(shopOf(top, keep))
  } finally {
    for (const thing of made) thing.delete()
  }
}

interface Cut {
  readonly z_mm: number
  readonly cut: CrossSection
  readonly area: number
}

const isSame = (area: number, other: number): boolean => Math.abs(area - other) <= SAME_FACE * area

function shopOf(top: ManifoldToplevel, keep: <K extends { delete(): void }>(thing: K) => K): SolidShop {
  const { Manifold: Solids, CrossSection: Sections, Mesh } = top
  const given = (solid: Manifold): Solid => keep(sound(solid)) as unknown as Solid
  const held = (solid: Solid): Manifold => solid as unknown as Manifold
  const section = (loops: readonly Loop[]): CrossSection =>
    keep(Sections.ofPolygons(loops.map(pairsOf), 'EvenOdd'))
  const inset = (face: CrossSection, width_mm: number, chord_mm: number): CrossSection => {
    const radius = Math.abs(width_mm)
    const share = Math.min(1, chord_mm / radius)
    const segments = 4 * Math.ceil(Math.PI / Math.acos(1 - share) / 4)
    const plain = keep(face.simplify(chord_mm / 2))
    const left = keep(plain.offset(-width_mm, 'Round', 2, Math.max(FEWEST_SEGMENTS, segments)))
    return keep(left.simplify(chord_mm / 2))
  }
  const known = new Map<Solid, Cut[]>()
  /** A cut between two of one area is the same face as they are, since none grows on the way up. */
  const cutAt = (solid: Solid, z_mm: number): Cut => {
    const cuts = known.get(solid) ?? []
    known.set(solid, cuts)
    const at = cuts.filter((one) => one.z_mm <= z_mm).length
    const [below, above] = [cuts[at - 1], cuts[at]]
    if (below && above && isSame(below.area, above.area)) return below
    const cut = keep(held(solid).slice(z_mm))
    const made = { z_mm, cut, area: cut.area() }
    cuts.splice(at, 0, made)
    return made
  }
  return {
    prism: (loops, bottom_mm, top_mm) => {
      const raised = keep(Solids.extrude(section(loops), top_mm - bottom_mm))
      return given(raised.translate(0, 0, bottom_mm))
    },
    ofMesh: ({ positions, corners }) =>
      given(
        Solids.ofMesh(
          new Mesh({ numProp: 3, vertProperties: Float32Array.from(positions), triVerts: corners.slice() }),
        ),
      ),
    union: (solids) => given(Solids.union(solids.map(held))),
    difference: (from, tools) => given(Solids.difference([held(from), ...tools.map(held)])),
    intersection: (a, b) => given(Solids.intersection(held(a), held(b))),
    inset: (loops, width_mm, chord_mm) => inset(section(loops), width_mm, chord_mm).toPolygons().map(loopOf),
    room: (solid, cuts, chord_mm) => {
      const faces: CrossSection[] = []
      let before = Number.NaN
      for (const { z_mm, inset_mm } of cuts) {
        const { cut, area } = cutAt(solid, z_mm)
        if (isSame(area, before)) continue
        before = area
        if (cut.isEmpty()) return []
        faces.push(inset_mm > 0 ? inset(cut, inset_mm, chord_mm) : cut)
      }
      const common = keep(Sections.intersection(faces))
      return keep(common.simplify(chord_mm)).toPolygons().map(loopOf)
    },
    shared: (faces) =>
      keep(Sections.intersection(faces.map(section)))
        .toPolygons()
        .map(loopOf),
    slice: (solid, z_mm) => keep(held(solid).slice(z_mm)).toPolygons().map(loopOf),
    warp: (solid, longest_mm, move) => {
      const fine = keep(held(solid).refineToLength(longest_mm))
      return given(fine.warp((point) => move(point as [number, number, number])))
    },
    moved: (solid, matrix) => given(held(solid).transform(byColumns(matrix))),
    volume_mm3: (solid) => held(solid).volume(),
    area_mm2: (solid) => held(solid).surfaceArea(),
    mesh: (solid) => meshOf(held(solid)),
  }
}

function sound(solid: Manifold): Manifold {
  const status = solid.status()
  if (status !== 'NoError') {
    solid.delete()
    throw new Error(`the solid modeller says ${status}`)
  }
  return solid
}

function meshOf(solid: Manifold): TriangleMesh {
  const { vertProperties, triVerts, numProp } = solid.getMesh()
  const count = vertProperties.length / numProp
  const positions = new Float64Array(count * 3)
  for (let i = 0; i < count; i++)
    for (let axis = 0; axis < 3; axis++) positions[i * 3 + axis] = vertProperties[i * numProp + axis] ?? 0
  return { positions, corners: Uint32Array.from(triVerts) }
}

const pairsOf = (loop: Loop): Pair[] =>
  Array.from({ length: loop.length / 2 }, (_, i): Pair => [loop[2 * i] ?? 0, loop[2 * i + 1] ?? 0])

const loopOf = (polygon: readonly (readonly [number, number])[]): Loop => Float64Array.from(polygon.flat())

type Matrix = Parameters<Manifold['transform']>[0]

/** The modeller reads a matrix column by column. */
const byColumns = (rows: readonly number[]): Matrix =>
  Array.from({ length: 16 }, (_, i) => rows[(i % 4) * 4 + Math.floor(i / 4)] ?? 0) as Matrix
