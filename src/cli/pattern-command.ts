import { readFile } from 'node:fs/promises'
import { basename } from 'node:path'
import { parseArgs } from 'node:util'
import { type Heights, heightsSchema, readDocument, readStated } from '../engine/documents/index.ts'
import { USUAL_ALLOYS } from '../engine/materials/index.ts'
import {
  isBar,
  isPicture,
  isStopped,
  lacksUnit,
  type PatternReading,
  type PatternShape,
  type Picture,
  readPattern,
  SAY_BAR,
  shapePattern,
  type TemplateWish,
  templateDxf,
  templateOf,
  templateSvg,
  write3mf,
  writeStl,
} from '../engine/pattern/index.ts'
import { badArguments, type ExitStatus, refuse, type Shell } from './command.ts'
import { decodePicture, loadReliefSolids } from './load.ts'
import { type PatternJson, patternInWords, patternToJson, SAY_UNIT } from './pattern.ts'
import { Refusal, refuse as refuseAt } from './refusal.ts'
import { checkWritable, save } from './write-file.ts'

type ShrinkOver = TemplateWish['compensation']

export const summary = 'regions, relief, weight and template of a drawing or a photo of one'

export const usage = `pourwright pattern DRAWING [--heights FILE] [--units mm|in|px] [--mesh OUT.stl] [--template OUT.pdf] [--json]

  DRAWING           SVG, DXF, or a photo or scan: PNG, JPEG, WebP (a photo needs in
                    HEIGHTS the four corners of a sheet of known size, or two points a known distance apart)
  --heights FILE    heights and roles by region id, as schemas/heights.schema.json describes; the pattern page
                    saves one; without it every region stands at 3 mm
  --units           for a drawing that does not say its unit: without it such a drawing has no weight, and its
                    size is told both ways
  --mesh FILE       the solid as drawn, .stl or .3mf
  --wax-mesh FILE   the same, over by the shrink, to mill or print the wax
  --template FILE   true-size template: .pdf, .svg or .dxf, over by the shrink
  --paper a4|letter for the template; A4 unless said
  --bar MM          what the 100 mm bar of an earlier print measured, 95 to 105
  --json            the answer as JSON, each key with its unit

Nothing in a drawing is run or fetched. Status 2, with one line of reason, where a stop takes its weight away.`

const parse = (args: readonly string[]) =>
  parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      heights: { type: 'string' },
      units: { type: 'string' },
      mesh: { type: 'string' },
      'wax-mesh': { type: 'string' },
      template: { type: 'string' },
      paper: { type: 'string', default: 'a4' },
      bar: { type: 'string' },
      json: { type: 'boolean', default: false },
    },
  })

const PLAIN: Heights = heightsSchema.parse({ kind: 'heights', version: 1, blank_mm: 3 })

const bytesOf = async (path: string): Promise<Uint8Array> => {
  try {
    return new Uint8Array(await readFile(path))
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    const what =
      code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'this is a folder' : message
    return refuseAt(path, what, 'check the path')
  }
}

const heightsOf = async (path: string | undefined): Promise<Heights> => {
  if (path === undefined) return PLAIN
  const text = new TextDecoder().decode(await bytesOf(path)).replace(/^\uFEFF/, '')
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    return refuseAt(path, `not JSON: ${(error as Error).message}`, 'mend the file at that place')
  }
  const reading = readDocument(heightsSchema, value)
  if (!reading.ok)
    throw new Refusal(reading.problems.map(({ where, ...rest }) => ({ ...rest, where: `${path} ${where}` })))
  return reading.value
}

/** What the command line asked for, every word of it checked. */
interface Asked {
  readonly path: string
  readonly heights: Heights
  readonly mesh?: string
  readonly waxMesh?: string
  readonly template?: string
  readonly paper: 'a4' | 'letter'
  readonly bar_mm: number
}

const askedOf = async (values: ReturnType<typeof parse>['values'], paths: string[]): Promise<Asked> => {
  const [path, another] = paths
  if (path === undefined) return refuseAt('', 'no drawing was named', 'name one SVG, DXF or picture')
  if (another !== undefined) return refuseAt(another, 'one drawing at a time', 'call it once for each')
  const { units, paper, bar } = values
  if (units !== undefined && units !== 'mm' && units !== 'in' && units !== 'px')
    return refuseAt('--units', `"${units}" is not a unit for drawings`, 'say mm, in or px')
  if (paper !== 'a4' && paper !== 'letter')
    return refuseAt('--paper', `"${paper}" is not a paper`, 'say a4 or letter')
  const bar_mm = bar === undefined ? 100 : Number(bar)
  if (!isBar(bar_mm)) return refuseAt('--bar', `"${bar}" is not what a 100 mm bar can measure`, SAY_BAR)
  const heights = await heightsOf(values.heights)
  return {
    path,
    heights: units === undefined ? heights : { ...heights, units },
    mesh: values.mesh,
    waxMesh: values['wax-mesh'],
    template: values.template,
    paper,
    bar_mm,
  }
}

