import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { planPour } from '../../engine/plan.ts'
import { samplePour, sampleShop } from '../../engine/sample-pour.ts'
import { FromSide } from './measured-views.tsx'
import { shapeOf } from './tree-shape.ts'

const shape = shapeOf(planPour(sampleShop(), samplePour(), { now: Date.UTC(2026, 2, 2) }))
if (shape?.top === undefined) throw new Error('the sample pour has a flask and a gap above its wax')

const drawn = (top: number): string =>
  renderToStaticMarkup(
    <FromSide shape={{ ...shape, top }} forms={new Map()} write={(length_mm) => length_mm.toFixed(2)} />,
  )

/** Ends of the arrow beside a value. */
const arrowOf = (markup: string, text: string): number[] => {
  const before = markup.slice(0, markup.indexOf(`>${text}<`))
  const [, from, to] = [...before.matchAll(/d="M\S+ (\S+)V(\S+)"/g)].at(-1) ?? []
  return [Number(from), Number(to)]
}

test('the arrow above the wax is as long as the gap that is written beside it', () => {
  for (const top of [shape.top ?? 0, 7.25]) {
    const markup = drawn(top)
    expect(markup).toContain(`${top.toFixed(2)} above the wax`)
    const [from = Number.NaN, to = Number.NaN] = arrowOf(markup, top.toFixed(2))
    expect(to).toBe(-shape.height)
    expect(from - to).toBeCloseTo(top, 9)
  }
})
