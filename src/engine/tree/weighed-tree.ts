import { plainMassOf, type Quantity, root, say, type Verdict } from '../quantity/index.ts'
import { builtLessPlanned, waxOfBuiltSprues, waxOfPlannedSprues } from './formulas.ts'
import {
  densityOfSprueWax,
  type LayoutSizes,
  roomByLayout,
  type TreeFeeds,
  type TreeInput,
  waxOfPieces,
} from './plan-tree.ts'

/** The sprues that were built, by the scale, beside those planned here. */
export interface BuiltSprues {
  readonly built: Quantity
  readonly planned: Quantity
  readonly difference: Quantity
  /** absent while the two may be the same */
  readonly differ?: 'less' | 'more'
}

/** Holds the wax that a weighed tree leaves for sprues against what the planned sprues would weigh. */
export const compareSprues = (
  input: TreeInput,
  tree: TreeFeeds,
  sizes: LayoutSizes | undefined,
  treeWax: Quantity | undefined,
): BuiltSprues | undefined => {
  if (treeWax === undefined) return undefined
  const pieces = waxOfPieces(input)
  const density = densityOfSprueWax(input)
  const room = roomByLayout(input, tree, sizes, {
    id: 'tree.plannedSprues',
    title: 'Room of the sprues as planned',
  })
  if (pieces === undefined || density === undefined || room === undefined) return undefined
  const asBuilt = root({
    id: 'tree.asBuilt',
    title: 'Sprue wax as built, against its sizes',
    unit: '1',
    value: 1,
    low: 0.9,
    high: 1.12,
    kind: 'usual',
    source: 'common practice: wire is a little off its size, and every joint gets a fillet',
  })
  const built = waxOfBuiltSprues({ tree: treeWax, pieces }, { id: 'tree.builtWax' })
  const planned = waxOfPlannedSprues({ room, density, asBuilt }, { id: 'tree.plannedWax' })
  const difference = builtLessPlanned({ built, planned }, { id: 'tree.builtLessPlanned' })
  // by ranges that do not meet, as that of sprues laid out by boxes reaches farther up than down
  const differ = built.high < planned.low ? 'less' : built.low > planned.high ? 'more' : undefined
  return { built, planned, difference, differ }
}

const REMEDY = say`measure the sprues you built, and enter their diameter and length`

const sprueVerdict = ({ built, planned, differ }: BuiltSprues): Verdict => ({
  id: 'freeze.built',
  part: 'freeze',
  verdict: 'check',
  title: say`The sprues on the scale are not those planned`,
  reason: say`The tree on the scale carries ${plainMassOf(Math.max(0, built.value))} of sprue wax; the sprues planned here would be ${planned}, ${plainMassOf(planned.low)} to ${plainMassOf(planned.high)}. The feeds you built are ${differ === 'less' ? 'thinner or shorter' : 'thicker or longer'} than planned, so the freezing order below is not that of your tree. The charge rests on the scale.`,
  remedy: REMEDY,
  where: '/pour/tree/stem/diameter_mm',
})

const NOT_THESE = say` This was judged on the sprues planned here; those on the scale are others.`

/** Thicker feeds freeze later, so that the run planned for the arm is no longer a safe one either. */
const restsOnSprues = (id: string, differ: 'less' | 'more'): boolean =>
  (id.startsWith('freeze.') && id !== 'freeze.mould') || (differ === 'more' && id === 'spin.run')

/**
 * Verdicts with the built sprues in mind: where they differ from the planned ones that is a check, and nothing
 * that was judged on the planned ones passes clean.
 */
export const judgeAsBuilt = (
  verdicts: readonly Verdict[],
  sprues: BuiltSprues | undefined,
): readonly Verdict[] => {
  const differ = sprues?.differ
  if (sprues === undefined || differ === undefined) return verdicts
  return [
    sprueVerdict(sprues),
    ...verdicts.map(
      (verdict): Verdict =>
        restsOnSprues(verdict.id, differ)
          ? {
              ...verdict,
              verdict: verdict.verdict === 'pass' ? 'check' : verdict.verdict,
              title: say`${verdict.title}, as planned`,
              reason: say`${verdict.reason}${NOT_THESE}`,
              remedy: verdict.verdict === 'pass' ? REMEDY : verdict.remedy,
            }
          : verdict,
    ),
  ]
}
