import type { Heights } from '../documents/index.ts'
import type { PatternProblem, Region } from './drawing.ts'
import { heightOf } from './height-of.ts'
import { lengthRound, signedArea } from './loops.ts'
import { buildRelief, type Relief } from './relief/index.ts'
import type { ReliefSolids } from './solids.ts'
import { compensate } from './template/index.ts'

/** Regions as they are cast: the finished drawing, and what is left on it for the file. */
interface CastRegions {
  readonly regions: readonly Region[]
  readonly problems: readonly PatternProblem[]
}

const throughOf = (regions: readonly Region[], heights: Heights): Set<string> =>
  new Set(regions.flatMap(({ id }) => (heightOf(heights, id).role === 'through' ? [id] : [])))

const grow = (drawn: readonly Region[], through: ReadonlySet<string>, finish_mm: number): CastRegions => {
  const { regions: grown, problems } = compensate(drawn, through, { shrink: 0, finish_mm })
  const regions = grown.map(({ id, outer, holes, at_mm }): Region => {
    const loops = [outer, ...holes]
    return {
      id,
      outer,
      holes,
      area_mm2: loops.reduce((sum, loop) => sum + signedArea(loop), 0),
      perimeter_mm: loops.reduce((sum, loop) => sum + lengthRound(loop), 0),
      at_mm,
    }
  })
  return { regions, problems }
}

/** The last growth of a drawing's regions: a change of height alone finds the same array, and lays no face anew. */
const kept = new WeakMap<readonly Region[], { readonly of: string; readonly grown: CastRegions }>()

/**
 * The outline moved outward and every drawn opening inward by what is left for the file. Heights stay as they are
 * asked for: the file works the rim, and what is left on a face is said by its height.
 */
export const castRegions = (drawn: readonly Region[], heights: Heights): CastRegions => {
  const finish_mm = heights.filing_mm ?? 0
  if (finish_mm === 0) return { regions: drawn, problems: [] }
  const through = throughOf(drawn, heights)
  const of = JSON.stringify([finish_mm, ...through])
  const last = kept.get(drawn)
  const grown = last?.of === of ? last.grown : grow(drawn, through, finish_mm)
  kept.set(drawn, { of, grown })
  return grown
}

/**
 * The solid of the casting: what is drawn, with what is left on it for the file. The file takes it back to the
 * drawing, edges too, so that what it takes is the one solid less the other.
 */
export const reliefToCast = (
  drawn: readonly Region[],
  heights: Heights,
  solids: ReliefSolids,
  outlineSpread_mm = 0,
): Relief => {
  const { regions, problems } = castRegions(drawn, heights)
  if (regions === drawn) return buildRelief(drawn, heights, solids, outlineSpread_mm)
  const finished = buildRelief(drawn, heights, solids, outlineSpread_mm)
  const cast = buildRelief(regions, heights, solids, outlineSpread_mm, drawn)
  return {
    ...cast,
    filed_mm3: Math.max(0, cast.volume_mm3 - finished.volume_mm3),
    problems: [...cast.problems, ...problems],
  }
}
