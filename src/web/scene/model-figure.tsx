import type { ModelForm } from './model-form.ts'
import { type Frame, type ModelShape, shapeOfModel } from './model-shape.ts'

/** Views kept of each model: enough for every drawing on a page and a little turning back. */
const MOST_KEPT = 32
const kept = new WeakMap<ModelForm, Map<string, ModelShape>>()

/** The shape of a model in a view, worked out once: a key press that changes neither finds it ready. */
const shapeFor = (form: ModelForm, frame: Frame, scale: number): ModelShape => {
  const { right, down, sky } = frame
  const key = [...right, ...down, ...(sky ?? []), scale].map((value) => value.toFixed(4)).join()
  let views = kept.get(form)
  if (views === undefined) {
    views = new Map()
    kept.set(form, views)
  }
  const known = views.get(key)
  if (known !== undefined) return known
  const shape = shapeOfModel(form, frame, scale)
  const [oldest] = views.keys()
  if (views.size >= MOST_KEPT && oldest !== undefined) views.delete(oldest)
  views.set(key, shape)
  return shape
}

const TONES = { face: 'var(--wax-t)', side: 'var(--wax-s)' } as const

/** A model in flat wax tones with its outline and creases, its box's middle at the origin, in mm. */
export const ModelFigure = ({
  form,
  frame,
  scale,
  line,
  opacity,
  dash,
}: {
  form: ModelForm
  frame: Frame
  /** pixels to the millimetre that it will be shown at, about */
  scale: number
  /** width of the outline, mm; inner edges are three fifths of it */
  line: number
  opacity?: number
  /** only the outline, dashed so: a model that lies behind, or is not what it would be */
  dash?: string
}) => {
  const { coats, outline, creases } = shapeFor(form, frame, scale)
  if (dash !== undefined)
    return <path d={outline} fill="none" stroke="var(--wax)" strokeWidth={line} strokeDasharray={dash} />
  return (
    <g strokeLinejoin="round" strokeLinecap="round" fillOpacity={opacity}>
      {coats.map(({ tone, path }) => (
        <path key={path} d={path} fill={TONES[tone]} />
      ))}
      <path d={creases} fill="none" stroke="var(--wax)" strokeWidth={line * 0.6} />
      <path d={outline} fill="none" stroke="var(--wax)" strokeWidth={line} />
    </g>
  )
}
