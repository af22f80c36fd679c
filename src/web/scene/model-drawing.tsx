import { useEffect, useState } from 'react'
import type { ModelMeasure } from '../../engine/piece/mesh/index.ts'
import { nearness, OPENING_VIEW, type Place, project } from './view.ts'

/** Above this many triangles the drawing would be a grey block, and slow: the sizes say enough. */
const MOST_DRAWN = 12_000

interface Drawn {
  readonly model: ModelMeasure
}

const triangles = (mesh: {
  positions: ArrayLike<number>
  corners: ArrayLike<number>
}): readonly Place[][] => {
  const corner = (index: number): Place => [
    mesh.positions[index * 3] ?? 0,
    mesh.positions[index * 3 + 1] ?? 0,
    mesh.positions[index * 3 + 2] ?? 0,
  ]
  const count = Math.floor(mesh.corners.length / 3)
  return Array.from({ length: count }, (_, face) =>
    [0, 1, 2].map((side) => corner(mesh.corners[face * 3 + side] ?? 0)),
  )
}

const TONES = ['var(--wax-d)', 'var(--wax-s)', 'var(--wax-t)'] as const

/** Two flat tones and a top, by how a triangle faces the reader. */
const toneOf = (face: readonly Place[]): 0 | 1 | 2 => {
  const [a, b, c] = face
  if (a === undefined || b === undefined || c === undefined) return 1
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]]
  const normal: Place = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
  const length = Math.hypot(...normal) || 1
  if (normal[2] / length > 0.6) return 2
  return nearness(normal, OPENING_VIEW) / length > 0.35 ? 1 : 0
}

/** The model's own triangles, and over its holes the patch that would close them, hatched. */
export const ModelDrawing = ({
  sha256,
  name,
  units,
}: {
  sha256: string
  name: string
  units: 'mm' | 'in' | undefined
}) => {
  const [drawn, setDrawn] = useState<Drawn | undefined>(undefined)
  useEffect(() => {
    let current = true
    const read = async (): Promise<void> => {
      const [{ measureModel }, bytes] = await Promise.all([
        import('../../engine/piece/mesh/index.ts'),
        fetch(`/api/models/${sha256}`).then((response) => response.arrayBuffer()),
      ])
      // a drawing is not worth a long wait: large files are left to their sizes
      if (bytes.byteLength > 900_000) return
      const model = measureModel(new Uint8Array(bytes), name, { ...(units !== undefined && { units }) })
      if (current) setDrawn({ model })
    }
    read().catch(() => setDrawn(undefined))
    return () => {
      current = false
    }
  }, [sha256, name, units])
  if (drawn === undefined) return null
  const faces = triangles(drawn.model.mesh)
  if (faces.length === 0 || faces.length > MOST_DRAWN) return null
  const patch = drawn.model.repair === null ? [] : triangles(drawn.model.repair.patch)
  const spots = [...faces, ...patch].flat().map((place) => project(place, OPENING_VIEW))
  const [left, right] = [Math.min(...spots.map((s) => s[0])), Math.max(...spots.map((s) => s[0]))]
  const [top, bottom] = [Math.min(...spots.map((s) => s[1])), Math.max(...spots.map((s) => s[1]))]
  const size = Math.max(right - left, bottom - top) || 1
  const middle = (face: readonly Place[]): number =>
    face.reduce((sum, place) => sum + nearness(place, OPENING_VIEW), 0)
  const trace = (face: readonly Place[]): string =>
    `M${face
      .map((place) =>
        project(place, OPENING_VIEW)
          .map((n) => n.toFixed(3))
          .join(' '),
      )
      .join('L')}Z`
  const path = faces.toSorted((a, b) => middle(a) - middle(b))
  return (
    <svg
      viewBox={`${left - size * 0.03} ${top - size * 0.03} ${right - left + size * 0.06} ${bottom - top + size * 0.06}`}
      className="stand-in"
      width="100%"
      role="img"
      aria-label={`${name}, its ${faces.length} triangles${patch.length > 0 ? `, and a patch of ${patch.length} hatched` : ''}`}
    >
      <defs>
        <pattern
          id="patch"
          width={size / 60}
          height={size / 60}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d={`M0 0V${size / 60}`} stroke="var(--pencil)" strokeWidth={size / 150} />
        </pattern>
      </defs>
      {path.map((face) => (
        <path
          key={trace(face)}
          d={trace(face)}
          fill={TONES[toneOf(face)]}
          stroke="var(--wax)"
          strokeWidth={path.length > 2000 ? 0 : size / 700}
          strokeLinejoin="round"
        />
      ))}
      {patch.map((face) => (
        <path
          key={`patch ${trace(face)}`}
          d={trace(face)}
          fill="url(#patch)"
          stroke="var(--ink)"
          strokeWidth={size / 250}
        />
      ))}
    </svg>
  )
}
