import type { Hardware } from '../../documents/index.ts'
import type { PatternProblem } from '../drawing.ts'
import { hookMouth, type Kind, loopSizes, slotSizes } from './sizes.ts'

/** Least room beside a strap that is to slide, and most before it rattles; common practice. */
const BESIDE_MM = { least: 1, most: 3 }
const OVER_MM = 0.3
const OVER_TWO_MM = 0.5
/** A head this much wider than its post holds in a punched hole; common practice. */
const HEAD_OVER_MM = 1
/** A mouth wider than so many straps lets go; common practice. */
const MOUTH_AT_MOST = 2.5
const REACH_AT_LEAST = 2
const GLUED_AT_LEAST_MM = 8

const mm = (value: number): string => `${Number(value.toFixed(2))} mm`
type Say = (level: PatternProblem['level'], kind: string, what: string, remedy: string) => unknown

/**
 * Whether each piece of hardware goes with its strap. Figures are common practice for leather; measure the
 * strap itself, and remember that polishing opens a slot and thins a post.
 */
export const fitChecks = (hardware: readonly Hardware[]): PatternProblem[] => {
  const problems: PatternProblem[] = []
  for (const [index, one] of hardware.entries()) {
    const say: Say = (level, kind, what, remedy) =>
      problems.push({ kind, level, what, where: `hardware/${index}`, remedy, at_mm: one.at_mm })
    if (one.kind === 'loop') checkLoop(one, say)
    else if (one.kind === 'hook') checkHook(one, say)
    else if (one.kind === 'post') checkPost(one, say)
    else if (one.kind === 'keeper-slot') checkSlot(one, say)
    else checkPocket(one, say)
  }
  return problems
}

const checkPocket = ({ depth_mm }: Kind<'tip-pocket'>, say: Say): void => {
  if (depth_mm < GLUED_AT_LEAST_MM)
    say(
      'check',
      'pocket-shallow',
      `the strap goes ${mm(depth_mm)} into its tip; under ${mm(GLUED_AT_LEAST_MM)} glue alone seldom holds (common practice)`,
      'make the pocket deeper, or rivet it',
    )
}

const checkWidth = (room: number, strap: number, kind: string, say: Say): void => {
  if (room < strap + BESIDE_MM.least)
    say(
      'check',
      kind,
      `${mm(room)} for a strap ${mm(strap)} wide leaves ${mm(room - strap)}; ${mm(BESIDE_MM.least)} to 1.5 mm lets it slide (common practice)`,
      `make it ${mm(strap + 1.2)}, or take a narrower strap`,
    )
  else if (room > strap + BESIDE_MM.most)
    say(
      'note',
      'strap-loose',
      `${mm(room)} for a strap ${mm(strap)} wide: it will wander from side to side`,
      `${mm(strap + 1.2)} holds it straight (common practice)`,
    )
}

const checkLoop = (loop: Kind<'loop'>, say: Say): void => {
  const { inside, clear } = loopSizes(loop)
  checkWidth(inside, loop.strap_width_mm, 'loop-narrow', say)
  if (clear < loop.strap_thickness_mm + OVER_MM)
    say(
      'check',
      'loop-low',
      `a strap ${mm(loop.strap_thickness_mm)} thick does not go under a bar that stands ${mm(clear)} off the back`,
      `let it stand ${mm(loop.strap_thickness_mm + 0.8)} off (common practice)`,
    )
}

const checkSlot = (keeper: Kind<'keeper-slot'>, say: Say): void => {
  const { slot, opening } = slotSizes(keeper)
  checkWidth(slot, keeper.strap_width_mm, 'slot-narrow', say)
  const twice = 2 * keeper.strap_thickness_mm
  if (opening < keeper.strap_thickness_mm + OVER_MM)
    say(
      'check',
      'slot-thin',
      `a strap ${mm(keeper.strap_thickness_mm)} thick does not go through an opening of ${mm(opening)}`,
      `open it to ${mm(twice + 0.8)} for the strap and its end together (common practice)`,
    )
  else if (opening < twice + OVER_TWO_MM)
    say(
      'check',
      'slot-once',
      `an opening of ${mm(opening)} takes the strap once; with its end folded back it is ${mm(twice)} thick`,
      `open it to ${mm(twice + 0.8)} if a keeper is to hold both (common practice)`,
    )
}

const checkHook = (hook: Kind<'hook'>, say: Say): void => {
  const mouth = hookMouth(hook)
  if (mouth < hook.strap_thickness_mm + OVER_MM)
    say(
      'check',
      'hook-tight',
      `a strap ${mm(hook.strap_thickness_mm)} thick does not go into a mouth of ${mm(mouth)}`,
      `open the mouth to ${mm(hook.strap_thickness_mm + 0.6)} (common practice)`,
    )
  else if (mouth > MOUTH_AT_MOST * hook.strap_thickness_mm)
    say(
      'check',
      'hook-wide',
      `a mouth of ${mm(mouth)} is more than ${MOUTH_AT_MOST} times the strap’s ${mm(hook.strap_thickness_mm)}; the strap may slip out (common practice)`,
      'close the mouth, or let the hook reach farther',
    )
  if (hook.reach_mm < REACH_AT_LEAST * hook.wire_mm)
    say(
      'check',
      'hook-short',
      `the hook reaches ${mm(hook.reach_mm)}, less than ${REACH_AT_LEAST} times its wire; it holds by its corner only`,
      `let it reach ${mm(3 * hook.wire_mm)} or more (common practice)`,
    )
}

const checkPost = (post: Kind<'post'>, say: Say): void => {
  if (post.length_mm < post.strap_thickness_mm + OVER_MM)
    say(
      'check',
      'post-short',
      `a post ${mm(post.length_mm)} long does not come through a strap ${mm(post.strap_thickness_mm)} thick`,
      `make it ${mm(post.strap_thickness_mm + 0.8)} up to its head (common practice)`,
    )
  if (post.head_mm === undefined) return
  if (post.head_mm < post.diameter_mm + HEAD_OVER_MM)
    say(
      'check',
      'head-small',
      `a head of ${mm(post.head_mm)} on a post of ${mm(post.diameter_mm)} pulls back through its hole`,
      `make the head ${mm(post.diameter_mm + 2)} (common practice)`,
    )
  else
    say(
      'note',
      'post-hole',
      `the strap needs a hole of ${mm(post.diameter_mm)} to ${mm(post.diameter_mm + 0.5)} with a slit to let the head of ${mm(post.head_mm)} through`,
      'punch a scrap of the same leather first (common practice)',
    )
}
