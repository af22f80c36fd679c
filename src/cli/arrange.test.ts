import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { buildBallTree, distanceApart } from '../engine/piece/mesh/apart.ts'
import { measureModel } from '../engine/piece/mesh/index.ts'
import { arrangeJsonSchema } from '../engine/plan-schema.ts'
import { runArrange } from './arrange.ts'

const folder = mkdtempSync(join(tmpdir(), 'arrange-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
for (const name of ['cloak-clasp.json', 'clasp.stl', 'tag.3mf'])
  copyFileSync(join('examples', name), join(folder, name))

const clasp = JSON.parse(readFileSync('examples/cloak-clasp.json', 'utf8'))
const pourWith = (name: string, change: (pour: typeof clasp) => void): string => {
  const pour = structuredClone(clasp)
  change(pour)
  writeFileSync(join(folder, name), JSON.stringify(pour))
  return join(folder, name)
}

test('the clasp set is placed, its metal is one closed body, and the file’s own distances agree', async () => {
  const body = join(folder, 'body.stl')
  const { out, exitStatus } = await runArrange(join(folder, 'cloak-clasp.json'), { json: true, body })
  const answer = JSON.parse(out)
  expect(exitStatus).toBe(0)
  expect(arrangeJsonSchema.safeParse(answer).error).toBeUndefined()
  expect(answer.flask.id).toMatch(/^flask-/)
  expect(answer.placements.map((one: { piece: string }) => one.piece).sort()).toEqual([
    'clasp',
    'slide',
    'tag',
  ])
  for (const { distance_mm, needed_mm } of answer.clearances)
    expect(distance_mm).toBeGreaterThanOrEqual(needed_mm)
  expect(answer.metalBody.closed).toBe(true)

  const metal = measureModel(readFileSync(body), 'body.stl', { units: 'mm' })
  expect(metal.closed).toBe(true)
  expect(metal.shells).toBe(1)
  expect(metal.volume_mm3).toBeCloseTo(answer.metalBody.volume_mm3, 0)

  const model = (name: string) =>
    buildBallTree(measureModel(readFileSync(join(folder, name)), name, { units: 'mm' }).mesh)
  const matrixOf = (piece: string): number[] =>
    answer.placements.find((one: { piece: string }) => one.piece === piece).matrix
  const placed = (piece: string, name: string) => {
    const m = matrixOf(piece)
    const { mesh } = model(name)
    const positions = mesh.positions.map((_, i) => {
      const at = i - (i % 3)
      const row = (i % 3) * 4
      return [0, 1, 2].reduce(
        (sum, k) => sum + (m[row + k] ?? 0) * (mesh.positions[at + k] ?? 0),
        m[row + 3] ?? 0,
      )
    })
    return buildBallTree({ positions, corners: mesh.corners })
  }
  const still = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]
  const told = answer.clearances.find(
    ({ between }: { between: string[] }) => between.includes('clasp/1') && between.includes('tag/1'),
  )
  expect(distanceApart(placed('clasp', 'clasp.stl'), placed('tag', 'tag.3mf'), still)).toBeCloseTo(
    told.distance_mm,
    6,
  )
}, 60_000)

test('the same pour is arranged the same to the last digit', async () => {
  const path = join(folder, 'cloak-clasp.json')
  const [first, second] = [await runArrange(path, { json: true }), await runArrange(path, { json: true })]
  expect(second.out).toBe(first.out)
}, 60_000)

test('a wax with no sizes and no model can’t be placed, and that is said', async () => {
  const path = pourWith('open.json', (pour) => {
    delete pour.pieces[1].source.calipers
  })
  const { out, exitStatus } = await runArrange(path, { json: true })
  expect(exitStatus).toBe(1)
  const { flask, placements, problems } = JSON.parse(out)
  expect([flask, placements]).toEqual([null, []])
  expect(problems.map((one: { kind: string }) => one.kind)).toContain('no-solid')
})

test('an open model can’t be placed: it is said, and nothing is called fitting', async () => {
  copyFileSync(join('fixtures', 'meshes', 'files', 'truncated.stl'), join(folder, 'torn.stl'))
  const path = pourWith('torn.json', (pour) => {
    pour.pieces[0].source = {
      from: 'mesh',
      file: 'torn.stl',
      units: 'mm',
      calipers: pour.pieces[0].source.calipers,
    }
  })
  const { out, exitStatus } = await runArrange(path, { json: true })
  const answer = JSON.parse(out)
  expect([exitStatus, answer.fits, answer.placements]).toEqual([1, false, []])
  expect(answer.problems.map((one: { kind: string }) => one.kind)).toContain('no-solid')
})

test('a wax locked in the pour stays where it was put, and one locked into the wall is told', async () => {
  const locked = (matrix: number[]) =>
    pourWith('locked.json', (pour) => {
      pour.tree.locked = [{ piece: 'tag', copy: 1, matrix }]
    })
  const free = JSON.parse((await runArrange(join(folder, 'cloak-clasp.json'), { json: true })).out)
  const { matrix } = free.placements.find((one: { piece: string }) => one.piece === 'tag')
  const held = JSON.parse((await runArrange(locked(matrix), { json: true })).out)
  expect(held.placements.find((one: { piece: string }) => one.piece === 'tag')).toMatchObject({
    matrix,
    locked: true,
  })
  const outward = matrix.map((value: number, k: number) => (k === 3 || k === 7 ? value * 2 : value))
  const out = JSON.parse((await runArrange(locked(outward), { json: true })).out)
  expect(out.fits).toBe(false)
  expect(out.clearances[0].between).toContain('wall')
  expect(out.clearances[0].distance_mm).toBeLessThan(out.clearances[0].needed_mm)
}, 120_000)

test('a rack too small is told by how much', async () => {
  const path = pourWith('small.json', (pour) => {
    pour.flask = 'flask-2x2'
  })
  const { out, exitStatus } = await runArrange(path, { json: true })
  expect(exitStatus).toBe(1)
  const answer = JSON.parse(out)
  expect(answer.placements).toEqual([])
  expect(answer.problems.find((one: { kind: string }) => one.kind === 'too-large').what).toMatch(
    /Clasp.*(wider|would not do)/,
  )
}, 60_000)
