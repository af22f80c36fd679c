import Module, { type Manifold, type ManifoldToplevel } from 'manifold-3d'
import type { Solids, TriangleMesh } from '../engine/piece/mesh/index.ts'

/**
 * Loads the solid modeller. Node finds its `manifold.wasm` beside the package by itself; a bundle or a page
 * passes where the face keeps or serves that file.
 * @returns what the engine needs of it; rejects where the WebAssembly cannot be loaded
 */
export async function loadSolids(options: { wasmLocation?: string } = {}): Promise<Solids> {
  const { wasmLocation } = options
  const top = await (wasmLocation === undefined ? Module() : Module({ locateFile: () => wasmLocation }))
  top.setup()
  return {
    union: (bodies) => joinedBy(top, bodies, (solids) => top.Manifold.union([...solids])),
    difference: (from, taken) =>
      joinedBy(top, [from, ...taken], (solids) => top.Manifold.difference([...solids])),
  }
}

function joinedBy(
  top: ManifoldToplevel,
  bodies: readonly TriangleMesh[],
  join: (solids: readonly Manifold[]) => Manifold,
): ReturnType<Solids['union']> {
  // Solids live outside the garbage collector: whatever is made here is deleted here.
  const made: Manifold[] = []
  const keep = (solid: Manifold): Manifold => {
    made.push(solid)
    return solid
  }
  try {
    const centre = centreOf(bodies)
    const solids = bodies.map((body) => keep(solidOf(top, body, centre)))
    const joined = keep(join(solids))
    const status = joined.status()
    if (status !== 'NoError') return { failed: `the solid modeller says ${status}` }
    const { vertProperties, triVerts, numProp } = joined.getMesh()
    const count = vertProperties.length / numProp
    const positions = new Float64Array(count * 3)
    for (let i = 0; i < count; i++)
      for (let axis = 0; axis < 3; axis++)
        positions[i * 3 + axis] = (vertProperties[i * numProp + axis] ?? 0) + (centre[axis] ?? 0)
    return {
      volume_mm3: joined.volume(),
      area_mm2: joined.surfaceArea(),
      mesh: { positions, corners: Uint32Array.from(triVerts) },
    }
  } catch (error) {
    // The modeller throws for what it cannot take (not manifold, out of memory); a file may hold such things.
    return { failed: error instanceof Error ? error.message : 'the solid modeller gave up' }
  } finally {
    for (const solid of made) solid.delete()
  }
}

/** The modeller takes 32-bit floats, so bodies are brought near the origin first. */
function solidOf(top: ManifoldToplevel, body: TriangleMesh, centre: readonly number[]): Manifold {
  const vertProperties = Float32Array.from(body.positions, (value, i) => value - (centre[i % 3] ?? 0))
  return top.Manifold.ofMesh(new top.Mesh({ numProp: 3, vertProperties, triVerts: body.corners.slice() }))
}

function centreOf(bodies: readonly TriangleMesh[]): number[] {
  const min = [Infinity, Infinity, Infinity]
  const max = [-Infinity, -Infinity, -Infinity]
  for (const { positions } of bodies)
    positions.forEach((value, i) => {
      const axis = i % 3
      min[axis] = Math.min(min[axis] ?? value, value)
      max[axis] = Math.max(max[axis] ?? value, value)
    })
  return min.map((low, axis) => (low + (max[axis] ?? low)) / 2)
}
