import { readStated } from '../engine/documents/index.ts'
import { reliefToCast } from '../engine/pattern/filing.ts'
import { lacksUnit, templateOf } from '../engine/pattern/index.ts'
import { printTemplate } from '../print/index.ts'
import { readDrawnFile, type SlowWork } from '../settle/index.ts'
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
  const { heights } = source
  const read = await readDrawnFile(bytes, source.file, heights, decodePicture)
  if ('unreadable' in read) return refused(source.file, read.unreadable, read.remedy)
  const { reading } = read
  if (reading.regions.regions.length === 0) {
    const told = reading.problems.find(({ level }) => level === 'stop')
    return refused(
      source.file,
      told?.what ?? 'the drawing leaves no region to draw',
      told?.remedy ?? 'close its outlines',
    )
  }
  const unsaid = lacksUnit(reading)
  if (unsaid !== undefined) return refused(source.file, unsaid.what, unsaid.remedy)
  const relief = reliefToCast(
    reading.regions.regions,
    heights,
    await loadReliefSolids(),
    reading.drawing.outlineSpread_mm,
  )
  const alloy = shop.alloys.find(({ id }) => id === pour.alloy)
  const shrink = readStated(alloy?.castShrink ?? 0)
  const layout = templateOf(reading, relief, heights, {
    name,
    paper,
    unit,
    bar_mm,
    compensation: { shrink: shrink.value, shrinkLow: shrink.low, shrinkHigh: shrink.high },
  })
  return { ok: true, pdf: await printTemplate(layout, { printedAt: now.getTime() }), plan: undefined }
}
