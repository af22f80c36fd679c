import { readStated } from '../engine/documents/index.ts'
import { isPicture, type Picture, readPattern, shapePattern, templateOf } from '../engine/pattern/index.ts'
import { printTemplate } from '../print/index.ts'
import type { SlowWork } from '../settle/index.ts'
import type { Printed, TemplateAsked } from './services.ts'

type Loaders = Pick<SlowWork, 'loadReliefSolids' | 'decodePicture'>

const refused = (where: string, what: string, remedy: string): Printed<undefined> => ({
  ok: false,
  problems: [{ where, what, remedy }],
})

/** The carving template of one drawn piece, over by the shrink of the pour's alloy. */
export const printPatternTemplate = async (
  { piece, pour, shop, paper, unit, bar_mm, now, readModel }: TemplateAsked,
  { loadReliefSolids, decodePicture }: Loaders,
): Promise<Printed<undefined>> => {
  const { source, name } = piece
  if (source.from !== 'pattern')
    return refused(piece.id, `${name} has no drawing, so it has no template`, 'add a drawing to the pour')
  const bytes = source.sha256 === undefined ? undefined : await readModel(source.sha256)
  if (bytes === undefined)
    return refused(source.file, `the drawing ${source.file} is not kept here`, 'choose the drawing again')
  let picture: Picture | undefined
  if (isPicture(bytes)) {
    const decoded = await decodePicture(bytes, source.file)
    if ('unreadable' in decoded) return refused(source.file, decoded.unreadable, decoded.remedy)
    picture = decoded.picture
  }
  const { heights } = source
  const reading = readPattern({ bytes, name: source.file, heights, picture })
  if (reading.regions.regions.length === 0) {
    const told = reading.problems.find(({ level }) => level === 'stop')
    return refused(
      source.file,
      told?.what ?? 'the drawing leaves no region to draw',
      told?.remedy ?? 'close its outlines',
    )
  }
  const shape = shapePattern(reading, heights, await loadReliefSolids())
  const alloy = shop.alloys.find(({ id }) => id === pour.alloy)
  const shrink = readStated(alloy?.castShrink ?? 0)
  const layout = templateOf(reading, shape.relief, heights, {
    name,
    paper,
    unit,
    bar_mm,
    compensation: { shrink: shrink.value, shrinkLow: shrink.low, shrinkHigh: shrink.high, finish_mm: 0 },
  })
  return { ok: true, pdf: await printTemplate(layout, { printedAt: now.getTime() }), plan: undefined }
}
