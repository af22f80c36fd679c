import type { Plan } from '../../engine/plan.ts'
import { cornersOf } from '../../engine/tree/rectangles.ts'
import type { Stand } from './model-frames.ts'
import { type Block, directionsOf, OPENING_VIEW } from './view.ts'

const MM = 1000

export interface ShapedPiece extends Block {
  /** the piece's id in the pour */
  readonly piece: string
  readonly stand: Stand
  readonly letter: string
  readonly name: string
  readonly middle: readonly [x: number, y: number]
  /** height where its gate leaves the stem */
  readonly gateFrom: number
  readonly gateAcross: number
}

/** Flask and tree in mm, from the plan's own placements: what every drawing of the flask is made from. */
export interface TreeShape {
  readonly radius: number
  readonly height: number
  readonly wall: number
  readonly mouth: number
  readonly neck: number
  readonly cone: number
  readonly stemAcross: number
  readonly stemTop: number
  readonly pieces: readonly ShapedPiece[]
  readonly buttonDepth: number
  readonly side?: number
  readonly top?: number
  readonly clearance: number
  /** asked above the wax by the rule */
  readonly above: number
}

/** The plan leaves open which of its two faces a piece turns outward: the one that looks at the reader first. */
const facing = (angle: number): number => {
  const { toward } = directionsOf(OPENING_VIEW)
  const seen = Math.cos(angle) * toward[0] + Math.sin(angle) * toward[1]
  return seen < 0 ? angle + Math.PI : angle
}

export const shapeOf = (plan: Plan): TreeShape | undefined => {
  const { flask, tree, shop, pour } = plan
  if (flask === undefined) return undefined
  const base = shop.bases.find((one) => one.id === pour.tree.base) ?? shop.bases[0]
  const cone = base?.depth_mm ?? 0
  const { layout } = flask
  const pieces = (layout?.placements ?? []).map((placed): ShapedPiece => {
    const weighed = plan.pieces.pieces.find((piece) => piece.id === placed.piece)
    const gate = tree.gates.find((one) => one.piece === placed.piece)
    const { x, y } = placed.footprint
    const bottom = cone + placed.bottom * MM
    const outward = Math.hypot(x, y) * MM
    return {
      piece: placed.piece,
      stand: { upright: layout?.upright ?? 'longest', angle: facing(placed.footprint.angle) },
      letter: weighed?.letter ?? '',
      name: weighed?.name ?? placed.piece,
      corners: cornersOf(placed.footprint).map(([cx, cy]) => [cx * MM, cy * MM] as const),
      middle: [x * MM, y * MM],
      bottom,
      top: bottom + placed.height * MM,
      gateFrom: Math.max(cone, bottom - Math.max(outward, (layout?.gateLength ?? 0) * MM * 0.7)),
      gateAcross: (gate?.diameter.value ?? 0.003) * MM,
    }
  })
  return {
    radius: flask.flask.insideDiameter_mm / 2,
    height: flask.flask.insideHeight_mm,
    wall: flask.flask.wall_mm,
    mouth: base?.mouthDiameter_mm ?? 0,
    neck: base?.neckDiameter_mm ?? 0,
    cone,
    stemAcross: (tree.stem?.diameter.value ?? 0) * MM,
    stemTop: cone + (layout?.stemLength ?? 0) * MM,
    pieces,
    buttonDepth: tree.button.depth.value * MM,
    ...(flask.sideGap !== undefined && { side: flask.sideGap.value * MM }),
    ...(flask.topGap !== undefined && { top: flask.topGap.value * MM }),
    clearance: shop.rules.wallClearance_mm,
    above: flask.neededTop.value * MM,
  }
}
