import {
  type Arrangement,
  type ArrangeProblem,
  type ArrangeRequest,
  benchSprues,
  drawSheet,
  investmentBody,
  type MetalBody,
  matrixFromModel,
  type SheetUnit,
} from '../engine/arrange/index.ts'
import { arrangePlan } from '../engine/arrange-plan.ts'
import { stopsByPlaces } from '../engine/arrange-request.ts'
import { arrangementKey } from '../engine/arrangement-verdict.ts'
import { type Pour, restsOnFile } from '../engine/documents/index.ts'
import { type TriangleMesh, writeStl } from '../engine/piece/mesh/index.ts'
import { type MeshFacts, shapeKey } from '../engine/piece/mesh-facts.ts'
import { planPour } from '../engine/plan.ts'
import { readShape, type ShapeWork } from '../settle/index.ts'
import { arrangementInWords } from './arrange-words.ts'
import { loadSolids, slowLoaders } from './load.ts'
import { readPour } from './read-pour.ts'
import { refuse } from './refusal.ts'
import { checkWritable, save } from './write-file.ts'

export interface ArrangeOptions {
  readonly shop?: string
  readonly json: boolean
  readonly body?: string
  readonly cavity?: string
  readonly drawing?: string
  /** what the drawing's lengths are written in */
  readonly units?: SheetUnit
  /** only this page of the drawing, from 1 */
  readonly page?: number
  /** what the answer's lengths are written in; as the drawing's when absent, and the other way round */
  readonly length?: SheetUnit
  /** how long to look for a smaller flask, as a multiple of the usual; 0 takes the first that is found */
  readonly effort?: number
}

/** Each model or drawing read once: what the plan takes from it, and its solid where it can be trusted. */
const readShapes = async (
  pour: Pour,
  work: ShapeWork,
): Promise<{ facts: Record<string, MeshFacts>; meshes: Record<string, TriangleMesh> }> => {
  const facts: Record<string, MeshFacts> = {}
  const meshes: Record<string, TriangleMesh> = {}
  for (const { source } of pour.pieces) {
    const key = shapeKey(source)
    if (!restsOnFile(source) || key === undefined || facts[key] !== undefined) continue
    const shape = await readShape(source, work)
    facts[key] = shape.facts
    if (shape.mesh !== undefined) meshes[key] = shape.mesh
  }
  return { facts, meshes }
}

/** One entry of the answer each; keys are a published contract: more may come, none may go. */
const toJson = (
  request: ArrangeRequest | undefined,
  arrangement: Arrangement | undefined,
  body: MetalBody | undefined,
  problems: readonly ArrangeProblem[],
) => ({
  kind: 'arrangement' as const,
  version: 1 as const,
  fits: (arrangement?.fits ?? false) && !problems.some((problem) => problem.level === 'stop'),
  flask: arrangement?.flask
    ? {
        id: arrangement.flask.id,
        inside_diameter_mm: arrangement.flask.diameter_mm,
        inside_height_mm: arrangement.flask.height_mm,
      }
    : null,
  placements: (arrangement?.placements ?? []).map(({ piece, copy, motion, locked }) => {
    const asked = request?.pieces.find((one) => one.id === piece)
    return {
      piece,
      copy,
      matrix: matrixFromModel(motion, asked?.over ?? 1),
      locked,
      standIn: asked?.standIn ?? false,
    }
  }),
  sprues: (arrangement?.sprues ?? []).map(
    ({ piece, copy, from_mm, to_mm, diameter_mm, stemEnd_mm, fillet_mm, length_mm, reason }) => ({
      piece,
      copy,
      from_mm,
      to_mm,
      diameter_mm,
      stemEnd_mm,
      fillet_mm,
      length_mm,
      reason,
    }),
  ),
  sections: arrangement?.sections ?? [],
  stem: arrangement?.stem ?? null,
  button:
    request === undefined
      ? null
      : {
          depth_mm: request.button_mm,
          cone: request.base,
        },
  clearances: (arrangement?.clearances ?? []).map(({ keptByStem: _, ...one }) => one),
  stemClearances: arrangement?.stemClearances ?? [],
  offAxis_mm: arrangement?.offAxis_mm ?? null,
  metalBody: body === undefined ? null : { volume_mm3: body.volume_mm3, closed: body.closed },
  problems,
})

export type ArrangeJson = ReturnType<typeof toJson>

/** The sheet, or the one page of it that was asked for. */
const drawn = (
  request: ArrangeRequest,
  arrangement: Arrangement,
  name: string,
  { units, page }: ArrangeOptions,
): string => {
  const { svg, pages } = drawSheet(request, arrangement, name, units)
  if (page === undefined) return svg
  return (
    pages[page - 1] ??
    refuse(
      '--page',
      `the drawing has ${pages.length} ${pages.length === 1 ? 'page' : 'pages'}, not ${page}`,
      'ask for one of them, or for all by leaving it out',
    )
  )
}

/** `arrange POUR.json`: exit status 1 when nothing fits, a locked place breaks a clearance, or the plan stops for these sprues. */
export const runArrange = async (
  path: string,
  options: ArrangeOptions,
): Promise<{ readonly out: string; readonly exitStatus: 0 | 1 }> => {
  const { pour, shop, readModel } = await readPour(path, options.shop)
  if (pour.flask !== undefined && !shop.flasks.some((flask) => flask.id === pour.flask))
    refuse(
      '/flask',
      `this shop has no flask called ${pour.flask}`,
      'choose one of the rack, or leave it open',
    )
  await checkWritable([
    ['--body', options.body],
    ['--cavity', options.cavity],
    ['--drawing', options.drawing],
  ])
  const { facts, meshes } = await readShapes(pour, { readModel, ...slowLoaders })
  const given = { now: 0, meshes: facts }
  const plan = planPour(shop, pour, given)
  const solids = await loadSolids()
  const placed = arrangePlan(plan, meshes, solids, options.effort)
  const { arrangement, body } = placed
  const byPlaces = planPour(shop, pour, { ...given, arrangements: { [arrangementKey(plan)]: placed.facts } })
  // the plan's own stops leave the places as they are, and yet nobody should build by them
  const told = [...(placed.request?.told ?? []), ...stopsByPlaces(byPlaces)]
  const request = placed.request && { ...placed.request, told }
  const problems: ArrangeProblem[] = [...placed.problems]
  for (const { problems: found } of Object.values(facts))
    for (const problem of found) problems.push({ kind: 'model', level: 'check', ...problem })
  if (request !== undefined && arrangement !== undefined && arrangement.flask !== null) {
    if (options.body !== undefined && body !== undefined)
      await save('--body', options.body, writeStl(body.mesh, 'metal body, mm'))
    if (options.cavity !== undefined) {
      const cavity = investmentBody(request, arrangement, solids)
      if ('problem' in cavity) problems.push(cavity.problem)
      else await save('--cavity', options.cavity, writeStl(cavity.mesh, 'investment, mm'))
    }
    if (options.drawing !== undefined)
      await save(
        '--drawing',
        options.drawing,
        drawn(request, arrangement, pour.name, { ...options, units: options.units ?? options.length }),
      )
  }
  const found = toJson(request, arrangement, body, problems)
  const answer = { ...found, problems: [...told, ...problems] }
  const stopped = answer.problems.some(({ level }) => level === 'stop')
  return {
    out: options.json
      ? JSON.stringify(answer)
      : arrangementInWords(
          answer,
          request && arrangement ? benchSprues(request, arrangement) : [],
          pour.pieces,
          options.length ?? options.units ?? 'mm',
        ),
    exitStatus: answer.fits && !stopped ? 0 : 1,
  }
}
