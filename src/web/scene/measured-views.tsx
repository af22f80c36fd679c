import { useId } from 'react'
import type { BenchTree } from '../../engine/arrange/index.ts'
import { FoundTree } from './found-tree.tsx'
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
  /** models to be drawn as they are, by the piece's id */
  readonly forms: ReadonlyMap<string, ModelForm>
  readonly write: WriteLength
  /** where the waxes were found to go by their true shapes, where the plan reckons with that */
  readonly found?: BenchTree
}

/** Pixels to the millimetre at which the measured views are usually shown. */
const SCALE = 4

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

/** Pieces as the plan lays them out by their outside boxes. */
const LaidFromAbove = ({ shape, forms }: Pick<MeasuredProps, 'shape' | 'forms'>) => (
  <>
    {byNearness(shape.pieces, ({ top }) => top).map((piece, index, drawn) => (
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
  </>
)

const LaidFromSide = ({ shape, forms }: Pick<MeasuredProps, 'shape' | 'forms'>) => {
  const { cone, stemAcross, stemTop } = shape
  return (
    <>
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
      {byNearness(shape.pieces, ({ middle }) => -middle[1]).map((piece) => {
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
    </>
  )
}

/** From above: walls, the clearance limit as a chain line, and the pieces' outlines. */
export const FromAbove = ({ shape, forms, write, found }: MeasuredProps) => {
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
      aria-label={`From above${found === undefined ? '' : ', each wax where it was placed'}: inside ${write(2 * radius)} across${shape.side === undefined ? '' : `, nearest wax ${write(shape.side)} from the wall`}`}
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
      {found === undefined ? (
        <LaidFromAbove shape={shape} forms={forms} />
      ) : (
        <FoundTree tree={found} looking="above" />
      )}
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
export const FromSide = ({ shape, forms, write, found }: MeasuredProps) => {
  const stipple = useId()
  const { radius, wall, height, clearance, cone, mouth, neck } = shape
  const deep = Math.min(shape.buttonDepth, cone)
  const flare = cone > 0 ? ((mouth - neck) / 2) * (deep / cone) : 0
  const out = radius + wall
  const edge = out + 16
  // where the gap that is written begins: the outlines drawn are not always what the plan reckons it to
  const highest = height - (shape.top ?? height)
  // as placed the main sprue may be the highest
  const tree = found === undefined ? 'wax' : 'tree'
  const limit = height - shape.above
  return (
    <svg
      viewBox={`${-edge} ${-height - 8} ${2 * edge} ${height + 30}`}
      width="100%"
      className="measured"
      role="img"
      aria-label={`From the side${found === undefined ? '' : ', each wax where it was placed'}: inside ${write(height)} high${shape.top === undefined ? '' : `, ${write(shape.top)} above the ${tree}`}`}
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
      {found === undefined ? (
        <LaidFromSide shape={shape} forms={forms} />
      ) : (
        <FoundTree tree={found} looking="side" />
      )}
      {/* the button, where the metal fills the base's cone */}
      <path
        d={`M${-neck / 2 - flare} ${deep - cone}H${neck / 2 + flare}`}
        stroke="var(--ink)"
        strokeWidth=".25"
        strokeDasharray="1.6 1.2"
      />
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
