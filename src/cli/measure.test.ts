import { expect, test } from 'vitest'
import { samples } from '../../fixtures/meshes/samples.ts'
import { loadSolids } from '../solids/manifold.ts'
import { runMeasure } from './measure.ts'

const files = samples()
const solids = await loadSolids()
const alloys = [
  { id: 'sterling', density_g_cm3: 10.36 },
  { id: 'bronze', density_g_cm3: 8.8 },
]
const run = (names: string[], acceptRepair = false) =>
  runMeasure(
    names.map((name) => {
      const bytes = files[name]
      return bytes ? { path: name, bytes } : { path: name, unreadable: 'there is no such file' }
    }),
    { alloys, solids, acceptRepair },
  )

test('a sound file gives volume, bounds and a mass in each alloy', () => {
  const { json, exitStatus, reason, text } = run(['cube.stl'])
  expect(json.models[0]).toMatchObject({ file: 'cube.stl', units: 'mm', closed: true })
  expect(json.models[0]?.mass_g.sterling).toBeCloseTo(10.36, 9)
  expect(json.models[0]?.mass_g.bronze).toBeCloseTo(8.8, 9)
  expect(json.models[0]?.bounds_mm).toEqual({ min: [0, 0, 0], max: [10, 10, 10] })
  expect([exitStatus, reason]).toEqual([0, null])
  expect(text).toContain('in sterling 10.36 g')
  // a cube's volume over its area is a sixth of its side
  const [place, ...others] = json.models[0]?.thick_places ?? []
  expect(others).toEqual([])
  expect(place?.thickness_mm).toBeCloseTo(10, 1)
  expect(place?.modulus_mm).toBeCloseTo(10 / 6, 1)
})

test('one model for each file, in order, also where one cannot be read', () => {
  const { json, exitStatus, reason } = run(['cube.obj', 'absent.stl', 'tag.glb'])
  expect(json.models.map((m) => m.file)).toEqual(['cube.obj', 'absent.stl', 'tag.glb'])
  expect(json.models[1]).toMatchObject({ volume_mm3: null, mass_g: { sterling: null, bronze: null } })
  expect(json.models[1]?.problems[0]).toMatchObject({ what: 'there is no such file', where: 'absent.stl' })
  expect(exitStatus).toBe(2)
  expect(reason).toBe('absent.stl: there is no such file')
})

test('an untrusted mesh is an answer, not a failure: null volume and masses, status 0', () => {
  for (const name of [
    'open.stl',
    'one-flipped.stl',
    'truncated.stl',
    'not-a-number.stl',
    'self-crossing.stl',
  ]) {
    const { json, exitStatus } = run([name])
    expect(json.models[0], name).toMatchObject({ volume_mm3: null, mass_g: { sterling: null } })
    expect(json.models[0]?.problems.some((p) => p.level === 'stop')).toBe(true)
    expect(exitStatus).toBe(0)
  }
})

test('an accepted repair gives masses; a cut-short or crossing file gets none even so', () => {
  expect(run(['open.stl'], true).json.models[0]?.mass_g.sterling).toBeCloseTo(10.36, 6)
  expect(run(['one-flipped.stl'], true).json.models[0]?.mass_g.sterling).toBeCloseTo(10.36, 6)
  for (const name of ['truncated.stl', 'not-a-number.stl', 'self-crossing.stl'])
    expect(run([name], true).json.models[0]?.mass_g.sterling, name).toBeNull()
})

test('files without a triangle, of no known kind or refused give status 2 and a reason on one line', () => {
  for (const name of ['notes.stl', 'bomb.3mf', 'no-build.3mf', 'outside-buffer.glb']) {
    const { exitStatus, reason } = run([name])
    expect(exitStatus, name).toBe(2)
    expect(reason).toMatch(/^[^\n]+$/)
  }
})

test('the JSON holds no arrays of coordinates', () => {
  expect(JSON.stringify(run(['open.stl']).json).length).toBeLessThan(4000)
})
