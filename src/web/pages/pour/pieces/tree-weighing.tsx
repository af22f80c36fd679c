import { type FormEvent, useState } from 'react'
import { Asked } from '../../../parts/asked.tsx'
import { Figure } from '../../../parts/figure.tsx'
import { Mind } from '../../../parts/mind.tsx'
import { FigureRow, FigureRows } from '../../../parts/stat.tsx'
import { useDocuments, usePour } from '../../../state/documents.tsx'
import { readTyped, scaleDecimals } from '../../../state/entry.ts'
import { usePlan } from '../../../state/plan.tsx'

export const Tree = () => {
  const { plan } = usePlan()
  const { shop, read, change, changePour } = useDocuments()
  const decimals = scaleDecimals(shop.scales.wax.resolution_g)
  const pour = usePour()
  const at = '/pour/tree/weighed'
  const [base, setBase] = useState('')
  const [both, setBoth] = useState('')
  const [trouble, setTrouble] = useState(false)
  if (read(at) === undefined) {
    const weigh = (event: FormEvent): void => {
      event.preventDefault()
      const [base_g, baseWithTree_g] = [readTyped(base), readTyped(both)]
      if (base_g === undefined || baseWithTree_g === undefined || base_g < 0 || baseWithTree_g <= 0) {
        setTrouble(true)
        return
      }
      change(at, { base_g, baseWithTree_g, baseWeighed: 'today' })
      setTrouble(false)
    }
    return (
      <form onSubmit={weigh} noValidate>
        <h2 className="sh">The tree on the scale</h2>
        <p className="sm muted">When it is built: the base alone, then the base with the tree.</p>
        <div className="adding">
          <label>
            Rubber base alone, g{' '}
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              data-path={`${at}/base_g`}
              value={base}
              onChange={(event) => setBase(event.target.value)}
            />
          </label>
          <label>
            Base with the tree, g{' '}
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              value={both}
              onChange={(event) => setBoth(event.target.value)}
            />
          </label>
        </div>
        {trouble && (
          <Mind level="check" live>
            Both weights are wanted, in grams.
          </Mind>
        )}
        <button type="submit" className="btn after">
          Write it down
        </button>
      </form>
    )
  }
  const earlier = read(`${at}/baseWeighed`) === 'earlier'
  return (
    <section aria-label="The tree on the scale">
      <FigureRows label="The tree on the scale">
        <FigureRow
          name="Rubber base alone"
          about={
            <label className="tick">
              <input
                type="checkbox"
                checked={!earlier}
                onChange={(event) => change(`${at}/baseWeighed`, event.target.checked ? 'today' : 'earlier')}
              />
              cleaned and weighed today
            </label>
          }
        >
          <Asked
            path={`${at}/base_g`}
            title="Rubber base alone"
            kind="weighed"
            plainMass
            decimals={decimals}
          />
        </FigureRow>
        <FigureRow name="Base with the tree">
          <Asked
            path={`${at}/baseWithTree_g`}
            title="Base with the tree"
            kind="weighed"
            plainMass
            decimals={decimals}
          />
        </FigureRow>
        <FigureRow name="Tree" strong>
          <Figure of={plan.pieces.treeWax} range />
        </FigureRow>
      </FigureRows>
      <button
        type="button"
        className="quiet"
        onClick={() => {
          const { weighed: _gone, ...tree } = pour.tree
          changePour({ ...pour, tree })
        }}
      >
        Forget this weighing
      </button>
    </section>
  )
}