/** The alloy whose shrink the wax is over by, as `mass_g` and `cast_g` are in it: the usual sterling. */
const usualCompensation = (): ShrinkOver => {
  const shrink = readStated(USUAL_ALLOYS.find(({ id }) => id === 'sterling')?.castShrink ?? 0)
  return { shrink: shrink.value, shrinkLow: shrink.low, shrinkHigh: shrink.high }
}

const writeMesh = async (
  option: string,
  path: string | undefined,
  reading: PatternReading,
  shape: PatternShape | undefined,
  { scale, filing_mm }: { readonly scale: number; readonly filing_mm: number | undefined },
): Promise<void> => {
  if (path === undefined) return
  const unsaid = lacksUnit(reading)
  if (unsaid !== undefined) return refuseAt(`${option} ${path}`, unsaid.what, SAY_UNIT)
  if (shape === undefined || shape.facts.volume_mm3 === null)
    return refuseAt(
      `${option} ${path}`,
      'there is no sound solid to write',
      'mend what the problems name first',
    )
  const { mesh } = shape.relief
  if (/\.stl$/i.test(path)) return save(option, path, writeStl(mesh, scale))
  if (/\.3mf$/i.test(path)) return save(option, path, write3mf(mesh, scale, filing_mm))
  refuseAt(`${option} ${path}`, 'a solid is written as .stl or .3mf', 'end the name in one of them')
}

const writeTemplate = async (
  asked: Asked,
  reading: PatternReading,
  shape: PatternShape | undefined,
  compensation: ShrinkOver,
  printedAt: number,
): Promise<void> => {
  const { template: path, paper, bar_mm, heights } = asked
  if (path === undefined) return
  if (shape === undefined)
    return refuseAt(`--template ${path}`, 'there is no region to draw', 'mend what the problems name first')
  const unsaid = lacksUnit(reading)
  if (unsaid !== undefined) return refuseAt(`--template ${path}`, unsaid.what, SAY_UNIT)
  const name = basename(asked.path).replace(/\.[^.]*$/, '')
  const layout = templateOf(reading, shape.relief, heights, { name, paper, compensation, bar_mm })
  if (/\.svg$/i.test(path)) return save('--template', path, templateSvg(layout))
  if (/\.dxf$/i.test(path)) return save('--template', path, templateDxf(layout))
  if (!/\.pdf$/i.test(path))
    return refuseAt(
      `--template ${path}`,
      'a template is written as .pdf, .svg or .dxf',
      'end the name in one of them',
    )
  const { printTemplate } = await import('../print/index.ts')
  return save('--template', path, await printTemplate(layout, { printedAt }))
}

const answer = async (asked: Asked, now: number): Promise<{ json: PatternJson; bad: boolean }> => {
  const bytes = await bytesOf(asked.path)
  await checkWritable([
    ['--mesh', asked.mesh],
    ['--wax-mesh', asked.waxMesh],
    ['--template', asked.template],
  ])
  const name = basename(asked.path)
  let picture: Picture | undefined
  if (isPicture(bytes)) {
    const decoded = await decodePicture(bytes, name)
    if ('unreadable' in decoded) return refuseAt(asked.path, decoded.unreadable, decoded.remedy)
    picture = decoded.picture
  }
  const reading = readPattern({ bytes, name, heights: asked.heights, picture })
  const shape =
    reading.regions.regions.length === 0
      ? undefined
      : shapePattern(reading, asked.heights, await loadReliefSolids())
  const compensation = usualCompensation()
  const over = asked.heights.over === 'shrink' ? 1 / (1 - compensation.shrink) : 1
  const { filing_mm } = asked.heights
  await writeMesh('--mesh', asked.mesh, reading, shape, { scale: 1, filing_mm })
  await writeMesh('--wax-mesh', asked.waxMesh, reading, shape, { scale: over, filing_mm })
  await writeTemplate(asked, reading, shape, compensation, now)
  const json = patternToJson(asked.path, asked.heights, reading, shape, over)
  return { json, bad: json.regions.length === 0 || isStopped(json.problems) }
}

export const run = async (args: readonly string[], shell: Shell): Promise<ExitStatus> => {
  let parsed: ReturnType<typeof parse>
  try {
    parsed = parse(args)
  } catch (error) {
    return badArguments(shell, args, error, usage)
  }
  const { values, positionals } = parsed
  try {
    const { json, bad } = await answer(await askedOf(values, positionals), shell.now().getTime())
    shell.write(values.json ? `${JSON.stringify(json, undefined, 2)}\n` : `${patternInWords(json)}\n`)
    if (!bad) return 0
    const told = json.problems.find(({ level }) => level === 'stop') ?? json.problems[0]
    shell.tell(`pourwright: ${json.file}: ${told?.what ?? 'the drawing leaves no region'}`)
    return 2
  } catch (error) {
    if (error instanceof Refusal) return refuse(shell, values.json, error.problems)
    throw error
  }
}
