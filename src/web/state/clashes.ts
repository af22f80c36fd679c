import type { Plan } from '../../engine/plan.ts'

/** A planned pour as the list knows it. */
export interface Planned {
  readonly id: string
  readonly name: string
  readonly plan: Plan
}

/** Two things in the list that cannot both be as planned, or only if somebody minds it. */
export type Clash =
  | {
      readonly kind: 'kiln'
      readonly kiln: string
      readonly pours: readonly [Planned, Planned]
      readonly from: number
      readonly to: number
    }
  | {
      readonly kind: 'metal'
      readonly lot: string
      readonly pours: readonly Planned[]
      /** SI */
      readonly wanted: number
      readonly there: number
    }

const burnoutOf = ({ plan }: Planned): { from: number; to: number } | undefined =>
  plan.castAt === undefined || plan.burnout.start === undefined || plan.castAt < plan.now
    ? undefined
    : { from: plan.burnout.start, to: plan.castAt }

/**
 * Where pours of one shop, not yet cast, want the same kiln at the same time, or together more of a lot than it
 * holds. A lot that one pour alone overdraws is that pour's own trouble and not told here.
 */
export const clashesOf = (pours: readonly Planned[]): readonly Clash[] => {
  const ahead = pours.filter(({ plan }) => plan.castAt !== undefined && plan.castAt >= plan.now)
  const clashes: Clash[] = []
  ahead.forEach((one, index) => {
    for (const other of ahead.slice(index + 1)) {
      if (one.plan.pour.kiln !== other.plan.pour.kiln) continue
      const [first, second] = [burnoutOf(one), burnoutOf(other)]
      if (first === undefined || second === undefined) continue
      const from = Math.max(first.from, second.from)
      const to = Math.min(first.to, second.to)
      if (from >= to) continue
      const kiln = one.plan.shop.kilns.find(({ id }) => id === one.plan.pour.kiln)
      if (kiln !== undefined) clashes.push({ kind: 'kiln', kiln: kiln.name, pours: [one, other], from, to })
    }
  })
  const [shop] = ahead.map(({ plan }) => plan.shop)
  for (const lot of shop?.lots ?? []) {
    const takers = ahead.flatMap((pour) => {
      const mass = pour.plan.charge.lines.find((line) => line.lot === lot.id)?.mass ?? 0
      return mass > 0 ? [{ pour, mass }] : []
    })
    const there = lot.mass_g / 1000
    const wanted = takers.reduce((sum, { mass }) => sum + mass, 0)
    if (wanted <= there + 1e-9 || takers.length < 2 || takers.some(({ mass }) => mass > there + 1e-9))
      continue
    clashes.push({ kind: 'metal', lot: lot.name, pours: takers.map(({ pour }) => pour), wanted, there })
  }
  return clashes
}
