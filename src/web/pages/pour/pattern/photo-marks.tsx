import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import type { PictureSize } from './frame.ts'

export type Spot = readonly [number, number]

const NAMES = ['upper left', 'upper right', 'lower right', 'lower left'] as const

/** Pixels of the picture that one press of an arrow key moves a mark; with Shift. */
const STEP = 1
const LONG_STEP = 20
/** how much larger the round glass shows the picture than it is taken */
const GLASS_PX = 120
const GLASS_SCALE = 2

interface MarksProps {
  readonly picture: PictureSize
  /** address of the picture, for the glass */
  readonly url: string
  readonly spots: readonly Spot[]
  /** lengths written on the sides between marks */
  readonly sides: readonly string[]
  /** told when a mark is let go, or moved by a key */
  readonly onMoved: (spots: readonly Spot[], group: string) => void
}

/** Numbered marks on the photo, moved by pointer or by arrow keys; a round glass shows the spot under a finger. */
export const PhotoMarks = ({ picture, url, spots, sides, onMoved }: MarksProps) => {
  const field = useRef<HTMLDivElement>(null)
  const [held, setHeld] = useState<{ index: number; spot: Spot } | undefined>(undefined)
  const now = spots.map((spot, index) => (held?.index === index ? held.spot : spot))
  const kept = ([x, y]: Spot): Spot => [
    Math.min(picture.width, Math.max(0, x)),
    Math.min(picture.height, Math.max(0, y)),
  ]
  const spotOf = (event: PointerEvent): Spot => {
    const box = field.current?.getBoundingClientRect() ?? { left: 0, top: 0, width: 1, height: 1 }
    return kept([
      Number((((event.clientX - box.left) / box.width) * picture.width).toFixed(1)),
      Number((((event.clientY - box.top) / box.height) * picture.height).toFixed(1)),
    ])
  }
  const put = (index: number, spot: Spot, group: string): void =>
    onMoved(
      spots.map((one, at) => (at === index ? spot : one)),
      group,
    )
  const key = (event: KeyboardEvent, index: number): void => {
    const ways: Readonly<Record<string, Spot>> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    }
    const way = ways[event.key]
    const spot = spots[index]
    if (way === undefined || spot === undefined) return
    event.preventDefault()
    const by = event.shiftKey ? LONG_STEP : STEP
    put(index, kept([spot[0] + way[0] * by, spot[1] + way[1] * by]), `mark ${index} by keys`)
  }
  const share = ([x, y]: Spot): { left: string; top: string } => ({
    left: `${(x / picture.width) * 100}%`,
    top: `${(y / picture.height) * 100}%`,
  })
  const four = now.length === 4
  if (now.length === 0) return null
  return (
    <div className="marks" ref={field}>
      <svg viewBox={`0 0 ${picture.width} ${picture.height}`} width="100%" aria-hidden="true">
        <path
          d={`M${now.map(([x, y]) => `${x} ${y}`).join('L')}${four ? 'Z' : ''}`}
          fill="none"
          stroke="#174a9c"
          strokeWidth={picture.width / 480}
          strokeDasharray={`${picture.width / 80} ${picture.width / 110}`}
        />
      </svg>
      {sides.map((text, index) => {
        const [a, b] = [now[index], now[(index + 1) % now.length]]
        if (a === undefined || b === undefined || text === '') return null
        return (
          <span
            className="side-length"
            // biome-ignore lint/suspicious/noArrayIndexKey: the sides are told apart by their order only
            key={index}
            style={share([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])}
          >
            {text}
          </span>
        )
      })}
      {now.map((spot, index) => (
        <button
          // biome-ignore lint/suspicious/noArrayIndexKey: a mark is its number
          key={index}
          type="button"
          className={spot[0] > picture.width * 0.85 ? 'mark-spot number-left' : 'mark-spot'}
          style={share(spot)}
          aria-label={`Mark ${index + 1}${four ? `, ${NAMES[index]} corner` : ''}: ${Math.round(spot[0])} across, ${Math.round(spot[1])} down, in pixels of the picture. Arrow keys move it.`}
          onKeyDown={(event) => key(event, index)}
          onPointerDown={(event) => {
            event.preventDefault()
            event.currentTarget.focus()
            event.currentTarget.setPointerCapture(event.pointerId)
            setHeld({ index, spot })
          }}
          onPointerMove={(event) => {
            if (held?.index === index) setHeld({ index, spot: spotOf(event) })
          }}
          onPointerUp={(event) => {
            if (held?.index !== index) return
            const to = spotOf(event)
            setHeld(undefined)
            if (to[0] !== spots[index]?.[0] || to[1] !== spots[index]?.[1]) put(index, to, '')
          }}
          onPointerCancel={() => setHeld(undefined)}
        >
          <b>{index + 1}</b>
        </button>
      ))}
      {held !== undefined && (
        <span
          className="glass"
          aria-hidden="true"
          style={{
            ...(held.spot[0] > picture.width / 2 ? { left: '8px' } : { right: '8px' }),
            ...(held.spot[1] > picture.height / 2 ? { top: '8px' } : { bottom: '8px' }),
            backgroundImage: `url(${url})`,
            backgroundSize: `${glassSize(picture, field.current)[0]}px ${glassSize(picture, field.current)[1]}px`,
            backgroundPosition: `${GLASS_PX / 2 - (held.spot[0] / picture.width) * glassSize(picture, field.current)[0]}px ${GLASS_PX / 2 - (held.spot[1] / picture.height) * glassSize(picture, field.current)[1]}px`,
          }}
        />
      )}
    </div>
  )
}

/** The whole picture as large as the glass shows it, screen px. */
const glassSize = (picture: PictureSize, field: HTMLElement | null): readonly [number, number] => {
  const wide = Math.max(picture.width / 2, (field?.clientWidth ?? 480) * GLASS_SCALE)
  return [wide, (wide * picture.height) / picture.width]
}
