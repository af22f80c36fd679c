import {
  type Arrangement,
  matrixFromModel,
  type PieceToArrange,
  type Placement,
  placeInModel,
  type Sprue,
} from './arrange/index.ts'
import type { Pour } from './documents/index.ts'

type KeptLock = NonNullable<Pour['tree']['locked']>[number]
type KeptSprue = NonNullable<Pour['tree']['sprues']>[number]
interface Copy {
  readonly piece: string
  readonly copy: number
}

const sameCopy =
  (one: Copy) =>
  (other: Copy): boolean =>
    one.piece === other.piece && one.copy === other.copy

/** Whether every wax of this pour has a place of its own, in a flask that is chosen. */
export const keepsArrangement = ({ pieces, tree, flask }: Pick<Pour, 'pieces' | 'tree' | 'flask'>): boolean =>
  flask !== undefined &&
  pieces.length > 0 &&
  pieces.every(({ id, quantity }) =>
    Array.from({ length: quantity }, (_, at): Copy => ({ piece: id, copy: at + 1 })).every((copy) =>
      (tree.locked ?? []).some(sameCopy(copy)),
    ),
  )

/**
 * The pour with this arrangement written into it: every wax locked where it was found, its sprues where they join it,
 * the flask chosen. What the caster had locked, placed or chosen stays the caster's; the rest is marked, so that it
 * can be let go. A diameter that the plan worked out stays the plan's to work out. An arrangement that found no flask
 * changes nothing.
 * @param request  what it was asked for: there stands how much larger than its drawing a drawn piece's wax is
 */
export const keepArrangement = (
  pour: Pour,
  { flask, placements, sprues }: Pick<Arrangement, 'flask' | 'placements' | 'sprues'>,
  request: { readonly pieces: readonly Pick<PieceToArrange, 'id' | 'over'>[] } = { pieces: [] },
): Pour => {
  if (flask === null) return pour
  const overOf = (piece: string): number => request.pieces.find((one) => one.id === piece)?.over ?? 1
  const keepLock = (place: Placement): KeptLock => {
    const own = (pour.tree.locked ?? []).find(sameCopy(place))
    if (own !== undefined && own.kept === undefined) return own
    const { piece, copy, motion } = place
    return { piece, copy, matrix: matrixFromModel(motion, overOf(piece)), kept: true }
  }
  const keepSprues = (place: Placement): KeptSprue[] => {
    const asked = (pour.tree.sprues ?? []).filter(sameCopy(place))
    return sprues.filter(sameCopy(place)).map((sprue: Sprue, at): KeptSprue => {
      const row = asked[at] ?? {
        piece: place.piece,
        copy: place.copy,
        at_mm: placeInModel(place.motion, overOf(place.piece), sprue.from_mm),
        kept: 'sprue',
      }
      return {
        ...row,
        ...(row.axis_mm === undefined && { axis_mm: sprue.axis_mm[2], kept: row.kept ?? 'height' }),
        ...(sprue.stemEnd_mm > sprue.diameter_mm && { stemEnd_mm: row.stemEnd_mm ?? sprue.stemEnd_mm }),
      }
    })
  }
  return {
    ...pour,
    flask: flask.id,
    tree: {
      ...pour.tree,
      locked: placements.map(keepLock),
      sprues: placements.flatMap(keepSprues),
      ...(pour.flask === undefined && { keptFlask: flask.id }),
    },
  }
}

/** Whether anything in this pour was written by keeping an arrangement. */
export const holdsKept = ({ tree }: Pick<Pour, 'tree'>): boolean =>
  tree.keptFlask !== undefined ||
  [...(tree.locked ?? []), ...(tree.sprues ?? [])].some(({ kept }) => kept !== undefined)

/** The pour with what keeping an arrangement wrote taken away; what the caster locked, placed or chose stays. */
export const letGo = (pour: Pour): Pour => {
  const { flask, ...rest } = pour
  const { locked = [], sprues = [], keptFlask, ...tree } = pour.tree
  const ownLocks = locked.filter(({ kept }) => kept === undefined)
  const ownSprues = sprues.flatMap((row): KeptSprue[] => {
    const { kept, ...own } = row
    if (kept === undefined) return [row]
    const { axis_mm: _axis, ...free } = own
    return kept === 'height' ? [free] : []
  })
  return {
    ...rest,
    ...(flask !== undefined && flask !== keptFlask && { flask }),
    tree: {
      ...tree,
      ...(ownLocks.length > 0 && { locked: ownLocks }),
      ...(ownSprues.length > 0 && { sprues: ownSprues }),
    },
  }
}
