import {
  type PointerEvent,
  type ReactNode,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import type { Heights } from '../../../../engine/documents/heights.ts'
import type { Gap, Mark, Place, Region } from '../../../../engine/pattern/drawing.ts'
import { footprintOf } from '../../../../engine/pattern/hardware/index.ts'
import { type Frame, pathOn } from './frame.ts'
import type { RegionGroup } from './groups.ts'
import { TOOLS, type Tool } from './tools.ts'

const regionPath = (frame: Frame, region: Region): string =>
  [region.outer, ...region.holes].map((loop) => pathOn(frame, loop, true)).join('')

const marksPath = (frame: Frame, marks: readonly Mark[]): string =>
  marks.flatMap(({ runs }) => runs.map(({ points, closed }) => pathOn(frame, points, closed))).join('')

/** Surface units to a pixel of the screen, so that numbers and lines keep their size on it. */
const useUnit = (surface: React.RefObject<HTMLDivElement | null>, width: number): number => {
  const [wide, setWide] = useState(480)
  useLayoutEffect(() => {
    const element = surface.current
    if (element === null) return
    setWide(element.clientWidth || 480)
    const watch = new ResizeObserver(() => setWide(element.clientWidth || 480))
    watch.observe(element)
    return () => watch.disconnect()
  }, [surface])
  return width / wide
}

const FILLS = {
  raised: 'var(--wax-t)',
  ground: 'var(--wax-s)',
  seat: 'var(--wax-d)',
  through: 'none',
} as const

export interface DrawingViewProps {
  readonly frame: Frame
  readonly label: string
  readonly regions: readonly Region[]
  readonly groups: readonly RegionGroup[]
  readonly marks: readonly Mark[]
  readonly gaps: readonly Gap[]
  readonly sections: Heights['sections']
  readonly chosen: readonly string[]
  readonly choose: (region: string | undefined) => void
  readonly tool: Tool
  /** the first of two places, once it is pressed */
  readonly from: Place | undefined
  readonly press: (place: Place) => void
  /** what stands on the back: dragged to where it belongs; one drag is one group */
  readonly hardware: Heights['hardware']
  readonly moveHardware: (which: number, place: Place, group: string) => void
  /** the photo beneath, with the trace laid over it */
  readonly photo?: ReactNode
  /** marks that are moved about on the photo */
  readonly over?: ReactNode
}

/** Crossing number of a loop at a place (even-odd). */
const isIn = (loop: Float64Array, [x, y]: Place): boolean => {
  let inside = false
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    const [xi = 0, yi = 0, xj = 0, yj = 0] = [loop[i], loop[i + 1], loop[j], loop[j + 1]]
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside
  }
  return inside
}

export const regionAt = (regions: readonly Region[], place: Place): Region | undefined =>
  regions.find(({ outer, holes }) => isIn(outer, place) && !holes.some((hole) => isIn(hole, place)))

interface Dragged {
  readonly which: number
  /** from the press to the hardware's own place, mm, so that it does not jump under the finger */
  readonly off: Place
  readonly group: string
}

/** Footprints of the hardware, dashed where it is behind; each is taken hold of by its outline or its inside. */
const HardwareOver = ({
  frame,
  unit,
  hardware,
  take,
}: {
  frame: Frame
  unit: number
  hardware: Heights['hardware']
  take: (which: number, event: PointerEvent<SVGPathElement>) => void
}) => (
  <g className="hardware-over">
    {hardware.map((one, index) => {
      const { loops, hidden } = footprintOf(one)
      const path = loops.map((loop) => pathOn(frame, loop, true)).join('')
      const [x, y] = frame.toView(one.at_mm)
      return (
        // biome-ignore lint/suspicious/noArrayIndexKey: hardware is told apart by its place in the list alone
        <g key={index}>
          <path
            d={path}
            strokeWidth={1.6 * unit}
            strokeDasharray={hidden ? `${6 * unit} ${3 * unit}` : undefined}
          />
          <circle cx={x} cy={y} r={3 * unit} />
          <path
            className="hold"
            data-hardware={index}
            d={`${path}M${x - 12 * unit} ${y}a${12 * unit} ${12 * unit} 0 1 0 ${24 * unit} 0a${12 * unit} ${12 * unit} 0 1 0 ${-24 * unit} 0`}
            strokeWidth={12 * unit}
            onPointerDown={(event) => take(index, event)}
          />
        </g>
      )
    })}
  </g>
)

