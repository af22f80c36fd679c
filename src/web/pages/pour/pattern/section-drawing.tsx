import { useId, useMemo } from 'react'
import type { Place, Region } from '../../../../engine/pattern/drawing.ts'
import { sectionOf, stepsOf } from '../../../../engine/pattern/section/index.ts'
import type { TriangleMesh } from '../../../../engine/piece/mesh/index.ts'
import { useNarrow } from '../../../state/narrow.ts'
import type { RegionGroup } from './groups.ts'
import { useLengths } from './use-heights.ts'

export interface Cut {
  readonly name: string
  readonly from_mm: Place
  readonly to_mm: Place
  /** what it goes across, where nobody placed it */
  readonly across?: string
}

const BEYOND_MM = 1

/** Until the caster places one: across the seat, or through the middle. */
export const usualCut = (
  bounds: { readonly min: readonly number[]; readonly max: readonly number[] },
  groups: readonly RegionGroup[],
): Cut => {
  const seat: Region | undefined = groups.find(({ setting }) => setting.role === 'seat')?.regions[0]
  const y = seat?.at_mm[1] ?? ((bounds.min[1] ?? 0) + (bounds.max[1] ?? 0)) / 2
  return {
    name: 'A',
    from_mm: [(bounds.min[0] ?? 0) - BEYOND_MM, y],
    to_mm: [(bounds.max[0] ?? 0) + BEYOND_MM, y],
    across: seat === undefined ? 'the middle' : 'the seat',
  }
}

/** Heights are drawn this many times as large as lengths, and the caption says so. */
const TALL = 2
const FLAT_LEAST = 0.03

/** A cut through the relief, hatched, with the height of each step written over it. */
export const SectionDrawing = ({
  mesh,
  cut,
  material,
  bent,
}: {
  mesh: TriangleMesh
  cut: Cut
  material: 'wax' | 'metal'
  /** the back is curved: drawn true, and no height is written, since heights are measured before bending */
  bent: boolean
}) => {
  const id = useId()
  const narrow = useNarrow()
  const { write, label } = useLengths()
  const { from_mm, to_mm } = cut
  const [fx, fy] = from_mm
  const [tx, ty] = to_mm
  const { loops, length_mm, problems } = useMemo(
    () => sectionOf(mesh, [fx, fy], [tx, ty]),
    [mesh, fx, fy, tx, ty],
  )
  const steps = useMemo(() => stepsOf(loops, Math.max(0.4, FLAT_LEAST * length_mm)), [loops, length_mm])
  const wide = narrow ? 358 : 520
  const margin = 8
  const scale = (wide - 2 * margin) / Math.max(1, length_mm)
  const tall = bent ? 1 : TALL
  const heights = loops.flatMap((loop) => [...loop].filter((_, at) => at % 2 === 1))
  const [low, high] = [Math.min(0, ...heights), Math.max(1, ...heights)]
  const top = 26
  const base = top + high * scale * tall
  const bottom = base - low * scale * tall + 10
  const x = (along: number): number => margin + along * scale
  const y = (up: number): number => base - up * scale * tall
  const path = loops
    .map((loop) => {
      let trace = ''
      for (let at = 0; at < loop.length; at += 2)
        trace += `${at === 0 ? 'M' : 'L'}${x(loop[at] ?? 0).toFixed(2)} ${y(loop[at + 1] ?? 0).toFixed(2)}`
      return `${trace}Z`
    })
    .join('')
  const line = material === 'wax' ? 'var(--wax)' : 'var(--metal)'
  const fill = material === 'wax' ? 'var(--wax-t)' : 'var(--metal-t)'
  // numbers that would run into one another stand by turns higher
  const written: { at: number; up: number; text: string }[] = []
  for (const step of bent ? [] : steps) {
    const at = x((step.from_mm + step.to_mm) / 2)
    const text = write(step.height_mm)
    const last = written.at(-1)
    if (last !== undefined && last.text === text && at - last.at < 60) continue
    const crowded =
      last !== undefined && at - last.at < 30 && Math.abs(last.up - (y(step.height_mm) - 5)) < 14
    written.push({ at, up: y(step.height_mm) - 5 - (crowded ? 14 : 0), text })
  }
  const said = steps.map((step) => write(step.height_mm)).join(', ')
  return (
    <figure className="section-drawing">
      <figcaption className="lb">
        Section {cut.name}, {cut.across === undefined ? 'as placed' : `across ${cut.across}`},{' '}
        {bent ? 'as it bends; heights are in the table' : `heights in ${label}, drawn twice as tall`}
      </figcaption>
      {problems.length > 0 && loops.length === 0 ? (
        <p className="sm muted">The section meets nothing of the piece. Place it across the drawing.</p>
      ) : (
        <svg
          viewBox={`0 0 ${wide} ${bottom}`}
          width="100%"
          role="img"
          aria-label={
            bent
              ? `Section ${cut.name}, as it bends`
              : `Section ${cut.name}, heights from left to right: ${said} ${label}`
          }
        >
          <defs>
            <pattern
              id={`${id}hatch`}
              width="6"
              height="6"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <rect width="6" height="6" fill={fill} />
              <path d="M0 0V6" stroke={line} strokeWidth=".9" />
            </pattern>
          </defs>
          <path d={path} fill={`url(#${id}hatch)`} fillRule="evenodd" stroke={line} strokeWidth="1.6" />
          {written.map(({ at, up, text }) => (
            <text
              key={`${at} ${up}`}
              x={at}
              y={up}
              fontSize="13"
              fontWeight="600"
              textAnchor="middle"
              className="halo"
            >
              {text}
            </text>
          ))}
        </svg>
      )}
    </figure>
  )
}
