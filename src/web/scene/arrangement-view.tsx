import { type KeyboardEvent, type PointerEvent, useEffect, useLayoutEffect, useRef, useState } from 'react'
import { leant, motionTo, type Stand, standOf } from '../../engine/arrange/index.ts'
import type { Point, Transform } from '../../engine/piece/mesh/index.ts'
import type { ArrangementScene, ScenePart } from './arrangement-scene.ts'
import { pinched, type Turned, turnedBy } from './orbit.ts'
import { directionsOf, project, type Spot, type View } from './view.ts'

const DEGREE = Math.PI / 180

/** A wax that may be taken hold of. */
export interface HeldWax {
  readonly id: string
  readonly name: string
  readonly motion: Transform
  readonly middle: Point
  readonly radius: number
}

export interface HeldSprue {
  readonly id: string
  readonly name: string
  /** the part it joins */
  readonly wax: string
  readonly joint: Point
  readonly axis: Point
}

export interface DrawnDimension {
  readonly points: readonly [Point, Point]
  readonly text: string
  readonly broken: boolean
}

export interface ArrangementViewProps {
  readonly parts: readonly ScenePart[]
  readonly flask: { readonly diameter_mm: number; readonly height_mm: number }
  readonly turned: Turned
  readonly onTurn: (turned: Turned) => void
  readonly dimensions: readonly DrawnDimension[]
  readonly wax: HeldWax | undefined
  readonly sprue: HeldSprue | undefined
  /** what a press does: take hold, or mark a place on a wax */
  readonly pressing: 'hold' | 'mark'
  readonly onChoose: (id: string | undefined) => void
  readonly onMark: (id: string, at: Point) => void
  readonly onMove: (motion: Transform, done: boolean) => void
  /** a move was broken off, such as by the browser's own scrolling */
  readonly onLeave: () => void
  readonly onJoint: (at: Point, done: boolean) => void
  readonly onAxis: (axis: number, done: boolean) => void
  readonly label: string
  readonly onFail: () => void
}

const RING = 30
/** A press that goes no further than this is a tap, px. */
const TAP = 5
const HANDLE = 44

type Way = 'angle' | 'up' | 'out' | 'tilt' | 'roll'
const WAYS: readonly {
  readonly way: Way
  readonly title: string
  readonly at: Spot
  readonly icon: string
}[] = [
  { way: 'up', title: 'Up and down', at: [0, -1], icon: 'M8 1v14M4 5l4-4 4 4M4 11l4 4 4-4' },
  { way: 'angle', title: 'Round the axis', at: [1, 0], icon: 'M2 10a6.5 4 0 0 0 12 0M14 14v-4h-4M2 14v-4h4' },
  { way: 'out', title: 'Outward', at: [0, 1], icon: 'M1 8h14M5 4 1 8l4 4M11 4l4 4-4 4' },
  { way: 'tilt', title: 'Tilt', at: [-1, -0.42], icon: 'M4 14V3M4 14 12 5M9 3a7 7 0 0 1 4 4' },
  { way: 'roll', title: 'Roll', at: [-1, 0.42], icon: 'M13 8a5 5 0 1 1-2-4M11 1v3H8' },
]

const within = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value))

const changedStand = (motion: Transform, middle: Point, way: Way, by: number): Transform => {
  if (way === 'tilt' || way === 'roll') return leant(motion, middle, way, by)
  const stand: Stand = standOf(motion, middle)
  return motionTo({ ...stand, [way]: way === 'out' ? Math.max(0, stand.out + by) : stand[way] + by }, middle)
}

type Hold =
  | { readonly kind: 'turn' }
  | { readonly kind: 'press'; readonly id: string | undefined; readonly from: Spot }
  | { readonly kind: 'wax'; readonly from: Spot; readonly motion: Transform; last?: Transform }

