import { useState } from 'react'
import {
  type Arrangement,
  matrixFromModel,
  placeInModel,
  type SprueByHand,
  type Standing,
} from '../../../../engine/arrange/index.ts'
import type { Pour } from '../../../../engine/documents/index.ts'
import { keepArrangement, letGo } from '../../../../engine/keep-arrangement.ts'
import type { Point } from '../../../../engine/piece/mesh/index.ts'
import type { ArrangeAsk, Arranged, PlacedWax, Wax } from '../../../arrange-worker.ts'
import type { ArrangementView } from '../../../state/arrangement.ts'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { usePlan } from '../../../state/plan.tsx'

type SprueRow = NonNullable<Pour['tree']['sprues']>[number]

export const isWax =
  (wax: Wax) =>
  (one: Wax): boolean =>
    one.piece === wax.piece && one.copy === wax.copy

/** Where nothing is the hand's, the places are those that are found without it. */
const isOfHand = ({ locked = [], sprues = [] }: Pour['tree']): boolean => locked.length + sprues.length > 0

/** How far from its neighbour a new sprue is put, in widths of that. */
const BESIDE = 2.5

/** A standing sprue's number among its own wax's, from 0. */
const ordinal = (standing: Standing, index: number): number => {
  const sprue = standing.sprues[index]
  return sprue === undefined ? 0 : standing.sprues.slice(0, index).filter(isWax(sprue)).length
}

export interface ByHand {
  /** where waxes and sprues stand now, the hand's own way included */
  readonly standing: Standing
  readonly onTheWay: boolean
  follow(wax: PlacedWax, byHand?: readonly SprueByHand[]): void
  move(wax: PlacedWax, group?: string): void
  /** a move that was broken off */
  leave(): void
  free(wax: Wax | undefined): void
  lock(wax: Wax): void
  changeSprue(index: number, change: Partial<SprueRow>, group?: string): void
  followSprue(index: number, at: Point | undefined, axis_mm?: number): void
  /** one more on the same wax, beside this one, to be moved from there */
  addSprue(index: number): void
  takeSprueOff(index: number): void
  findSprues(wax: Wax): void
  keepClear(piece: string, balls: NonNullable<Pour['pieces'][number]['keepClear']>): void
  keepAll(): void
  letAllGo(): void
  placeAnew(): void
  readonly ask: ArrangeAsk
}

