import type { Pour, Roots, Shop } from '../documents/index.ts'
import type { Quantity } from '../quantity/index.ts'

/** What the price rests on, as other parts of the plan know it. Any of the quantities may be missing. */
export interface PriceInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly alloyIndex: number
  /** what the lots of the charge cost; worked out from today's prices when absent */
  readonly metalCost?: Quantity
  readonly charge?: Quantity
  /** fineness as made up [ppt]; the alloy's aim when absent */
  readonly fineness?: Quantity
  /** all pieces as cast, sprues off [kg] */
  readonly castMassTotal?: Quantity
  readonly finishedMassTotal?: Quantity
  /** sprues and button [kg] */
  readonly metalBack?: Quantity
  readonly powderCost?: Quantity
  readonly energyCost?: Quantity
  /** wax spent, sprues included [kg] */
  readonly waxMass?: Quantity
}
