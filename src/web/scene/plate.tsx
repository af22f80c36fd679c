import type { BenchTree } from '../../engine/arrange/index.ts'
import { foundBodies, type PlateBody } from './found-bodies.tsx'
import { ModelFigure } from './model-figure.tsx'
import type { ModelForm } from './model-form.ts'
import { standingFrame } from './model-frames.ts'
import type { ShapedPiece, TreeShape } from './tree-shape.ts'
import {
  directionsOf,
  facesOf,
  nearness,
  OPENING_VIEW,
  type Place,
  pathOf,
  project,
  type Spot,
  type View,
} from './view.ts'

const TONES = { top: 'var(--wax-t)', light: 'var(--wax-s)', dark: 'var(--wax-d)' } as const

interface Call {
  readonly mark: string
  readonly at: Spot
}

const ellipseAt = (radius: number, z: number, view: View) => ({
  cx: 0,
  cy: project([0, 0, z], view)[1],
  rx: radius,
  ry: radius * Math.sin(view.tip),
})

const Callouts = ({ calls, edge, least }: { calls: readonly Call[]; edge: number; least: number }) => {
  const sides = [-1, 1].map((side) => {
    const here = calls
      .filter(
        ({ at }, index) => (Math.abs(at[0]) < 1 ? (index % 2 === 0 ? -1 : 1) : Math.sign(at[0])) === side,
      )
      .toSorted((a, b) => a.at[1] - b.at[1])
    let last = least - 13
    return here.map((call) => {
      const y = Math.max(last + 13, call.at[1] - 6)
      last = y
      return { ...call, x: side * edge, y }
    })
  })
  return (
    <g>
      {sides.flat().map(({ mark, at, x, y }) => (
        <g key={mark}>
          <path d={`M${x} ${y}L${at[0]} ${at[1]}`} stroke="var(--ink)" strokeWidth=".35" />
          <circle cx={at[0]} cy={at[1]} r=".9" fill="var(--ink)" />
          <circle cx={x} cy={y} r="4.8" fill="var(--sheet)" stroke="var(--ink)" strokeWidth=".45" />
          <text x={x} y={y + 1.75} fontSize="5" fontWeight="600" textAnchor="middle">
            {mark}
          </text>
        </g>
      ))}
    </g>
  )
}

/** Pixels to the millimetre at which the plate is usually shown. */
const SCALE = 5

/** Widths on the plate, mm. */
const LINES = { outline: 0.45, hidden: 0.3, dash: '1.6 1.2' } as const

/** One piece on the tree: its model where there is one, else the block of its outside measures. */
const Body = ({
  piece,
  form,
  view,
  hidden = false,
}: {
  piece: ShapedPiece
  form: ModelForm | undefined
  view: View
  /** as it shows through what is nearer */
  hidden?: boolean
}) => {
  if (form === undefined)
    return facesOf(piece, view).map((face) => (
      <path
        key={pathOf(face.spots)}
        d={pathOf(face.spots)}
        fill={hidden ? 'none' : TONES[face.tone]}
        stroke="var(--wax)"
        strokeWidth={hidden ? LINES.hidden : LINES.outline}
        strokeDasharray={hidden ? LINES.dash : undefined}
        strokeLinejoin="round"
      />
    ))
  const [x, y] = project([...piece.middle, (piece.bottom + piece.top) / 2], view)
  return (
    <g transform={`translate(${x} ${y})`}>
      <ModelFigure
        form={form}
        frame={standingFrame(form, piece.stand, directionsOf(view))}
        scale={SCALE}
        line={hidden ? LINES.hidden : LINES.outline}
        {...(hidden && { dash: LINES.dash })}
      />
    </g>
  )
}

/** Pieces as the plan lays them out by their outside boxes, each with its sprue, the farthest first. */
const laidBodies = ({ pieces }: TreeShape, forms: ReadonlyMap<string, ModelForm>, view: View): PlateBody[] =>
  pieces
    .map((piece, index): PlateBody => {
      const half: Place = [piece.middle[0], piece.middle[1], (piece.bottom + piece.top) / 2]
      const from = project([0, 0, piece.gateFrom], view)
      const to = project([piece.middle[0], piece.middle[1], piece.bottom], view)
      const line = `M${from[0]} ${from[1]}L${to[0]} ${to[1]}`
      const form = forms.get(piece.piece)
      return {
        key: `${piece.letter}${index}`,
        near: nearness(half, view),
        drawn: (
          <>
            <path d={line} stroke="var(--wax)" strokeWidth={piece.gateAcross + 0.8} strokeLinecap="round" />
            <path d={line} stroke="var(--wax-t)" strokeWidth={piece.gateAcross} strokeLinecap="round" />
            <Body piece={piece} form={form} view={view} />
          </>
        ),
        hidden: <Body piece={piece} form={form} view={view} hidden />,
        call: { letter: piece.letter, at: project(half, view) },
      }
    })
    .toSorted((a, b) => a.near - b.near)

