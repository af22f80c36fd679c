import type { TriangleMesh } from '../piece/mesh/index.ts'

/**
 * A plain solid for a piece of which only outside sizes and volume are known: its outside box, with a straight
 * opening through its least side so that the volume is right. The box, which holds any shape of those sizes,
 * is what distances are held against. Its own coordinates: length along x, width along y, height along z, mm,
 * the middle of the box at the origin.
 * @returns null where the volume is more than the box holds
 */
export const standInFor = (
  sizes: readonly [number, number, number],
  volume_mm3: number,
): { readonly mesh: TriangleMesh; readonly envelope: TriangleMesh } | null => {
  const whole = sizes[0] * sizes[1] * sizes[2]
  if (!(volume_mm3 > 0) || volume_mm3 > whole * (1 + 1e-9)) return null
  const envelope = blockOf(sizes)
  const open = Math.sqrt(Math.max(0, 1 - volume_mm3 / whole))
  // an opening too narrow to matter only makes thin slots of the plaster
  if (open < 0.1) return { mesh: envelope, envelope }
  const through = sizes.indexOf(Math.min(...sizes))
  return { mesh: frameOf(sizes, through, open), envelope }
}

const QUADS = [
  [0, 2, 3, 1],
  [4, 5, 7, 6],
  [0, 1, 5, 4],
  [2, 6, 7, 3],
  [0, 4, 6, 2],
  [1, 3, 7, 5],
] as const

const blockOf = (sizes: readonly [number, number, number]): TriangleMesh => ({
  positions: Float64Array.from(
    Array.from({ length: 8 }, (_, i) =>
      [0, 1, 2].map((axis) => ((i >> axis) & 1 ? 0.5 : -0.5) * (sizes[axis] ?? 0)),
    ).flat(),
  ),
  corners: Uint32Array.from(QUADS.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
})

/** Outer and inner outline, below and above: sixteen corners, the opening running along one axis. */
const frameOf = (sizes: readonly [number, number, number], through: number, open: number): TriangleMesh => {
  const [first, second] = [(through + 1) % 3, (through + 2) % 3]
  const outline = [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
  ] as const
  const positions: number[] = []
  for (const level of [-0.5, 0.5])
    for (const share of [1, open])
      for (const [u, v] of outline) {
        const point = [0, 0, 0]
        point[first] = u * share * (sizes[first] ?? 0)
        point[second] = v * share * (sizes[second] ?? 0)
        point[through] = level * (sizes[through] ?? 0)
        positions.push(...point)
      }
  const corners: number[] = []
  const quad = (a: number, b: number, c: number, d: number): void => void corners.push(a, b, c, a, c, d)
  for (let i = 0; i < 4; i += 1) {
    const j = (i + 1) % 4
    const [outer, inner, outerUp, innerUp] = [0, 4, 8, 12]
    quad(outer + i, outer + j, outerUp + j, outerUp + i)
    quad(inner + j, inner + i, innerUp + i, innerUp + j)
    quad(outer + j, outer + i, inner + i, inner + j)
    quad(outerUp + i, outerUp + j, innerUp + j, innerUp + i)
  }
  return { positions: Float64Array.from(positions), corners: Uint32Array.from(corners) }
}
