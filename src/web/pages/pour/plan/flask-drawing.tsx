import { Link } from 'wouter'
import { NoFlask } from '../../../parts/no-flask.tsx'
import { Plate } from '../../../scene/plate.tsx'
import { shapeOf } from '../../../scene/tree-shape.ts'
import { useDocuments } from '../../../state/documents.tsx'
import { drawnAs } from '../../../state/drawn-as.ts'
import { useModelForms } from '../../../state/model-forms.ts'
import { usePlan } from '../../../state/plan.tsx'
import { writeFlask } from '../../../state/sizes.ts'
import { useUnits } from '../../../state/units.ts'

export const Drawing = () => {
  const { plan } = usePlan()
  const { pourId } = useDocuments()
  const shape = shapeOf(plan)
  const { length } = useUnits()
  const { forms, tooLarge } = useModelForms(plan.pour.pieces)
  if (shape === undefined)
    return (
      <div className="no-plate">
        <NoFlask />
      </div>
    )
  const names = [...new Set(shape.pieces.map((piece) => `${piece.letter} ${piece.name}`))].join(', ')
  return (
    <figure className="plate">
      <Plate
        shape={shape}
        forms={forms}
        found={plan.arranged?.measured.tree}
        label={`Cut-away of the flask, ${plan.flask === undefined ? '' : writeFlask(plan.flask.flask, length)} ${length}: ${names} on one main sprue above the base`}
      />
      <figcaption>
        Drawn to scale, {drawnAs(plan.pour.pieces, forms, tooLarge)}. Letters and numbers match the list.{' '}
        <Link href={`/pours/${pourId}/flask`}>Turn it, measure it</Link>
      </figcaption>
    </figure>
  )
}
