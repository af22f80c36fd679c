import type { RegionEdge } from '../../../../engine/documents/heights.ts'
import { LengthEntry } from './length-entry.tsx'

export const EDGE_NAMES = {
  square: 'square',
  bevelled: 'bevelled',
  rounded: 'rounded',
  domed: 'domed',
} as const

type Shape = keyof typeof EDGE_NAMES

const asked = (height_mm: number, edge: RegionEdge | undefined, shape: Shape): RegionEdge => {
  if (shape === 'square') return { shape }
  const before = edge !== undefined && edge.shape !== 'square' ? edge : undefined
  const least = Math.min(0.5, height_mm / 2)
  return { shape, width_mm: before?.width_mm ?? 1, height_mm: before?.height_mm ?? Number(least.toFixed(2)) }
}

export const EdgeChoice = ({
  title,
  edge,
  height_mm,
  onChange,
}: {
  title: string
  edge: RegionEdge | undefined
  height_mm: number
  onChange: (edge: RegionEdge) => void
}) => (
  <select
    className="asked"
    aria-label={title}
    value={edge?.shape ?? 'square'}
    onChange={(event) => onChange(asked(height_mm, edge, event.target.value as Shape))}
  >
    {Object.entries(EDGE_NAMES).map(([shape, name]) => (
      <option key={shape} value={shape}>
        {name}
      </option>
    ))}
  </select>
)

/** How far in from the outline the edge reaches, and how far down from the top. */
export const EdgeSize = ({
  title,
  edge,
  onChange,
}: {
  title: string
  edge: RegionEdge | undefined
  onChange: (edge: RegionEdge, group: string) => void
}) => {
  if (edge === undefined || edge.shape === 'square') return null
  return (
    <span className="edge-size">
      <LengthEntry
        title={`${title}, width`}
        value={edge.width_mm}
        least={0.05}
        most={60}
        hideLabel
        onChange={(width_mm, group) => onChange({ ...edge, width_mm }, group)}
      />{' '}
      wide,{' '}
      <LengthEntry
        title={`${title}, drop`}
        value={edge.height_mm}
        least={0.05}
        most={60}
        hideLabel
        onChange={(height_mm, group) => onChange({ ...edge, height_mm }, group)}
      />{' '}
      down
    </span>
  )
}