/** The flask with its waxes, turned by hand; what is chosen has handles. */
export const ArrangementView = (props: ArrangementViewProps) => {
  const { parts, flask, turned, onTurn, wax, sprue, onFail } = props
  const field = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const scene = useRef<ArrangementScene | undefined>(undefined)
  const [ready, setReady] = useState(false)
  const [[wide, high], setSize] = useState<Spot>([520, 480])
  const [theme, setTheme] = useState('')
  const hands = useRef(new Map<number, Spot>())
  const hold = useRef<Hold>({ kind: 'turn' })

  useLayoutEffect(() => {
    const element = field.current
    if (element === null) return
    const read = (): void => setSize([element.clientWidth || 520, element.clientHeight || 480])
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
    import('./arrangement-scene.ts')
      .then((loaded) => {
        if (gone || canvas.current === null) return
        scene.current = new loaded.ArrangementScene(canvas.current)
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

  const centre: Point = [0, 0, flask.height_mm / 2]
  const tall =
    flask.height_mm * Math.abs(Math.cos(turned.tip * DEGREE)) +
    flask.diameter_mm * Math.abs(Math.sin(turned.tip * DEGREE))
  const scale = Math.min((wide - 2 * RING) / flask.diameter_mm, (high - 2 * RING) / tall) * turned.zoom
  const view: View = { turn: turned.turn * DEGREE, tip: turned.tip * DEGREE }
  const reach = flask.diameter_mm + flask.height_mm

  // biome-ignore lint/correctness/useExhaustiveDependencies: drawn again when anything that shows changes
  useEffect(() => {
    if (!ready) return
    const asked = requestAnimationFrame(() => {
      scene.current?.setParts(parts)
      scene.current?.draw(
        { view, scale, middle: centre, reach },
        wide,
        high,
        Math.min(2, devicePixelRatio || 1),
      )
    })
    return () => cancelAnimationFrame(asked)
  }, [ready, parts, turned, wide, high, theme, scale])

  const spotOf = (place: Point): Spot => {
    const [x, y] = project([place[0] - centre[0], place[1] - centre[1], place[2] - centre[2]], view)
    return [wide / 2 + x * scale, high / 2 + y * scale]
  }
  const { right, down } = directionsOf(view)
  const spotIn = (event: { clientX: number; clientY: number }): Spot => {
    const box = field.current?.getBoundingClientRect()
    return [event.clientX - (box?.left ?? 0), event.clientY - (box?.top ?? 0)]
  }
  const pickAt = ([x, y]: Spot, only?: string) =>
    scene.current?.pick((2 * x) / wide - 1, 1 - (2 * y) / high, only)

  /** The wax carried along in the plane of the picture, keeping the side it turns to the axis. */
  const carried = (motion: Transform, middle: Point, [dx, dy]: Spot): Transform => {
    const stand = standOf(motion, middle)
    const [x, y] = [stand.out * Math.cos(stand.angle * DEGREE), stand.out * Math.sin(stand.angle * DEGREE)]
    const go = (axis: 0 | 1 | 2): number => (dx * right[axis] + dy * down[axis]) / scale
    const [nx, ny] = [x + go(0), y + go(1)]
    return motionTo(
      {
        ...stand,
        angle: Math.atan2(ny, nx) / DEGREE,
        out: Math.hypot(nx, ny),
        up: stand.up + go(2),
      },
      middle,
    )
  }

  const press = (event: PointerEvent): void => {
    if (event.button !== 0) return
    event.currentTarget.setPointerCapture(event.pointerId)
    const spot = spotIn(event)
    hands.current.set(event.pointerId, spot)
    if (hands.current.size > 1) {
      hold.current = { kind: 'turn' }
      return
    }
    const under = pickAt(spot)?.id
    hold.current =
      props.pressing === 'hold' && wax !== undefined && under === wax.id
        ? { kind: 'wax', from: spot, motion: wax.motion }
        : { kind: 'press', id: under, from: spot }
  }
  const drag = (event: PointerEvent): void => {
    const before = hands.current.get(event.pointerId)
    if (before === undefined) return
    const now = spotIn(event)
    const other = [...hands.current].find(([id]) => id !== event.pointerId)?.[1]
    hands.current.set(event.pointerId, now)
    if (other !== undefined) {
      const [was, is] = [before, now].map(([x, y]) => Math.hypot(x - other[0], y - other[1]))
      onTurn(pinched(turned, was ?? 1, is ?? 1))
      return
    }
    const held = hold.current
    if (held.kind === 'press' && Math.hypot(now[0] - held.from[0], now[1] - held.from[1]) > TAP)
      hold.current = { kind: 'turn' }
    if (held.kind === 'wax' && wax !== undefined) {
      const by: Spot = [now[0] - held.from[0], now[1] - held.from[1]]
      if (held.last === undefined && Math.hypot(...by) <= TAP) return
      held.last = carried(held.motion, wax.middle, by)
      props.onMove(held.last, false)
    } else if (hold.current.kind === 'turn') onTurn(turnedBy(turned, now[0] - before[0], now[1] - before[1]))
  }
  const letGo = (event: PointerEvent): void => {
    if (!hands.current.delete(event.pointerId)) return
    const held = hold.current
    hold.current = { kind: 'turn' }
    if (event.type === 'pointercancel') {
      if (held.kind === 'wax') props.onLeave()
      return
    }
    if (held.kind === 'wax' && held.last !== undefined) props.onMove(held.last, true)
    if (held.kind !== 'press') return
    const found = pickAt(spotIn(event))
    if (props.pressing === 'hold') props.onChoose(found?.id)
    else if (found !== undefined) props.onMark(found.id, found.at)
  }

  const heldWay = useRef<{ way: Way; from: Spot; motion: Transform; last?: Transform } | undefined>(undefined)
  /** How much of a way a finger went, mm or degrees. */
  const gone = (way: Way, motion: Transform, middle: Point, [dx, dy]: Spot): number => {
    if (way === 'up') return -dy / scale / Math.max(0.3, Math.cos(view.tip))
    if (way === 'tilt' || way === 'roll') return dx * 0.5
    const { angle, out } = standOf(motion, middle)
    const turn = angle * DEGREE
    const along: Point =
      way === 'out' ? [Math.cos(turn), Math.sin(turn), 0] : [-Math.sin(turn), Math.cos(turn), 0]
    const [px, py] = project(along, view)
    const seen = Math.hypot(px, py)
    // a way that points at the reader is seen too short to follow: then across counts
    const mm = seen > 0.3 ? (dx * px + dy * py) / seen / seen / scale : dx / scale
    return way === 'out' ? mm : mm / Math.max(out, 5) / DEGREE
  }
  const stepOf = (way: Way, event: KeyboardEvent): number | undefined => {
    const sign = ['ArrowRight', 'ArrowUp'].includes(event.key)
      ? 1
      : ['ArrowLeft', 'ArrowDown'].includes(event.key)
        ? -1
        : 0
    if (sign === 0) return undefined
    const large = way === 'up' || way === 'out' ? 1 : 5
    return sign * (event.shiftKey ? large / 5 : large)
  }

  const top = spotOf([0, 0, flask.height_mm])
  const foot = spotOf([0, 0, 0])
  const across = (flask.diameter_mm / 2) * scale
  const deep = across * Math.abs(Math.sin(view.tip))
  const fromAbove = view.tip >= 0
  const rim = fromAbove ? top : foot
  const back = fromAbove ? foot : top

  const handles = (): Spot[] => {
    if (wax === undefined) return []
    const { out, angle, up } = standOf(wax.motion, wax.middle)
    const middle = spotOf([out * Math.cos(angle * DEGREE), out * Math.sin(angle * DEGREE), up])
    const ring = within(wax.radius * scale + 22, 52, 110)
    return WAYS.map(
      ({ at }): Spot => [
        within(middle[0] + at[0] * ring, HANDLE / 2, wide - HANDLE / 2),
        within(middle[1] + at[1] * ring, HANDLE / 2, high - HANDLE / 2),
      ],
    )
  }
  const spots = handles()

  // labels keep off one another and off the handles
  const taken = spots.map(([x, y]) => ({ x, y, half: 16, deep: 28 }))
  const dimensions = props.dimensions.map((dimension) => {
    const [a, b] = dimension.points.map(spotOf) as [Spot, Spot]
    const size = Math.hypot(b[0] - a[0], b[1] - a[1])
    const half = 5 + dimension.text.length * 4.2
    const x = within((a[0] + b[0]) / 2, half, wide - half)
    let y = within((a[1] + b[1]) / 2 - 12, 16, high - 8)
    for (let k = 0; k < 10; k += 1) {
      const hit = taken.find((one) => Math.abs(one.x - x) < one.half + half && Math.abs(one.y - y) < one.deep)
      if (hit === undefined) break
      y = hit.y + hit.deep + 1
    }
    taken.push({ x, y, half, deep: 20 })
    return { ...dimension, a, b, size, at: [x, y] as Spot, half }
  })

  const standsAt = (way: Way): number => {
    if (wax === undefined) return 0
    return Math.round(standOf(wax.motion, wax.middle)[way] * 10) / 10
  }

  const heldSprue = useRef<{ kind: 'joint' | 'axis'; last?: Point | number } | undefined>(undefined)
  const sprueDrag = (event: PointerEvent, kind: 'joint' | 'axis', done: boolean): void => {
    if (sprue === undefined || heldSprue.current?.kind !== kind) return
    const spot = spotIn(event)
    if (!done && kind === 'joint') {
      const on = pickAt(spot, sprue.wax)?.at
      if (on !== undefined) {
        heldSprue.current.last = on
        props.onJoint(on, false)
      }
    } else if (!done) {
      const z = flask.height_mm / 2 - (spot[1] - high / 2) / scale / Math.max(0.3, Math.cos(view.tip))
      const axis = within(z, 0, flask.height_mm)
      heldSprue.current.last = axis
      props.onAxis(axis, false)
    } else {
      const { last } = heldSprue.current
      heldSprue.current = undefined
      if (typeof last === 'number') props.onAxis(last, true)
      else if (last !== undefined) props.onJoint(last, true)
    }
  }

  return (
    <div className="arrangement-field" ref={field}>
      <div
        className={wax === undefined ? 'arrangement-hands' : 'arrangement-hands holding'}
        onPointerDown={press}
        onPointerMove={drag}
        onPointerUp={letGo}
        onPointerCancel={letGo}
      >
        <canvas ref={canvas} role="img" aria-label={props.label} />
        <svg viewBox={`0 0 ${wide} ${high}`} width={wide} height={high} aria-hidden="true">
          <g fill="none" stroke="var(--ink)" strokeWidth="1.6">
            <ellipse cx={rim[0]} cy={rim[1]} rx={across} ry={deep} />
            <path
              d={`M${back[0] - across} ${back[1]}A${across} ${deep} 0 0 ${fromAbove ? 0 : 1} ${back[0] + across} ${back[1]}`}
            />
            <path
              d={`M${back[0] - across} ${back[1]}A${across} ${deep} 0 0 ${fromAbove ? 1 : 0} ${back[0] + across} ${back[1]}`}
              strokeDasharray="6 5"
              strokeWidth="1"
              stroke="var(--line)"
            />
            <path
              d={`M${top[0] - across} ${top[1]}L${foot[0] - across} ${foot[1]}M${top[0] + across} ${top[1]}L${foot[0] + across} ${foot[1]}`}
            />
          </g>
          {dimensions.map(({ a, b, size, at, half, text, broken }) => {
            const [u, v] = size > 1e-6 ? [(b[0] - a[0]) / size, (b[1] - a[1]) / size] : [1, 0]
            const head = Math.min(9, size / 2.2)
            const arrow = ([x, y]: Spot, s: number): string =>
              `M${x} ${y}L${x - s * head * u - 0.13 * head * v * 2} ${y - s * head * v + 0.13 * head * u * 2}L${x - s * head * u + 0.13 * head * v * 2} ${y - s * head * v - 0.13 * head * u * 2}Z`
            const ink = broken ? 'var(--alert)' : 'var(--ink)'
            return (
              <g key={`${text} ${a.join()} ${b.join()} ${at.join()}`}>
                <path d={`M${a[0]} ${a[1]}L${b[0]} ${b[1]}`} stroke={ink} strokeWidth={broken ? 2.4 : 1.2} />
                {size > 3 && <path d={arrow(a, -1) + arrow(b, 1)} fill={ink} />}
                <path
                  d={`M${(a[0] + b[0]) / 2} ${(a[1] + b[1]) / 2}L${at[0]} ${at[1]}`}
                  stroke={ink}
                  strokeWidth="0.7"
                />
                <rect
                  x={at[0] - half}
                  y={at[1] - 10}
                  width={2 * half}
                  height="19"
                  fill="var(--sheet)"
                  stroke={ink}
                  strokeWidth={broken ? 1.6 : 0.6}
                />
                <text
                  x={at[0]}
                  y={at[1] + 4.5}
                  fontSize="13.5"
                  fontWeight={broken ? 700 : 500}
                  textAnchor="middle"
                  fill={ink}
                >
                  {text}
                </text>
              </g>
            )
          })}
        </svg>
      </div>
      {ready &&
        props.pressing === 'hold' &&
        wax !== undefined &&
        WAYS.map(({ way, title, icon }, index) => (
          <button
            key={way}
            type="button"
            className="hand"
            role="slider"
            aria-label={`${title}, ${wax.name}`}
            aria-valuenow={standsAt(way)}
            aria-valuetext={`${standsAt(way)} ${way === 'up' || way === 'out' ? 'mm' : 'degrees'}`}
            style={{ left: spots[index]?.[0], top: spots[index]?.[1] }}
            onPointerDown={(event) => {
              event.currentTarget.setPointerCapture(event.pointerId)
              heldWay.current = { way, from: [event.clientX, event.clientY], motion: wax.motion }
            }}
            onPointerMove={(event) => {
              const held = heldWay.current
              if (held === undefined || held.way !== way) return
              const by: Spot = [event.clientX - held.from[0], event.clientY - held.from[1]]
              held.last = changedStand(held.motion, wax.middle, way, gone(way, held.motion, wax.middle, by))
              props.onMove(held.last, false)
            }}
            onPointerUp={() => {
              const last = heldWay.current?.last
              heldWay.current = undefined
              if (last !== undefined) props.onMove(last, true)
            }}
            onPointerCancel={() => {
              heldWay.current = undefined
              props.onLeave()
            }}
            onKeyDown={(event) => {
              const step = stepOf(way, event)
              if (step === undefined) return
              event.preventDefault()
              props.onMove(changedStand(wax.motion, wax.middle, way, step), true)
            }}
          >
            <svg viewBox="0 0 16 16" width="18" height="18" aria-hidden="true">
              <path d={icon} fill="none" stroke="currentColor" strokeWidth="1.7" />
            </svg>
          </button>
        ))}
      {ready &&
        props.pressing === 'hold' &&
        sprue !== undefined &&
        (['joint', 'axis'] as const).map((kind) => {
          const [left, upper] = spotOf(sprue[kind])
          return (
            <button
              key={kind}
              type="button"
              className="hand dot"
              role="slider"
              aria-label={
                kind === 'joint' ? `Where ${sprue.name} joins` : `Where ${sprue.name} leaves the main sprue`
              }
              aria-valuenow={Math.round(sprue[kind][2] * 10) / 10}
              aria-valuetext={`${Math.round(sprue[kind][2] * 10) / 10} mm up`}
              style={{ left, top: upper }}
              onPointerDown={(event) => {
                event.currentTarget.setPointerCapture(event.pointerId)
                heldSprue.current = { kind }
              }}
              onPointerMove={(event) => sprueDrag(event, kind, false)}
              onPointerUp={(event) => sprueDrag(event, kind, true)}
              onPointerCancel={() => {
                heldSprue.current = undefined
                props.onLeave()
              }}
              onKeyDown={(event) => {
                const step = stepOf('up', event)
                if (step === undefined) return
                event.preventDefault()
                if (kind === 'axis') props.onAxis(Math.max(0, sprue.axis[2] + step), true)
                else {
                  // a step over the picture, onto the surface there
                  const sideways = event.key === 'ArrowLeft' || event.key === 'ArrowRight'
                  const by = (event.shiftKey ? 3 : 8) * Math.sign(step)
                  const on = pickAt(sideways ? [left + by, upper] : [left, upper - by], sprue.wax)?.at
                  if (on !== undefined) props.onJoint(on, true)
                }
              }}
            />
          )
        })}
    </div>
  )
}
