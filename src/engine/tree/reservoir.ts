import { figureOf, leastLengthOf, type Quantity, say, type Verdict } from '../quantity/index.ts'
import type { ButtonPlan } from './button.ts'
import { buttonHolds, coneVolume, drawnInFreezing } from './formulas.ts'

/**
 * Whether the button holds what the metal draws in as it freezes: nothing else is left to feed the tree from.
 * @param cavity  metal of pieces and sprues [kg]
 * @param share  of its volume that the metal loses on freezing
 */
export const judgeReservoir = ({
  button,
  cavity,
  density,
  share,
}: {
  readonly button: ButtonPlan
  readonly cavity: Quantity | undefined
  readonly density: Quantity
  readonly share: Quantity
}): Verdict[] => {
  if (cavity === undefined) return []
  const drawn = drawnInFreezing({ cavity, button: button.mass, density, share }, { id: 'tree.button.drawn' })
  const holds = buttonHolds({ button: button.volume, drawn }, { id: 'tree.button.holds' })
  const range = say`${holds} times, ${{ ...figureOf(holds), value: holds.low }} to ${{ ...figureOf(holds), value: holds.high }}`
  const told = say`It holds ${button.volume}, and the metal draws in ${drawn} as it freezes: ${range} as much.`
  const deep = deepEnough(button, cavity.high / density.low, share.high)
  const base = { id: 'freeze.reservoir', part: 'freeze', where: '/pour/tree/button/depth_mm' } as const
  return holds.low >= 1
    ? [
        {
          ...base,
          verdict: 'pass',
          title: say`The button holds what the metal draws in`,
          reason: say`${told} A feeder gives up only part of itself, so more is better.`,
          remedy: [],
        },
      ]
    : [
        {
          ...base,
          verdict: 'check',
          title: say`The button may hold less than the metal draws in`,
          reason: say`${told} Shrinkage then shows in the main sprue, or in the pieces nearest to it.`,
          remedy:
            deep === undefined
              ? say`use a base with a wider or deeper cone: a full one of this base holds too little`
              : say`make the button ${leastLengthOf(deep)} deep or more, or use a base with a wider or deeper cone`,
        },
      ]
}

/** The least depth, by the half millimetre, at which a button of this cone holds what all the metal draws in at most [m]. */
const deepEnough = ({ cone, depth }: ButtonPlan, cavity: number, share: number): number | undefined => {
  const [mouth, neck, most] = [cone.mouth.value, cone.neck.value, cone.coneDepth.value]
  for (let deep = depth.value; deep <= most + 1e-9; deep += 5e-4) {
    const wide = neck + ((mouth - neck) * deep) / most
    const volume = coneVolume(wide, neck, deep)
    if (volume >= share * (cavity + volume)) return deep
  }
  return undefined
}
