import { useId, useMemo } from 'react'
import { type Cut, sectionOf, stepsOf, throughCast } from '../../../../engine/pattern/section/index.ts'
import type { TriangleMesh } from '../../../../engine/piece/mesh/index.ts'
import { useNarrow } from '../../../state/narrow.ts'
import { useLengths } from './use-heights.ts'

/** Heights are drawn this many times as large as lengths, and the caption says so. */
const TALL = 2
const FLAT_LEAST = 0.03

/** A cut through the relief, hatched, with the height of each step written over it. */
export const SectionDrawing = ({
  mesh,
  cut,
  filing_mm,
  material,
  beforeBending,
}: {
  mesh: TriangleMesh
  cut: Cut
  /** left for the file, beyond which the cut goes too */
  filing_mm: number | undefined
  material: 'wax' | 'metal'
  /** the back is curved: lines and heights are those of the flat drawing, so the wax is cut before it bends */
  beforeBending: boolean
}) => {
  const id = useId()
  const narrow = useNarrow()
  const { write, label } = useLengths()
  const [[fx, fy], [tx, ty]] = throughCast(cut, filing_mm)
  const { loops, length_mm, problems } = useMemo(
    () => sectionOf(mesh, [fx, fy], [tx, ty]),
    [mesh, fx, fy, tx, ty],
  )
  const steps = useMemo(() => stepsOf(loops, Math.max(0.4, FLAT_LEAST * length_mm)), [loops, length_mm])
  const wide = narrow ? 358 : 520
  const margin = 8
  const scale = (wide - 2 * margin) / Math.max(1, length_mm)
  const heights = loops.flatMap((loop) => [...loop].filter((_, at) => at % 2 === 1))
  const [low, high] = [Math.min(0, ...heights), Math.max(1, ...heights)]
  const top = 26
  const base = top + high * scale * TALL
  const bottom = base - low * scale * TALL + 10
  const x = (along: number): number => margin + along * scale
  const y = (up: number): number => base - up * scale * TALL
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
  for (const step of steps) {
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
        {beforeBending && 'before it is bent, '}heights in {label}, drawn twice as tall
      </figcaption>
      {problems.length > 0 && loops.length === 0 ? (
        <p className="sm muted">The section meets nothing of the piece. Place it across the drawing.</p>
      ) : (
        <svg
          viewBox={`0 0 ${wide} ${bottom}`}
          width="100%"
          role="img"
          aria-label={`Section ${cut.name}, heights from left to right: ${said} ${label}`}
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
