import { AskedOr, Figure } from '../../../parts/figure.tsx'
import { ShelfUnused } from '../../../parts/shelf-unused.tsx'
import { Stat } from '../../../parts/stat.tsx'
import { holdsStock } from '../../../state/new-pour.ts'
import { usePlan } from '../../../state/plan.tsx'
import { useUnits } from '../../../state/units.ts'
import { isSeldom, LIKELIER, written } from '../../../state/written.ts'
import { Row } from './part-row.tsx'

export const ChargeRow = () => {
  const { plan } = usePlan()
  const units = useUnits()
  const { needed, charge } = plan
  const fromShelf = plan.pour.charge.fromStock && holdsStock(plan.shop)
  const alloy = plan.shop.alloys.find((one) => one.id === plan.pour.alloy) ?? plan.shop.alloys[0]
  return (
    <Row
      part="charge"
      about={
        alloy?.fineness_ppt === undefined
          ? alloy?.name.toLowerCase()
          : `${alloy.name.toLowerCase()}, at least ${alloy.fineness_ppt.least}`
      }
    >
      <div className="fig">
        {needed.toWeigh !== undefined && (
          <Stat
            name="Melt"
            size="big"
            below={['g', 'dwt', 'oz t']
              .filter((mass) => mass !== units.mass)
              .map((mass) => {
                const other = written(needed.toWeigh ?? never(), { ...units, mass: mass as 'g' })
                return `${other.value} ${other.label}`
              })
              .join(', ')}
          >
            <AskedOr path="/pour/charge/toWeigh_g" of={needed.toWeigh} title="Charge to melt" />
          </Stat>
        )}
        {needed.needed !== undefined && (
          <Stat name="Needed" below={<Spread of={needed.needed} />}>
            <Figure of={needed.needed} />
          </Stat>
        )}
        {needed.probabilityShort !== undefined && (
          <Stat name="Falls short" below={isSeldom(needed.probabilityShort.value) && LIKELIER}>
            <Figure of={needed.probabilityShort} as="chance" />
          </Stat>
        )}
        {charge.lines.length > 0 && (
          <Stat
            name={
              !fromShelf
                ? 'As if fine metal were at hand'
                : charge.byRule
                  ? 'From the shelf, by rule, being worked out'
                  : 'From the shelf'
            }
            size="text"
            {...(charge.fineness !== undefined && {
              below: (
                <>
                  fineness <Figure of={charge.fineness} byRule={charge.byRule} range />
                </>
              ),
            })}
          >
            <span className={charge.byRule ? 'old' : ''}>
              {charge.lines
                .map((line) => {
                  const mass = written(
                    { value: line.mass, low: line.mass, high: line.mass, unit: 'kg' },
                    units,
                  )
                  return `${mass.value} ${mass.label} ${line.name.toLowerCase()}`
                })
                .join(', ')}
            </span>
          </Stat>
        )}
      </div>
      <ShelfUnused />
    </Row>
  )
}

const Spread = ({ of }: { of: Parameters<typeof written>[0] }) => {
  const { low, high } = written(of, useUnits())
  return `${low} to ${high}`
}

const never = (): never => {
  throw new Error('a figure went missing between two lines')
}