/** Everything a hand may do to an arrangement: written into the pour by its ordinary way, and settled at once. */
export const useByHand = (
  arranged: Arranged & { readonly arrangement: Arrangement },
  flask: NonNullable<Arrangement['flask']>,
  view: ArrangementView,
): ByHand => {
  const documents = useDocuments()
  const pour = usePour()
  const { given } = usePlan()
  const { arrangement, pieces, key } = arranged
  const [draft, setDraft] = useState<{ readonly of: Arrangement; readonly wax: PlacedWax } | undefined>(
    undefined,
  )
  // what a hand did to another arrangement says nothing of this one, even when undo brings that one back
  if (draft !== undefined && draft.of !== arrangement) setDraft(undefined)
  const { followed } = view
  const onTheWay = draft?.of === arrangement
  const ask = (next: Pour): ArrangeAsk => ({
    shop: documents.shop,
    pour: next,
    now: given.now,
    meshes: given.meshes ?? {},
  })
  const overOf = (piece: string): number => pieces[piece]?.over ?? 1
  const settle = (next: Pour, moved: readonly PlacedWax[]): void =>
    view.settle(arranged, { do: 'settle', ask: ask(next), flask, standing: arrangement, moved })
  const write = (tree: Pour['tree'], moved: readonly PlacedWax[], group?: string): void => {
    documents.change('/pour/tree', tree, group)
    settle({ ...pour, tree }, moved)
  }
  const standsNow = (wax: Wax): PlacedWax | undefined => arrangement.placements.find(isWax(wax))
  const lockRow = ({ piece, copy, motion }: PlacedWax) => ({
    piece,
    copy,
    matrix: matrixFromModel(motion, overOf(piece)),
  })
  const locked = (pour.tree.locked ?? []).filter(({ piece }) => pour.pieces.some(({ id }) => id === piece))
  const lockedWith = (wax: PlacedWax) => [
    ...locked.filter((one) => !isWax(wax)(one)),
    lockRow({ piece: wax.piece, copy: wax.copy, motion: wax.motion }),
  ]
  const { tree } = pour

  const follow = (wax: PlacedWax, byHand?: readonly SprueByHand[]): void => {
    setDraft({ of: arrangement, wax })
    view.follow({ ask: ask(pour), key, flask, standing: arrangement, wax, ...(byHand && { byHand }) })
  }
  const rowsOf = (wax: PlacedWax): SprueRow[] => {
    const own = (tree.sprues ?? []).filter(isWax(wax))
    if (own.length > 0) return own
    return arrangement.sprues.filter(isWax(wax)).map((sprue) => ({
      piece: wax.piece,
      copy: wax.copy,
      at_mm: placeInModel(wax.motion, overOf(wax.piece), sprue.from_mm),
      axis_mm: Math.max(0, sprue.axis_mm[2]),
    }))
  }
  /** Touched by hand, every sprue of a wax is the caster's. @param change  what becomes of the one that is touched */
  const touched = (
    index: number,
    change: (row: SprueRow) => readonly SprueRow[],
  ): { wax: PlacedWax; rows: SprueRow[] } | undefined => {
    const sprue = arrangement.sprues[index]
    const wax = sprue && standsNow(sprue)
    if (wax === undefined) return undefined
    const place = ordinal(arrangement, index)
    return {
      wax,
      rows: rowsOf(wax).flatMap(({ kept: _kept, ...row }, k) => (k === place ? change(row) : [row])),
    }
  }
  const changedRows = (index: number, change: Partial<SprueRow>): ReturnType<typeof touched> =>
    touched(index, (row) => [{ ...row, ...change }])
  const writeRows = (made: ReturnType<typeof touched>, group?: string): void => {
    if (made === undefined) return
    const others = (tree.sprues ?? []).filter((one) => !isWax(made.wax)(one))
    write({ ...tree, sprues: [...others, ...made.rows] }, [made.wax], group)
  }
  const placements = arrangement.placements.map((one) =>
    onTheWay && isWax(draft.wax)(one) ? { ...one, motion: draft.wax.motion } : one,
  )
  const letting = (next: Pour): void => {
    documents.changePour(next)
    if (isOfHand(next.tree)) settle(next, [])
  }
  return {
    standing: {
      placements,
      sprues: onTheWay && followed !== undefined ? followed.sprues : arrangement.sprues,
    },
    onTheWay,
    follow,
    leave: () => {
      view.letGo()
      setDraft(undefined)
    },
    move: (wax, group) => {
      view.letGo()
      // shown where it was let go until it is settled there
      setDraft({ of: arrangement, wax })
      write({ ...tree, locked: lockedWith(wax) }, [wax], group)
    },
    lock: (wax) => {
      const stands = standsNow(wax)
      if (stands !== undefined) write({ ...tree, locked: lockedWith(stands) }, [])
    },
    free: (wax) => {
      const { locked: _all, ...rest } = tree
      const left = wax === undefined ? [] : locked.filter((one) => !isWax(wax)(one))
      const next = left.length === 0 ? rest : { ...rest, locked: left }
      if (isOfHand(next)) write(next, [])
      else documents.change('/pour/tree', next)
    },
    changeSprue: (index, change, group) => {
      view.letGo()
      writeRows(changedRows(index, change), group)
    },
    addSprue: (index) => {
      const sprue = arrangement.sprues[index]
      const wax = sprue && standsNow(sprue)
      if (sprue === undefined || wax === undefined) return
      // level, and square to the way it runs: there it is as near the main sprue as the one it stands beside
      const [x, y, z] = sprue.from_mm
      const out = Math.hypot(x, y)
      const [aside, toward] = out > 0 ? [-y / out, x / out] : [1, 0]
      const far = BESIDE * sprue.diameter_mm
      const at_mm = placeInModel(wax.motion, overOf(wax.piece), [x + far * aside, y + far * toward, z])
      writeRows(
        touched(index, ({ axis_mm, ...row }) => [
          { ...row, axis_mm },
          { ...row, at_mm },
        ]),
      )
    },
    takeSprueOff: (index) => writeRows(touched(index, () => [])),
    followSprue: (index, at, axis_mm) => {
      const made = changedRows(index, {
        ...(at !== undefined && { at_mm: [...at] }),
        ...(axis_mm !== undefined && { axis_mm }),
      })
      if (made === undefined) return
      const over = overOf(made.wax.piece)
      follow(
        made.wax,
        made.rows.map(({ at_mm, axis_mm: height, diameter_mm, stemEnd_mm }) => ({
          at_mm: [at_mm[0] * over, at_mm[1] * over, at_mm[2] * over] as const,
          axis_mm: height,
          diameter_mm,
          stemEnd_mm,
        })),
      )
    },
    findSprues: (wax) => {
      const stands = standsNow(wax)
      const { sprues, ...rest } = tree
      const left = (sprues ?? []).filter((one) => !isWax(wax)(one))
      if (stands !== undefined) write(left.length === 0 ? rest : { ...rest, sprues: left }, [stands])
    },
    keepClear: (piece, balls) => {
      const index = pour.pieces.findIndex(({ id }) => id === piece)
      const row = pour.pieces[index]
      if (row === undefined) return
      documents.change(`/pour/pieces/${index}/keepClear`, balls.length === 0 ? undefined : balls)
      const { keepClear: _old, ...rest } = row
      const next = balls.length === 0 ? rest : { ...rest, keepClear: balls }
      settle(
        { ...pour, pieces: pour.pieces.map((one, k) => (k === index ? next : one)) },
        arrangement.placements.filter((one) => one.piece === piece),
      )
    },
    keepAll: () =>
      letting(
        keepArrangement(pour, arrangement, {
          pieces: Object.entries(pieces).map(([id, { over }]) => ({ id, over })),
        }),
      ),
    letAllGo: () => letting(letGo(pour)),
    placeAnew: () => view.start({ do: 'arrange', ask: ask(pour) }),
    ask: ask(pour),
  }
}
