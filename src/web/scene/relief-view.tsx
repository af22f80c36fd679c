import { type PointerEvent, useEffect, useLayoutEffect, useRef, useState } from 'react'
import type { TriangleMesh } from '../../engine/piece/mesh/index.ts'
import { pinched, type Turned, turnedBy } from './orbit.ts'
import type { ReliefEdges } from './relief-edges.ts'
import { type Label, placeLabels } from './relief-labels.ts'
import type { ReliefScene } from './relief-scene.ts'
import { type Place, project, type Spot, type View } from './view.ts'
import type { WallMap } from './wall-map.ts'

const DEGREE = Math.PI / 180

/** A relief lies flat, so that it is looked at from further above than a flask that stands. */
export const OPENING: Turned = { turn: 24, tip: 46, zoom: 1 }
export const FROM_THE_FRONT: Turned = { turn: 0, tip: 90, zoom: 1 }

const viewOf = ({ turn, tip }: Turned): View => ({ turn: turn * DEGREE, tip: tip * DEGREE })

export interface ReliefViewProps {
  readonly mesh: TriangleMesh
  readonly edges: ReliefEdges
  readonly bounds: { readonly min: readonly number[]; readonly max: readonly number[] }
  readonly labels: readonly { readonly at: Place; readonly text: string }[]
  readonly turned: Turned
  readonly onTurn: (turned: Turned) => void
  readonly material: 'wax' | 'metal'
  readonly groundTop: number
  readonly walls: WallMap | undefined
  readonly label: string
  /** told when the page can draw no 3D */
  readonly onFail: () => void
}

/** Room round the relief for its numbers, px. */
const RING = 34

/** The relief as it will look, turned by hand; its numbers stand round it on leaders. */
export const ReliefView = (props: ReliefViewProps) => {
  const { mesh, edges, bounds, turned, onTurn, material, walls, onFail } = props
  const field = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const scene = useRef<ReliefScene | undefined>(undefined)
  const [ready, setReady] = useState(false)
  const [size, setSize] = useState<readonly [number, number]>([520, 400])
  const [theme, setTheme] = useState('')
  const hands = useRef(new Map<number, Spot>())

  useLayoutEffect(() => {
    const element = field.current
    if (element === null) return
    const read = (): void => setSize([element.clientWidth || 520, element.clientHeight || 400])
    read()
    const watch = new ResizeObserver(read)
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  useEffect(() => {
    const watch = new MutationObserver(() => setTheme(document.documentElement.dataset.theme ?? ''))
    watch.observe(document.documentElement, { attributeFilter: ['data-theme'] })
    return () => watch.disconnect()
  }, [])
  useEffect(() => {
    let gone = false
    import('./relief-scene.ts')
      .then((loaded) => {
        if (gone || canvas.current === null) return
        scene.current = new loaded.ReliefScene(canvas.current)
        setReady(true)
      })
      .catch(() => {
        if (!gone) onFail()
      })
    return () => {
      gone = true
      scene.current?.dispose()
      scene.current = undefined
      setReady(false)
    }
  }, [onFail])
  useEffect(() => {
    if (ready) scene.current?.setMesh(mesh, edges)
  }, [ready, mesh, edges])
  // biome-ignore lint/correctness/useExhaustiveDependencies: walls belong to the mesh that is shown
  useEffect(() => {
    if (ready) scene.current?.setWalls(walls)
  }, [ready, mesh, walls])

  const [wide, high] = size
  const [min, max] = [bounds.min, bounds.max]
  const centre = [0, 1, 2].map((axis) => ((min[axis] ?? 0) + (max[axis] ?? 0)) / 2) as unknown as Place
  const across = Math.hypot((max[0] ?? 0) - (min[0] ?? 0), (max[1] ?? 0) - (min[1] ?? 0)) || 1
  // the same at every turn, so that a turning relief neither grows nor shrinks
  const [level, raised] = [Math.abs(Math.cos(turned.tip * DEGREE)), Math.abs(Math.sin(turned.tip * DEGREE))]
  const tall = across * raised + ((max[2] ?? 0) - (min[2] ?? 0)) * level
  const scale = Math.min((wide - 2 * RING) / across, (high - 2 * RING) / tall) * turned.zoom
  const view = viewOf(turned)

  // biome-ignore lint/correctness/useExhaustiveDependencies: drawn again when anything that shows changes
  useEffect(() => {
    if (!ready) return
    const asked = requestAnimationFrame(() =>
      scene.current?.draw(
        {
          view,
          scale,
          middle: centre,
          reach: across + 20,
          material,
          groundTop: props.groundTop,
          walls: walls !== undefined,
        },
        wide,
        high,
        Math.min(2, devicePixelRatio || 1),
      ),
    )
    return () => cancelAnimationFrame(asked)
  }, [ready, mesh, walls, turned, material, wide, high, theme, scale, props.groundTop])

  const spotOf = (place: Place): Spot => {
    const [x, y] = project([place[0] - centre[0], place[1] - centre[1], place[2] - centre[2]], view)
    return [wide / 2 + x * scale, high / 2 + y * scale]
  }
  // from behind every number would point through the piece
  const labels: readonly Label[] = (turned.tip > 0 ? props.labels : []).map(({ at, text }) => ({
    spot: spotOf(at),
    text,
  }))
  const placed = placeLabels(labels, [wide / 2, high / 2], [wide / 2 - 18, high / 2 - 18], 46)

  const move = (event: PointerEvent): void => {
    const before = hands.current.get(event.pointerId)
    if (before === undefined) return
    const now: Spot = [event.clientX, event.clientY]
    const others = [...hands.current].filter(([id]) => id !== event.pointerId).map(([, spot]) => spot)
    hands.current.set(event.pointerId, now)
    const [other] = others
    if (other !== undefined) {
      const [was, is] = [before, now].map(([x, y]) => Math.hypot(x - other[0], y - other[1]))
      onTurn(pinched(turned, was ?? 1, is ?? 1))
      return
    }
    onTurn(turnedBy(turned, now[0] - before[0], now[1] - before[1]))
  }
  const letGo = (event: PointerEvent): void => {
    hands.current.delete(event.pointerId)
  }

  return (
    <div
      className="relief-field"
      ref={field}
      onPointerDown={(event) => {
        if (event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        hands.current.set(event.pointerId, [event.clientX, event.clientY])
      }}
      onPointerMove={move}
      onPointerUp={letGo}
      onPointerCancel={letGo}
    >
      <canvas ref={canvas} role="img" aria-label={props.label} />
      <svg viewBox={`0 0 ${wide} ${high}`} width={wide} height={high} aria-hidden="true">
        {placed.map(({ spot, at, text }) => {
          const away = Math.hypot(spot[0] - at[0], spot[1] - at[1]) || 1
          const from = [at[0] + ((spot[0] - at[0]) / away) * 12, at[1] + ((spot[1] - at[1]) / away) * 12]
          return (
            <g key={text}>
              <path d={`M${from[0]} ${from[1]}L${spot[0]} ${spot[1]}`} stroke="var(--ink)" />
              <circle cx={spot[0]} cy={spot[1]} r="3" fill="var(--ink)" />
              <circle
                cx={at[0]}
                cy={at[1]}
                r="12"
                fill="var(--sheet)"
                stroke="var(--ink)"
                strokeWidth="1.3"
              />
              <text x={at[0]} y={at[1] + 5} fontSize="14" fontWeight="650" textAnchor="middle">
                {text}
              </text>
            </g>
          )
        })}
      </svg>
    </div>
  )
}
