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
  if (source.from === 'mesh') return undefined
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

/** Pieces side by side at one scale; dashed where only the volume is known. */
export const Outlines = ({
  pieces,
  scale,
  most = 330,
  sizes,
}: {
  pieces: readonly Piece[]
  /** outlines the plan knows better, such as a measured model's, by the piece's id */
  sizes?: ReadonlyMap<string, Outline>
  /** px per mm */
  scale: number
  most?: number
}) => {
  const drawn = pieces.flatMap((piece) => {
    const outline = sizes?.get(piece.id) ?? outlineOf(piece)
    return outline === undefined ? [] : Array.from({ length: Math.min(piece.quantity, 6) }, () => outline)
  })
  if (drawn.length === 0) return null
  const gap = 8
  const across = drawn.reduce((total, one) => total + one.length * scale + gap, 0)
  const tall = Math.max(...drawn.map((one) => one.width)) * scale + 4
  const shrink = across > most ? most / across : 1
  let at = 2
  return (
    <svg
      width={(across + 4) * shrink}
      height={tall * shrink}
      viewBox={`0 0 ${across + 4} ${tall}`}
      role="img"
      aria-label={pieces.map((piece) => piece.name).join(', ')}
    >
      {drawn.map((one, index) => {
        const x = at
        at += one.length * scale + gap
        return (
          <rect
            // biome-ignore lint/suspicious/noArrayIndexKey: outlines are drawn in the order of the pieces
            key={index}
            x={x}
            y={(tall - one.width * scale) / 2}
            width={one.length * scale}
            height={one.width * scale}
            rx={Math.min(one.length, one.width) * scale * 0.12}
            fill="var(--wax-t)"
            stroke="var(--wax)"
            strokeWidth="1.3"
            strokeDasharray={one.guessed ? '4 3' : undefined}
          />
        )
      })}
    </svg>
  )
}
