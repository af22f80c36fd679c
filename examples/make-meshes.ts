/**
 * Models the two pieces of the invented cloak clasp set and writes them beside this file; always the same bytes.
 * Run: npx esbuild examples/make-meshes.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/make-meshes.mjs && node .cache/make-meshes.mjs
 */
import { mkdirSync, writeFileSync } from 'node:fs'
import Module, { type CrossSection, type Manifold, type ManifoldToplevel } from 'manifold-3d'
import type { Shape } from '../fixtures/meshes/shapes.ts'
import { meshXml, modelXml, packed3mf, stlBinary } from '../fixtures/meshes/write.ts'

/** Half the outside, mm. */
const CLASP = { a: 29, b: 22, ground: 1.55, border: 0.75, leaf: 1.0 }
/** Half the seat's opening, carved for an 18 x 13 mm cabochon, and its wall, mm. */
const SEAT = { a: 9.15, b: 6.65, wall: 0.95, top: 4.0, floor: 1.4, pushHole: [3, 2] as const }
const LEAVES = 8

const smooth = (from: number, to: number, at: number): number => {
  const t = Math.min(1, Math.max(0, (at - from) / (to - from)))
  return t * t * (3 - 2 * t)
}

/** Height of the clasp's face; `rho` runs from 0 in the middle to 1 at the edge of the oval. */
const faceOf = (rho: number, theta: number): number => {
  const border = CLASP.border * smooth(0.885, 0.915, rho) * (1 - 0.55 * smooth(0.955, 1, rho))
  const step = (2 * Math.PI) / LEAVES
  // every second leaf stands half behind its neighbours
  const leafAt = (centre: number, from: number, to: number, width: number, height: number): number => {
    const along = (rho - from) / (to - from)
    if (along <= 0 || along >= 1) return 0
    const turned = Math.atan2(Math.sin(theta - centre), Math.cos(theta - centre))
    const half = width * Math.sin(Math.PI * along ** 0.8)
    const across = Math.abs(turned) / half
    if (across >= 1) return 0
    const vein = 0.22 * (1 - smooth(0, 0.16, across)) * smooth(0.05, 0.3, along)
    return height * ((1 - across ** 2.4) * smooth(0, 0.16, along) * (1 - 0.5 * smooth(0.6, 1, along))) - vein
  }
  let relief = 0
  for (let leaf = 0; leaf < LEAVES; leaf += 1) {
    const centre = (leaf + 0.5) * step
    relief = Math.max(
      relief,
      leafAt(centre, 0.36, 0.87, 0.33, CLASP.leaf),
      leafAt(centre + step / 2, 0.44, 0.84, 0.22, CLASP.leaf * 0.7),
    )
  }
  return CLASP.ground + Math.max(0, relief) + border
}

/** The oval with its relief: a face over rings of points, a flat back, and a rim between them. */
const relief = (around: number, rings: number): Shape => {
  const positions: number[] = [0, 0, faceOf(0, 0)]
  const corners: number[] = []
  for (let ring = 1; ring <= rings; ring += 1)
    for (let turn = 0; turn < around; turn += 1) {
      const rho = ring / rings
      const theta = (2 * Math.PI * turn) / around
      positions.push(CLASP.a * rho * Math.cos(theta), CLASP.b * rho * Math.sin(theta), faceOf(rho, theta))
    }
  const face = (ring: number, turn: number): number => 1 + (ring - 1) * around + (turn % around)
  const back = positions.length / 3
  for (let turn = 0; turn < around; turn += 1) {
    const theta = (2 * Math.PI * turn) / around
    positions.push(CLASP.a * Math.cos(theta), CLASP.b * Math.sin(theta), 0)
  }
  const middle = positions.length / 3
  positions.push(0, 0, 0)
  for (let turn = 0; turn < around; turn += 1) {
    corners.push(0, face(1, turn), face(1, turn + 1))
    for (let ring = 1; ring < rings; ring += 1)
      corners.push(
        ...[face(ring, turn), face(ring + 1, turn), face(ring + 1, turn + 1)],
        ...[face(ring, turn), face(ring + 1, turn + 1), face(ring, turn + 1)],
      )
    const [here, next] = [back + turn, back + ((turn + 1) % around)]
    corners.push(
      ...[face(rings, turn), here, next],
      ...[face(rings, turn), next, face(rings, turn + 1)],
      ...[middle, next, here],
    )
  }
  return { positions, corners }
}