/** The cut-away: flask, investment as a ghost, wax as models or as plain blocks of its measures, to scale. */
export const Plate = ({
  shape,
  forms,
  found,
  view = OPENING_VIEW,
  label,
}: {
  shape: TreeShape
  /** models to be drawn as they are, by the piece's id */
  forms: ReadonlyMap<string, ModelForm>
  /** where the waxes were found to go by their true shapes, where the plan reckons with that */
  found?: BenchTree
  view?: View
  label: string
}) => {
  const { radius, height, wall, cone, mouth, neck, stemAcross, stemTop } = shape
  const outside = radius + wall
  const tipped = Math.cos(view.tip)
  const top = ellipseAt(outside, height, view)
  const inner = ellipseAt(radius, height, view)
  const foot = ellipseAt(outside, 0, view)
  const rim = ellipseAt(outside * 1.09, -2, view)
  const sole = ellipseAt(outside * 1.09, -8, view)
  const dome = ellipseAt(mouth / 2, 0, view)
  const domeTop = ellipseAt(neck / 2, cone, view)
  const edge = outside * 1.09 + 11
  const least = top.cy - top.ry - 4
  const whole = sole.cy + sole.ry + 4 - least

  const bodies =
    found === undefined
      ? laidBodies(shape, forms, view)
      : foundBodies(found, forms, view, { ...LINES, scale: SCALE })
  const firstOf = new Map<string, Spot>()
  for (const { call } of bodies.toReversed())
    if (call !== undefined && !firstOf.has(call.letter)) firstOf.set(call.letter, call.at)
  const calls: Call[] = [
    ...[...firstOf].map(([mark, at]) => ({ mark, at })).toSorted((a, b) => (a.mark < b.mark ? -1 : 1)),
    { mark: '2', at: [outside, -height * tipped * 0.86] },
    { mark: '4', at: [mouth * 0.18, domeTop.cy * 0.35] },
    { mark: '6', at: [radius * 0.72, -height * tipped * 0.24] },
  ]
  const stem = (found?.stem?.diameter ?? stemAcross) / 2
  const stemHigh = found?.stem == null ? stemTop : found.stem.end
  const stemFrom = domeTop.cy
  const stemTo = project([0, 0, stemHigh], view)[1]
  // the main sprue lies on the axis: what is nearer than that is drawn over it
  const behind = found === undefined ? [] : bodies.filter(({ near }) => near < nearness([0, 0, cone], view))

  return (
    <svg
      viewBox={`${-edge - 6} ${least} ${2 * edge + 12} ${whole}`}
      width="100%"
      className="plate-drawing"
      role="img"
      aria-label={label}
    >
      <defs>
        <pattern
          id="stipple"
          width="3.2"
          height="3.2"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(18)"
        >
          <circle cx=".7" cy=".7" r=".17" fill="var(--line)" />
          <circle cx="2.3" cy="2.2" r=".17" fill="var(--line)" />
        </pattern>
      </defs>
      <path
        d={`M${-rim.rx} ${rim.cy}V${sole.cy}A${sole.rx} ${sole.ry} 0 0 0 ${sole.rx} ${sole.cy}V${rim.cy}`}
        fill="var(--base)"
        stroke="var(--ink)"
        strokeWidth=".4"
      />
      <ellipse {...rim} fill="var(--base)" stroke="var(--ink)" strokeWidth=".4" />
      <path
        d={`M${-outside} ${top.cy}V${foot.cy}A${outside} ${foot.ry} 0 0 0 ${outside} ${foot.cy}V${top.cy}A${outside} ${top.ry} 0 0 0 ${-outside} ${top.cy}`}
        fill="var(--inv)"
      />
      <path
        d={`M${-outside} ${top.cy}V${foot.cy}A${outside} ${foot.ry} 0 0 0 ${outside} ${foot.cy}V${top.cy}A${outside} ${top.ry} 0 0 0 ${-outside} ${top.cy}`}
        fill="url(#stipple)"
      />
      <path
        d={`M${-outside} ${foot.cy}A${outside} ${foot.ry} 0 0 1 ${outside} ${foot.cy}`}
        fill="none"
        stroke="var(--line)"
        strokeWidth=".3"
        strokeDasharray="1.6 1.2"
      />
      <path
        d={`M${-dome.rx} ${dome.cy}A${dome.rx} ${dome.ry} 0 0 0 ${dome.rx} ${dome.cy}L${domeTop.rx} ${domeTop.cy}A${domeTop.rx} ${domeTop.ry} 0 0 0 ${-domeTop.rx} ${domeTop.cy}Z`}
        fill="var(--wax-s)"
        stroke="var(--wax)"
        strokeWidth=".45"
      />
      {behind.map(({ key, drawn }) => (
        <g key={key}>{drawn}</g>
      ))}
      {stemHigh > cone && stem > 0 && (
        <path
          d={`M${-stem} ${stemFrom}V${stemTo}A${stem} ${stem * Math.sin(view.tip)} 0 0 1 ${stem} ${stemTo}V${stemFrom}A${stem} ${stem * Math.sin(view.tip)} 0 0 1 ${-stem} ${stemFrom}Z`}
          fill="var(--wax-t)"
          stroke="var(--wax)"
          strokeWidth=".45"
        />
      )}
      {bodies.map(({ key, drawn }) => !behind.some((one) => one.key === key) && <g key={key}>{drawn}</g>)}
      {/* over a nearer piece, what lies behind it shows as a dashed outline; elsewhere it falls on its own line */}
      {bodies.slice(0, -1).map(({ key, hidden }) => hidden !== undefined && <g key={key}>{hidden}</g>)}
      <path
        d={`M${-outside} ${top.cy}V${foot.cy}A${outside} ${foot.ry} 0 0 0 ${outside} ${foot.cy}V${top.cy}`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth=".55"
      />
      <ellipse {...top} fill="none" stroke="var(--ink)" strokeWidth=".55" />
      <ellipse {...inner} fill="none" stroke="var(--ink)" strokeWidth=".35" />
      <Callouts calls={calls} edge={edge} least={least + 8} />
    </svg>
  )
}
