import { Fragment, useEffect, useRef } from 'react'
import { Link } from 'wouter'
import { PARTS, type Part } from '../../engine/quantity/answer.ts'
import { captionOf, PART_NAMES, standingOf } from '../state/captions.ts'
import { useDocuments } from '../state/documents.tsx'
import { usePlan } from '../state/plan.tsx'
import { useUnits } from '../state/units.ts'
import { Sign } from './sign.tsx'

const Mark = ({ part }: { part: Part }) => {
  const { plan } = usePlan()
  const standing = standingOf(part, plan)
  if (standing === 'open') return null
  const level = standing === 'settled' ? 'pass' : standing
  const label = standing === 'settled' ? 'settled' : standing === 'check' ? 'a check is open' : 'a stop'
  return <Sign level={level} size={14} className="st" label={label} />
}

/** The pour in order, graduated: ten parts and the point of no return between the fifth and the sixth. */
export const Rule = ({ part }: { part: Part | undefined }) => {
  const { plan } = usePlan()
  const { pourId } = useDocuments()
  const units = useUnits()
  const rule = useRef<HTMLElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the rule comes to rest when the part changes
  useEffect(() => {
    const now = rule.current?.querySelector<HTMLElement>('li.now')
    if (rule.current === null || now === null || now === undefined) return
    rule.current.scrollLeft = now.offsetLeft - 104
  }, [part])
  return (
    <nav className="rule beside-slip" aria-label="The pour, in order" ref={rule}>
      <ol>
        {PARTS.map((one, index) => {
          const { first, second } = captionOf(one, plan, units)
          return (
            <Fragment key={one}>
              {index === 5 && (
                <li className="nr">
                  <span>wax is spent here</span>
                </li>
              )}
              <li className={one === part ? 'now' : ''}>
                <Link
                  href={`/pours/${pourId}/${one}`}
                  {...(one === part && { 'aria-current': 'step' as const })}
                >
                  <span className="nm">
                    <small>{index + 1}</small>
                    {PART_NAMES[one]}
                    <Mark part={one} />
                  </span>
                  <span className="cl">
                    {first}
                    {second !== undefined && <span className="x">{second}</span>}
                  </span>
                </Link>
              </li>
            </Fragment>
          )
        })}
      </ol>
    </nav>
  )
}