const shapeOf = (solid: Manifold): Shape => {
  const { vertProperties, triVerts, numProp } = solid.getMesh()
  const positions: number[] = []
  for (let i = 0; i < vertProperties.length; i += numProp)
    for (let axis = 0; axis < 3; axis += 1)
      positions.push(Math.round((vertProperties[i + axis] ?? Number.NaN) * 1e5) / 1e5)
  return { positions, corners: [...triVerts] }
}

const solidOf = (top: ManifoldToplevel, shape: Shape): Manifold =>
  top.Manifold.ofMesh(
    new top.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(shape.positions),
      triVerts: Uint32Array.from(shape.corners),
    }),
  )

const oval = (top: ManifoldToplevel, a: number, b: number, sides = 72): CrossSection =>
  top.CrossSection.circle(1, sides).scale([a, b])

const makeClasp = (top: ManifoldToplevel): Manifold => {
  const outside = oval(top, SEAT.a + SEAT.wall, SEAT.b + SEAT.wall)
  const wall = outside.extrude(SEAT.top - 0.5).translate([0, 0, 0.5])
  const well = oval(top, SEAT.a, SEAT.b).extrude(SEAT.top).translate([0, 0, SEAT.floor])
  const push = oval(top, ...SEAT.pushHole, 36)
    .extrude(SEAT.top + 2)
    .translate([0, 0, -1])
  return solidOf(top, relief(112, 38)).add(wall).subtract(well).subtract(push)
}

/** Points of a heater shield, 27.4 wide and 32.5 tall, point down, the middle of its top edge at the origin. */
const shield = (): [number, number][] => {
  const [half, tall, straight] = [13.7, 32.5, 12]
  const side: [number, number][] = []
  for (let step = 0; step <= 14; step += 1) {
    const t = step / 14
    // a quarter turn from the straight side to the point, drawn in a little to keep the point sharp
    side.push([
      half * Math.cos((t * Math.PI) / 2) ** 1.15,
      -straight - (tall - straight) * Math.sin((t * Math.PI) / 2) ** 0.95,
    ])
  }
  const left = side.slice(0, -1).map(([x, y]): [number, number] => [-x, y])
  return [[-half, 0], ...left, [0, -tall], ...side.slice(0, -1).reverse(), [half, 0]]
}

const makeTag = (top: ManifoldToplevel): Manifold => {
  const outline = new top.CrossSection([shield()])
  const field = outline.offset(-1.8, 'Round', 2, 24)
  const blank = outline.extrude(2.1)
  const sunk = field.extrude(2).translate([0, 0, 1.55])
  const leaf = new top.CrossSection([
    Array.from({ length: 32 }, (_, turn): [number, number] => {
      const angle = (2 * Math.PI * turn) / 32
      return [-3.4 * Math.sin(angle) * (1 - 0.25 * Math.cos(angle)), 8 * Math.cos(angle)]
    }),
  ])
  const sprig = leaf.extrude(0.55, 0, 0, [0.55, 0.8]).translate([0, -17.5, 1.54])
  const hole = top.CrossSection.circle(1.6, 32).translate([0, -4.6]).extrude(6).translate([0, 0, -1])
  const eye = top.CrossSection.circle(2.9, 36).translate([0, -4.6]).extrude(2.1)
  return blank.subtract(sunk).add(sprig).add(eye).subtract(hole)
}

const top = await Module()
top.setup()
const folder = process.argv[2] ?? 'examples'
mkdirSync(folder, { recursive: true })
writeFileSync(
  `${folder}/clasp.stl`,
  stlBinary(shapeOf(makeClasp(top)), 'oval clasp, millimetres, modelled for the demo'),
)
// lies on its side in the file and is set upright by the build's own placing
const tag = shapeOf(makeTag(top).rotate([90, 0, 0]))
const placing = '1 0 0 0 0 -1 0 1 0 40 60 0'
writeFileSync(
  `${folder}/tag.3mf`,
  packed3mf(
    modelXml(
      `<object id="1" type="model">${meshXml(tag)}</object>`,
      `<item objectid="1" transform="${placing}"/>`,
    ),
  ),
)
