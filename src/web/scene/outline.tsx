import type { ReactNode } from 'react'
import type { Piece } from '../../engine/documents/pour.ts'

export interface Outline {
  readonly length: number
  readonly width: number
  /** no calipers yet: a cube of the volume stands for it */
  readonly guessed: boolean
}

/** The plan outline of a piece in millimetres, from calipers where there are any. */
export const outlineOf = (piece: Piece, waxDensity_g_cm3 = 0.95): Outline | undefined => {
  const { source } = piece
  if (source.from === 'mesh' || source.from === 'pattern') return undefined
  const { calipers } = source
  if (calipers !== undefined) return { length: calipers.length_mm, width: calipers.width_mm, guessed: false }
  const volume_cm3 =
    source.from === 'weighed-wax'
      ? source.mass_g / waxDensity_g_cm3
      : typeof source.volume_cm3 === 'number'
        ? source.volume_cm3
        : source.volume_cm3.value
  const side = Math.cbrt(volume_cm3 * 1000)
  return { length: side, width: side, guessed: true }
}

/** A piece drawn as it is, seen flat: its sides in mm, and the drawing with its middle at the origin, in mm. */
export interface FlatFigure {
  readonly length: number
  readonly width: number
  readonly figure: ReactNode
}

interface Placed {
  readonly key: string
  readonly x: number
  readonly length: number
  readonly width: number
  readonly guessed: boolean
  readonly figure?: ReactNode
}

const GAP = 8

/** Each piece as often as it is wanted, side by side in px. */
const placeAll = (
  pieces: readonly Piece[],
  scale: number,
  sizes: ReadonlyMap<string, Outline> | undefined,
  figures: ReadonlyMap<string, FlatFigure> | undefined,
): { placed: readonly Placed[]; across: number } => {
  const placed: Placed[] = []
  let across = 2
  for (const piece of pieces) {
    const flat = figures?.get(piece.id)
    const outline = flat ?? sizes?.get(piece.id) ?? outlineOf(piece)
    if (outline === undefined) continue
    const [length, width] = [outline.length * scale, outline.width * scale]
    for (let copy = 0; copy < Math.min(piece.quantity, 6); copy += 1) {
      placed.push({
        key: `${piece.id} ${copy}`,
        x: across,
        length,
        width,
        guessed: 'guessed' in outline && outline.guessed,
        ...(flat !== undefined && { figure: flat.figure }),
      })
      across += length + GAP
    }
  }
  return { placed, across: across + 2 }
}

/** Pieces side by side at one scale; dashed where only the volume is known. */
export const Outlines = ({
  pieces,
  scale,
  most = 330,
  sizes,
  figures,
}: {
  pieces: readonly Piece[]
  /** outlines the plan knows better, such as a measured model's, by the piece's id */
  sizes?: ReadonlyMap<string, Outline>
  /** pieces that can be drawn as they are, by their id */
  figures?: ReadonlyMap<string, FlatFigure>
  /** px per mm */
  scale: number
  most?: number
}) => {
  const { placed, across } = placeAll(pieces, scale, sizes, figures)
  if (placed.length === 0) return null
  const tall = Math.max(...placed.map((one) => one.width)) + 4
  const shrink = across > most ? most / across : 1
  return (
    <svg
      width={across * shrink}
      height={tall * shrink}
      viewBox={`0 0 ${across} ${tall}`}
      role="img"
      aria-label={pieces.map((piece) => piece.name).join(', ')}
    >
      {placed.map(({ key, x, length, width, guessed, figure }) =>
        figure === undefined ? (
          <rect
            key={key}
            x={x}
            y={(tall - width) / 2}
            width={length}
            height={width}
            rx={Math.min(length, width) * 0.12}
            fill="var(--wax-t)"
            stroke="var(--wax)"
            strokeWidth="1.3"
            strokeDasharray={guessed ? '4 3' : undefined}
          />
        ) : (
          <g key={key} transform={`translate(${x + length / 2} ${tall / 2}) scale(${scale})`}>
            {figure}
          </g>
        ),
      )}
    </svg>
  )
}
