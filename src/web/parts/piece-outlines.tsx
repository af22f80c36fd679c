import type { Piece } from '../../engine/documents/pour.ts'
import { ModelFigure } from '../scene/model-figure.tsx'
import type { ModelForm } from '../scene/model-form.ts'
import { flatFrame, spanOf } from '../scene/model-frames.ts'
import { type FlatFigure, type Outline, Outlines } from '../scene/outline.tsx'
import { useModelForms } from '../state/model-forms.ts'

/** Width of an outline on the screen, px. */
const LINE_PX = 1.2

const flatFigure = (form: ModelForm, scale: number): FlatFigure => {
  const frame = flatFrame(form)
  const [length, width] = spanOf(form, frame)
  return {
    length,
    width,
    figure: <ModelFigure form={form} frame={frame} scale={scale} line={LINE_PX / scale} />,
  }
}

/** Pieces side by side, seen flat: each model or drawing as it is once it has been read, a plain outline until then. */
export const PieceOutlines = (props: {
  pieces: readonly Piece[]
  sizes?: ReadonlyMap<string, Outline>
  scale: number
  most?: number
}) => {
  const { forms } = useModelForms(props.pieces)
  const figures = new Map([...forms].map(([id, form]) => [id, flatFigure(form, props.scale)]))
  return <Outlines {...props} figures={figures} />
}
