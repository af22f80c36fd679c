import { useId } from 'react'
import type { FlatLine, MeasuredTree } from '../../engine/measure-arrangement.ts'
import { ModelFigure } from './model-figure.tsx'
import type { ModelForm } from './model-form.ts'
import { FROM_ABOVE, FROM_SIDE, standingFrame } from './model-frames.ts'
import type { ShapedPiece, TreeShape } from './tree-shape.ts'

/** A narrow dimension with filled arrows, value above the line. */
const Across = ({ from, to, y, text }: { from: number; to: number; y: number; text: string }) => (
  <g>
    <path d={`M${from} ${y}H${to}`} stroke="var(--ink)" strokeWidth=".25" />
    <path d={`M${from} ${y}l2.6 -.7v1.4zM${to} ${y}l-2.6 -.7v1.4z`} fill="var(--ink)" />
    <text x={(from + to) / 2} y={y - 1.2} fontSize="4.6" textAnchor="middle" className="dimension">
      {text}
    </text>
  </g>
)

const Upward = ({ from, to, x, text }: { from: number; to: number; x: number; text: string }) => (
  <g>
    <path d={`M${x} ${from}V${to}`} stroke="var(--ink)" strokeWidth=".25" />
    <path d={`M${x} ${from}l-.7 -2.6h1.4zM${x} ${to}l-.7 2.6h1.4z`} fill="var(--ink)" />
    <text
      x={x - 1.2}
      y={(from + to) / 2}
      fontSize="4.6"
      textAnchor="middle"
      className="dimension"
      transform={`rotate(-90 ${x - 1.2} ${(from + to) / 2})`}
    >
      {text}
    </text>
  </g>
)

export type WriteLength = (length_mm: number) => string

interface MeasuredProps {
  readonly shape: TreeShape
  /** places found for the waxes: they are drawn as they stand, and not as boxes round the main sprue */
  readonly placed: MeasuredTree | undefined
  /** models to be drawn as they are, by the piece's id */
  readonly forms: ReadonlyMap<string, ModelForm>
  readonly write: WriteLength
}

/** Pixels to the millimetre at which the measured views are usually shown. */
const SCALE = 4

const pathOf = (lines: readonly FlatLine[]): string =>
  lines.map(([x, y, u, v]) => `M${x} ${-y}L${u} ${-v}`).join('')

/** Sprues and outlines of the waxes as they stand, each by its letter. */
const Placed = ({
  measured: { views, boxes },
  lines,
  up,
  letterOf,
}: {
  measured: MeasuredTree
  lines: readonly FlatLine[]
  /** which of the flask's axes is drawn upward */
  up: 1 | 2
  letterOf: (piece: string) => string
}) => (
  <g>
    {views.sprues.map(({ from_mm, to_mm, diameter_mm, stemEnd_mm }) => {
      const line = `M${from_mm[0]} ${-from_mm[up]}L${to_mm[0]} ${-to_mm[up]}`
      const across = (diameter_mm + stemEnd_mm) / 2
      return (
        <g key={line}>
          <path d={line} stroke="var(--wax)" strokeWidth={across + 0.8} />
          <path d={line} stroke="var(--wax-t)" strokeWidth={across} />
        </g>
      )
    })}
    <path d={pathOf(lines)} stroke="var(--wax)" strokeWidth=".5" strokeLinecap="round" />
    {boxes.map(({ piece, copy, min_mm, max_mm }) => (
      <text
        key={`${piece}/${copy}`}
        x={(min_mm[0] + max_mm[0]) / 2}
        y={-(min_mm[up] + max_mm[up]) / 2 + 1.7}
        fontSize="4.8"
        fontWeight="600"
        textAnchor="middle"
        className="over-lines"
      >
        {letterOf(piece)}
        {boxes.some((other) => other.piece === piece && other.copy !== copy) && copy}
      </text>
    ))}
  </g>
)

const letterIn =
  ({ pieces }: TreeShape) =>
  (id: string): string =>
    pieces.find(({ piece }) => piece === id)?.letter ?? ''

/** The farthest first, so that the nearer is drawn over it. */
const byNearness = (pieces: readonly ShapedPiece[], near: (piece: ShapedPiece) => number) =>
  pieces.toSorted((a, b) => near(a) - near(b))

