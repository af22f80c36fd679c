/**
 * Measuring a mesh of a million triangles against the bound: reading its bytes and passing over them once.
 * Goals: volume within 2x, welding and closedness within 10x, of that bound in the same run.
 * Run: npx esbuild bench/mesh-volume.ts --bundle --platform=node --format=esm --outfile=.cache/bench.mjs && node .cache/bench.mjs
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { torus } from '../fixtures/meshes/shapes.ts'
import { buildBoxTree } from '../src/engine/piece/mesh/box-tree.ts'
import { findCrossings } from '../src/engine/piece/mesh/crossings.ts'
import { findEdges, findShells, isClosed } from '../src/engine/piece/mesh/edges.ts'
import { measureModel, readModel, volumeOf, weldExactly } from '../src/engine/piece/mesh/index.ts'
import { probeInward } from '../src/engine/piece/mesh/rays.ts'
import { thicknessOf } from '../src/engine/piece/mesh/thickness.ts'

const AROUND = 1000
const SECTION = 500
const ROUNDS = 5

const folder = mkdtempSync(join(tmpdir(), 'bench-'))
const file = join(folder, 'ring.stl')
writeFileSync(file, binaryStl())

/** Kept so that no measured work can be optimised away. */
let sink = 0
const times = new Map<string, number[]>()
function time<T>(name: string, work: () => T): T {
  const start = performance.now()
  const result = work()
  const spent = performance.now() - start
  times.set(name, [...(times.get(name) ?? []), spent])
  return result
}

for (let round = 0; round < ROUNDS; round++) {
  time('bytes and one pass', () => passOver(readFileSync(file)))
  const mesh = time('volume: read, unpack, sum', () => {
    const reading = readModel(readFileSync(file), 'ring.stl')
    sink += volumeOf(reading.mesh)
    return reading.mesh
  })
  const welded = time('weld', () => weldExactly(mesh).mesh)
  const edges = time('edges and closedness', () => findEdges(welded))
  if (!isClosed(edges)) throw new Error('the ring should be closed')
  const map = time('shells', () => findShells(edges))
  const tree = time('tree of boxes', () => buildBoxTree(welded))
  const found = time('crossings', () => findCrossings(welded, tree, map.shellOf, map.count, 3e-6, 5e-3))
  if (found.selfPairs > 0 || !found.complete) throw new Error('the ring should not cross itself')
  const probes = probeInward(welded, tree, 1000, 3e-6)
  const thick = time('thickness', () => thicknessOf(welded, tree, probes))
  if (!(Math.abs((thick?.p95 ?? 0) - 10) < 0.3)) throw new Error('the ring should be 10 mm thick')
}
time('measureModel, all of it', () => measureModel(readFileSync(file), 'ring.stl'))
rmSync(folder, { recursive: true })

const least = (name: string): number => Math.min(...(times.get(name) ?? [Number.NaN]))
const bound = least('bytes and one pass')
console.log(`${(2 * AROUND * SECTION).toLocaleString('en-US')} triangles, least of ${ROUNDS} rounds`)
for (const name of times.keys())
  console.log(
    `${name.padEnd(28)} ${least(name).toFixed(0).padStart(6)} ms  ${(least(name) / bound).toFixed(2)}x`,
  )
const closedness = least('weld') + least('edges and closedness')
console.log(`${'volume, goal 2x'.padEnd(38)} ${(least('volume: read, unpack, sum') / bound).toFixed(2)}x`)
console.log(`${'weld + closedness, goal 10x'.padEnd(38)} ${(closedness / bound).toFixed(2)}x`)
if (!Number.isFinite(sink)) throw new Error('the volume should be finite')

function passOver(bytes: Uint8Array): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let at = 84; at < bytes.length; at += 50)
    for (let k = 12; k < 48; k += 4) sink += view.getFloat32(at + k, true) * 1e-12
}

function binaryStl(): Uint8Array {
  const { positions, corners } = torus(20, 5, AROUND, SECTION)
  const bytes = new Uint8Array(84 + (corners.length / 3) * 50)
  const view = new DataView(bytes.buffer)
  view.setUint32(80, corners.length / 3, true)
  corners.forEach((corner, i) => {
    const at = 84 + Math.floor(i / 3) * 50 + 12 + (i % 3) * 12
    for (let axis = 0; axis < 3; axis++)
      view.setFloat32(at + axis * 4, positions[corner * 3 + axis] ?? Number.NaN, true)
  })
  return bytes
}