/** The drawing with its regions and their numbers; on a photo the trace in green, so that it can be checked. */
export const DrawingView = (props: DrawingViewProps) => {
  const { frame, regions, groups, marks, gaps, sections, chosen, tool, from, photo } = props
  const surface = useRef<HTMLDivElement>(null)
  const unit = useUnit(surface, frame.width)
  const [over, setOver] = useState<Place | undefined>(undefined)
  const dragged = useRef<Dragged | undefined>(undefined)
  // a tool may be taken up far down the page; its places are pressed here
  useEffect(() => {
    if (tool !== 'look') surface.current?.scrollIntoView({ block: 'nearest' })
  }, [tool])
  const paths = useMemo(
    () => regions.map((region) => [region.id, regionPath(frame, region)] as const),
    [regions, frame],
  )
  const lines = useMemo(() => marksPath(frame, marks), [marks, frame])
  const roles = new Map(groups.flatMap((group) => group.regions.map((one) => [one.id, group.setting.role])))
  const placeOf = (event: PointerEvent): Place => {
    const box = event.currentTarget.getBoundingClientRect()
    return frame.toDrawing([
      ((event.clientX - box.left) / box.width) * frame.width,
      ((event.clientY - box.top) / box.height) * frame.height,
    ])
  }
  const picked = new Set(chosen)
  const onPhoto = photo !== undefined
  const line = (a: Place, b: Place): string => {
    const [x, y] = frame.toView(a)
    const [u, v] = frame.toView(b)
    return `M${x} ${y}L${u} ${v}`
  }
  return (
    <div
      className={`drawing-surface${onPhoto ? ' on-photo' : ''}${tool === 'look' ? '' : ' armed'}`}
      ref={surface}
    >
      {photo}
      <svg
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        width="100%"
        role="img"
        aria-label={props.label}
        onPointerMove={(event) => {
          const held = dragged.current
          if (held !== undefined) {
            const [px, py] = placeOf(event)
            props.moveHardware(held.which, [px + held.off[0], py + held.off[1]], held.group)
            return
          }
          if (tool !== 'look' && from !== undefined) setOver(placeOf(event))
        }}
        onPointerCancel={() => {
          dragged.current = undefined
        }}
        onPointerUp={(event) => {
          if (event.button !== 0) return
          if (dragged.current !== undefined) {
            dragged.current = undefined
            return
          }
          const place = placeOf(event)
          setOver(undefined)
          if (tool === 'look') props.choose(regionAt(regions, place)?.id)
          else props.press(place)
        }}
      >
        {!onPhoto &&
          paths.map(([id, path]) => (
            <path key={id} d={path} fill={FILLS[roles.get(id) ?? 'raised']} fillRule="evenodd" />
          ))}
        {onPhoto && (
          <path className="trace-edge" d={lines} fill="none" strokeWidth={5 * unit} strokeLinejoin="round" />
        )}
        <path
          d={lines}
          fill="none"
          stroke={onPhoto ? '#24603f' : 'var(--wax)'}
          strokeWidth={(onPhoto ? 2.4 : 1.6) * unit}
          strokeLinejoin="round"
          strokeLinecap="round"
        />
        {paths
          .filter(([id]) => picked.has(id))
          .map(([id, path]) => (
            <path
              key={`chosen ${id}`}
              d={path}
              fill="none"
              stroke="var(--pencil)"
              strokeWidth={3 * unit}
              strokeLinejoin="round"
            />
          ))}
        {gaps.map((gap) => {
          const [x, y] = frame.toView(gap.from_mm)
          return (
            <g key={`${x} ${y}`}>
              <path
                d={line(gap.from_mm, gap.to_mm)}
                stroke="var(--alert)"
                strokeWidth={2 * unit}
                strokeDasharray={`${3 * unit} ${3 * unit}`}
              />
              <circle cx={x} cy={y} r={9 * unit} fill="none" stroke="var(--alert)" strokeWidth={2 * unit} />
            </g>
          )
        })}
        {sections.map((section) => {
          const [x, y] = frame.toView(section.from_mm)
          const [u, v] = frame.toView(section.to_mm)
          return (
            <g key={section.name} className="cut-line">
              <path
                d={line(section.from_mm, section.to_mm)}
                strokeWidth={1.2 * unit}
                strokeDasharray={`${12 * unit} ${3 * unit} ${2 * unit} ${3 * unit}`}
              />
              {[
                [x, y],
                [u, v],
              ].map(([cx = 0, cy = 0], end) => (
                <text
                  // biome-ignore lint/suspicious/noArrayIndexKey: the two ends of one line
                  key={end}
                  x={cx}
                  y={cy - 5 * unit}
                  fontSize={14 * unit}
                  fontWeight="650"
                  textAnchor="middle"
                  strokeWidth={4 * unit}
                >
                  {section.name}
                </text>
              ))}
            </g>
          )
        })}
        {groups.map((group) => {
          const [x, y] = frame.toView(group.regions[0]?.at_mm ?? [0, 0])
          return (
            <g key={group.key} className="number">
              <circle cx={x} cy={y} r={10 * unit} strokeWidth={1.3 * unit} />
              <text x={x} y={y + 4.6 * unit} fontSize={13 * unit} textAnchor="middle" fontWeight="650">
                {group.number}
              </text>
            </g>
          )
        })}
        <HardwareOver
          frame={frame}
          unit={unit}
          hardware={props.hardware}
          take={(which, event) => {
            const svg = event.currentTarget.ownerSVGElement
            const at = props.hardware[which]?.at_mm
            if (tool !== 'look' || event.button !== 0 || svg === null || at === undefined) return
            const box = svg.getBoundingClientRect()
            const [px, py] = frame.toDrawing([
              ((event.clientX - box.left) / box.width) * frame.width,
              ((event.clientY - box.top) / box.height) * frame.height,
            ])
            svg.setPointerCapture(event.pointerId)
            dragged.current = {
              which,
              off: [at[0] - px, at[1] - py],
              group: `hardware ${which} ${event.timeStamp}`,
            }
          }}
        />
        {from !== undefined && (
          <g>
            {over !== undefined && tool !== 'look' && TOOLS[tool].places === 2 && (
              <path
                d={line(from, over)}
                stroke="var(--pencil)"
                strokeWidth={2 * unit}
                strokeDasharray={`${5 * unit} ${4 * unit}`}
              />
            )}
            <circle
              cx={frame.toView(from)[0]}
              cy={frame.toView(from)[1]}
              r={6 * unit}
              fill="var(--sheet)"
              stroke="var(--pencil)"
              strokeWidth={2.4 * unit}
            />
          </g>
        )}
      </svg>
      {props.over}
    </div>
  )
}