const FootprintOf = ({ piece, form }: { piece: ShapedPiece; form: ModelForm | undefined }) =>
  form === undefined ? (
    <path
      d={`M${piece.corners.map(([x, y]) => `${x} ${-y}`).join('L')}Z`}
      fill="var(--wax-t)"
      stroke="var(--wax)"
      strokeWidth=".5"
    />
  ) : (
    <g transform={`translate(${piece.middle[0]} ${-piece.middle[1]})`}>
      <ModelFigure
        form={form}
        frame={standingFrame(form, piece.stand, FROM_ABOVE)}
        scale={SCALE}
        line={0.5}
      />
    </g>
  )

/** From above: walls, the clearance limit as a chain line, and the pieces' outlines. */
export const FromAbove = ({ shape, placed, forms, write }: MeasuredProps) => {
  const { radius, wall, clearance } = shape
  const out = radius + wall
  const edge = out + 12
  const farthest = Math.max(0, radius - (shape.side ?? radius))
  return (
    <svg
      viewBox={`${-edge} ${-edge} ${2 * edge} ${2 * edge}`}
      width="100%"
      className="measured"
      role="img"
      aria-label={`From above: inside ${write(2 * radius)} across${shape.side === undefined ? '' : `, nearest wax ${write(shape.side)} from the wall`}`}
    >
      <circle r={out} fill="none" stroke="var(--ink)" strokeWidth=".55" />
      <circle r={radius} fill="var(--inv)" stroke="var(--ink)" strokeWidth=".55" />
      <circle
        r={Math.max(0, radius - clearance)}
        fill="none"
        stroke="var(--ink)"
        strokeWidth=".25"
        strokeDasharray="5 1.2 .8 1.2"
      />
      <path
        d={`M${-out - 4} 0H${out + 4}M0 ${-out - 4}V${out + 4}`}
        stroke="var(--ink2)"
        strokeWidth=".2"
        strokeDasharray="5 1.2 .8 1.2"
      />
      {placed !== undefined && (
        <>
          <Placed measured={placed} lines={placed.views.above} up={1} letterOf={letterIn(shape)} />
          <circle r={shape.stemAcross / 2} fill="var(--wax-t)" stroke="var(--wax)" strokeWidth=".5" />
        </>
      )}
      {byNearness(placed === undefined ? shape.pieces : [], ({ top }) => top).map((piece, index, drawn) => (
        <g key={`${piece.letter}${piece.corners[0]?.join()}`}>
          <FootprintOf piece={piece} form={forms.get(piece.piece)} />
          {drawn.findIndex((one) => one.letter === piece.letter) === index && (
            <text
              x={piece.middle[0]}
              y={-piece.middle[1] + 1.7}
              fontSize="4.8"
              fontWeight="600"
              textAnchor="middle"
            >
              {piece.letter}
            </text>
          )}
        </g>
      ))}
      {shape.side !== undefined && shape.pieces.length > 0 && (
        <g>
          <path
            d={`M${farthest} ${-1}V${-out - 3}M${radius} ${-1}V${-out - 3}`}
            stroke="var(--ink)"
            strokeWidth=".2"
          />
          <Across from={farthest} to={radius} y={-out - 2} text={write(shape.side)} />
        </g>
      )}
    </svg>
  )
}

