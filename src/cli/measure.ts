import type { LengthUnit, MeshProblem, ModelMeasure, Repair, Solids } from '../engine/piece/mesh/index.ts'
import { measureModel } from '../engine/piece/mesh/index.ts'
import { modulusWithin } from '../engine/piece/mesh/thick-places.ts'

/** A file as the shell hands it over: its bytes, or why they could not be had. */
export type MeasuredFile = { path: string; bytes: Uint8Array } | { path: string; unreadable: string }

export type MeasureCommandOptions = {
  units?: LengthUnit
  acceptRepair?: boolean
  /** Alloys to give masses for; sterling first by custom. */
  alloys: readonly { id: string; density_g_cm3: number }[]
  solids?: Solids | null
}

/** One entry of `models`; keys are part of the published contract, more may come, none may go. */
export type MeasuredModel = {
  file: string
  format: string | null
  units: string
  unitsAssumed: boolean
  closed: boolean
  volume_mm3: number | null
  area_mm2: number | null
  bounds_mm: { min: number[]; max: number[] } | null
  extents_mm: readonly number[] | null
  modulus_mm: number | null
  thickness_mm: ModelMeasure['thickness_mm']
  /** thickest first: each place's own volume over cooling area, by which its sprue is sized */
  thick_places: ModelMeasure['thick_places']
  mass_g: Record<string, number | null>
  shells: number
  triangles: number
  problems: MeshProblem[]
  repair: RepairShown | null
}

type RepairShown = Omit<Repair, 'patch'> & { addedTriangles: number }

export type MeasureAnswer = {
  json: { models: MeasuredModel[] }
  text: string
  /**
   * 0 where every file held triangles, even ones not to be trusted: then the answer is null with its problems.
   * 2 where some file is missing, of no known format, refused, or without a single triangle.
   */
  exitStatus: 0 | 2
  /** One line for standard error where the status is 2. */
  reason: string | null
}

/** The command `measure`: pure, so that the shell only reads files and prints. */
export function runMeasure(files: readonly MeasuredFile[], options: MeasureCommandOptions): MeasureAnswer {
  const models = files.map((file) => measureOne(file, options))
  const bad = models.filter((model) => model.triangles === 0)
  const first = bad[0]
  const told = first?.problems.find((p) => p.level === 'stop') ?? first?.problems[0]
  return {
    json: { models },
    text: models.map((model) => inText(model)).join('\n\n'),
    exitStatus: bad.length > 0 ? 2 : 0,
    reason: first
      ? `${first.file}: ${told?.what ?? 'nothing could be read'}${bad.length > 1 ? ` (and ${bad.length - 1} more)` : ''}`
      : null,
  }
}

function measureOne(file: MeasuredFile, options: MeasureCommandOptions): MeasuredModel {
  const bytes = 'bytes' in file ? file.bytes : new Uint8Array(0)
  const measure = measureModel(bytes, nameIn(file.path), options)
  const problems: MeshProblem[] =
    'unreadable' in file
      ? [
          {
            kind: 'not-found',
            level: 'stop',
            what: file.unreadable,
            where: file.path,
            remedy: 'check the path and that the file may be read',
          },
        ]
      : measure.problems
  const mass_g: Record<string, number | null> = {}
  for (const { id, density_g_cm3 } of options.alloys)
    mass_g[id] = measure.volume_mm3 === null ? null : (measure.volume_mm3 / 1000) * density_g_cm3
  return {
    file: file.path,
    format: measure.format,
    units: measure.units,
    unitsAssumed: measure.unitsAssumed,
    closed: measure.closed,
    volume_mm3: measure.volume_mm3,
    area_mm2: measure.area_mm2,
    bounds_mm: measure.bounds_mm,
    extents_mm: measure.extents_mm,
    modulus_mm: measure.modulus_mm,
    thickness_mm: measure.thickness_mm,
    thick_places: measure.thick_places,
    mass_g,
    shells: measure.shells,
    triangles: measure.triangles,
    problems,
    repair: measure.repair && shownRepair(measure.repair),
  }
}

function shownRepair({ patch, ...repair }: Repair): RepairShown {
  return { ...repair, addedTriangles: patch.corners.length / 3 }
}

const nameIn = (path: string): string => path.split(/[/\\]/).at(-1) ?? path

const number = (value: number): string => value.toLocaleString('en-US', { maximumSignificantDigits: 6 })

/** As well as it is known. */
const rounded = (value: number): number => Number(value.toPrecision(2))

function inText(model: MeasuredModel): string {
  const lines = [model.file]
  if (model.volume_mm3 !== null) {
    lines.push(`  volume ${number(model.volume_mm3)} mm3, surface ${number(model.area_mm2 ?? 0)} mm2`)
    for (const [alloy, mass] of Object.entries(model.mass_g))
      if (mass !== null) lines.push(`  in ${alloy} ${number(mass)} g`)
  } else lines.push('  no volume: it cannot be trusted as it is')
  if (model.extents_mm) lines.push(`  size ${model.extents_mm.map(number).join(' x ')} mm`)
  if (model.thickness_mm)
    lines.push(
      `  nine tenths of it between ${number(model.thickness_mm.p05)} and ${number(model.thickness_mm.p95)} mm thick, by ${model.thickness_mm.samples} balls that just fit inside`,
    )
  for (const { thickness_mm, modulus_mm } of model.thick_places) {
    const { least, most } = modulusWithin(thickness_mm, modulus_mm)
    lines.push(
      `  thick place of ${number(rounded(thickness_mm))} mm, volume over cooling area ${number(rounded(modulus_mm))} mm (${number(rounded(least))} to ${number(rounded(most))})`,
    )
  }
  for (const { level, what, where, remedy } of model.problems)
    lines.push(`  ${level}: ${what}`, `    where: ${where}`, `    what to do: ${remedy}`)
  if (model.repair && !model.repair.accepted)
    lines.push(
      `  a repair is possible: ${model.repair.steps.join('; ')}`,
      `    it would give ${number(model.repair.volume_mm3)} mm3; to accept it: --accept-repair`,
    )
  return lines.join('\n')
}
