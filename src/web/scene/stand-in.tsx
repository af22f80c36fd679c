import { facesOf, pathOf, project, type Spot, type View } from './view.ts'

const VIEW: View = { turn: -0.62, tip: 0.42 }
const TONES = { top: 'var(--wax-d)', light: 'var(--wax-s)', dark: 'var(--wax-t)' } as const

const along = (a: Spot, b: Spot, out: Spot, size: number, text: string, unit: number) => {
  const [ax, ay] = [a[0] + out[0] * 2.4 * unit, a[1] + out[1] * 2.4 * unit]
  const [bx, by] = [b[0] + out[0] * 2.4 * unit, b[1] + out[1] * 2.4 * unit]
  const length = Math.hypot(bx - ax, by - ay) || 1
  const [dx, dy] = [(bx - ax) / length, (by - ay) / length]
  const head = (x: number, y: number, way: number): string =>
    `M${x} ${y}L${x + way * dx * 0.9 * unit - dy * 0.24 * unit} ${y + way * dy * 0.9 * unit + dx * 0.24 * unit}L${x + way * dx * 0.9 * unit + dy * 0.24 * unit} ${y + way * dy * 0.9 * unit - dx * 0.24 * unit}Z`
  return (
    <g key={text + size}>
      <path
        d={`M${a[0] + out[0] * 0.5 * unit} ${a[1] + out[1] * 0.5 * unit}L${ax + out[0] * 0.6 * unit} ${ay + out[1] * 0.6 * unit}M${b[0] + out[0] * 0.5 * unit} ${b[1] + out[1] * 0.5 * unit}L${bx + out[0] * 0.6 * unit} ${by + out[1] * 0.6 * unit}M${ax} ${ay}L${bx} ${by}`}
        stroke="var(--ink)"
        strokeWidth={0.09 * unit}
        fill="none"
      />
      <path d={head(ax, ay, 1) + head(bx, by, -1)} fill="var(--ink)" />
      <text
        x={(ax + bx) / 2 + out[0] * 1.7 * unit}
        y={(ay + by) / 2 + out[1] * 1.7 * unit + 0.5 * unit}
        fontSize={1.55 * unit}
        fontWeight="600"
        textAnchor="middle"
        className="pencil"
      >
        {text}
      </text>
    </g>
  )
}

/** A plain block of the caster's outside measures, with those measures. Lengths in mm. */
export const StandIn = ({
  length,
  width,
  height,
  write,
  name,
}: {
  length: number
  width: number
  height: number
  write: (length_mm: number) => string
  name: string
}) => {
  const [x, y] = [length / 2, width / 2]
  const corners = [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ] as const
  const block = { corners, bottom: 0, top: height }
  const faces = facesOf(block, VIEW)
  const spots = faces.flatMap((face) => face.spots)
  const xs = spots.map((spot) => spot[0])
  const ys = spots.map((spot) => spot[1])
  const unit = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) / 14
  const at = (px: number, py: number, pz: number): Spot => project([px, py, pz], VIEW)
  const outOf = (a: Spot, b: Spot): Spot => {
    const length2 = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
    return [-(b[1] - a[1]) / length2, (b[0] - a[0]) / length2]
  }
  // the lower edges that face the reader carry length and width; the left upright carries the height
  const [fl, fr, br] = [at(-x, y, 0), at(x, y, 0), at(x, -y, 0)]
  const down = (spot: Spot): Spot => (spot[1] >= 0 ? spot : [-spot[0], -spot[1]])
  const leftmost = faces
    .flatMap((face) => face.spots)
    .reduce((best, spot) => (spot[0] < best[0] ? spot : best), [Infinity, 0] as Spot)
  const foot: Spot = [leftmost[0], project([-x, y, 0], VIEW)[1]]
  return (
    <svg
      viewBox={`${Math.min(...xs) - 6 * unit} ${Math.min(...ys) - 1.5 * unit} ${Math.max(...xs) - Math.min(...xs) + 11 * unit} ${Math.max(...ys) - Math.min(...ys) + 7 * unit}`}
      width="100%"
      className="stand-in"
      role="img"
      aria-label={`${name}, a block ${write(length)} by ${write(width)} by ${write(height)}`}
    >
      {faces.map((face) => (
        <path
          key={pathOf(face.spots)}
          d={pathOf(face.spots)}
          fill={TONES[face.tone]}
          stroke="var(--wax)"
          strokeWidth={0.13 * unit}
          strokeLinejoin="round"
        />
      ))}
      {along(fl, fr, down(outOf(fl, fr)), 1, write(length), unit)}
      {along(fr, br, down(outOf(fr, br)), 2, write(width), unit)}
      {along(foot, [foot[0], foot[1] - height * Math.cos(VIEW.tip)], [-1, 0], 3, write(height), unit)}
    </svg>
  )
}