/** From the side: the flask cut open, the limit as a chain line, heights on the right. */
export const FromSide = ({ shape, placed, forms, write }: MeasuredProps) => {
  const stipple = useId()
  const { radius, wall, height, clearance, cone, mouth, neck, stemAcross, stemTop } = shape
  const out = radius + wall
  const edge = out + 16
  const highest = Math.max(cone, ...shape.pieces.map((piece) => piece.top))
  const limit = height - shape.above
  return (
    <svg
      viewBox={`${-edge} ${-height - 8} ${2 * edge} ${height + 30}`}
      width="100%"
      className="measured"
      role="img"
      aria-label={`From the side: inside ${write(height)} high${shape.top === undefined ? '' : `, ${write(shape.top)} above the wax`}`}
    >
      <defs>
        <pattern
          id={stipple}
          width="3.2"
          height="3.2"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(18)"
        >
          <circle cx=".7" cy=".7" r=".16" fill="var(--line)" />
        </pattern>
      </defs>
      <rect x={-radius} y={-height} width={2 * radius} height={height} fill="var(--inv)" />
      <rect x={-radius} y={-height} width={2 * radius} height={height} fill={`url(#${stipple})`} />
      <path
        d={`M${-out} ${-height}V0H${-radius}V${-height}ZM${out} ${-height}V0H${radius}V${-height}Z`}
        fill="var(--sheet)"
        stroke="var(--ink)"
        strokeWidth=".5"
      />
      <rect
        x={-out - 3}
        y="0"
        width={2 * out + 6}
        height="6"
        fill="var(--base)"
        stroke="var(--ink)"
        strokeWidth=".5"
      />
      <path
        d={`M${-mouth / 2} 0L${-neck / 2} ${-cone}H${neck / 2}L${mouth / 2} 0Z`}
        fill="var(--base)"
        stroke="var(--ink)"
        strokeWidth=".5"
      />
      {stemAcross > 0 && stemTop > cone && (
        <rect
          x={-stemAcross / 2}
          y={-stemTop}
          width={stemAcross}
          height={stemTop - cone}
          fill="var(--wax-t)"
          stroke="var(--wax)"
          strokeWidth=".5"
        />
      )}
      {placed !== undefined && (
        <Placed measured={placed} lines={placed.views.side} up={2} letterOf={letterIn(shape)} />
      )}
      {byNearness(placed === undefined ? shape.pieces : [], ({ middle }) => -middle[1]).map((piece) => {
        const xs = piece.corners.map(([x]) => x)
        const [left, right] = [Math.min(...xs), Math.max(...xs)]
        const form = forms.get(piece.piece)
        const gate = `M0 ${-piece.gateFrom}L${piece.middle[0]} ${-piece.bottom}`
        return (
          <g key={`${piece.letter}${piece.corners[0]?.join()}`}>
            <path d={gate} stroke="var(--wax)" strokeWidth={piece.gateAcross + 1} strokeLinecap="round" />
            <path d={gate} stroke="var(--wax-t)" strokeWidth={piece.gateAcross} strokeLinecap="round" />
            {form === undefined ? (
              <rect
                x={left}
                y={-piece.top}
                width={right - left}
                height={piece.top - piece.bottom}
                fill="var(--wax-t)"
                fillOpacity=".85"
                stroke="var(--wax)"
                strokeWidth=".5"
              />
            ) : (
              <g transform={`translate(${piece.middle[0]} ${-(piece.bottom + piece.top) / 2})`}>
                <ModelFigure
                  form={form}
                  frame={standingFrame(form, piece.stand, FROM_SIDE)}
                  scale={SCALE}
                  line={0.5}
                  opacity={0.85}
                />
              </g>
            )}
          </g>
        )
      })}
      <path
        d={`M${-radius + clearance} 0V${-limit}H${radius - clearance}V0`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth=".25"
        strokeDasharray="5 1.2 .8 1.2"
      />
      <path d={`M0 ${-height - 4}V12`} stroke="var(--ink2)" strokeWidth=".2" strokeDasharray="5 1.2 .8 1.2" />
      <path
        d={`M${-out - 1} ${-height}H${-out - 9}M${-out - 4} 0H${-out - 9}`}
        stroke="var(--ink)"
        strokeWidth=".2"
      />
      <Upward from={0} to={-height} x={-out - 7} text={write(height)} />
      {shape.top !== undefined && shape.pieces.length > 0 && (
        <>
          <path
            d={`M${out + 1} ${-height}H${out + 10}M0 ${-highest}H${out + 10}`}
            stroke="var(--ink)"
            strokeWidth=".2"
          />
          <Upward from={-highest} to={-height} x={out + 8} text={write(shape.top)} />
        </>
      )}
      <path d={`M${-radius} 7V16M${radius} 7V16`} stroke="var(--ink)" strokeWidth=".2" />
      <Across from={-radius} to={radius} y={14} text={`Ø${write(2 * radius)}`} />
    </svg>
  )
}
