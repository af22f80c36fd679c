import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { describe, expect, test } from 'vitest'
import type { LinearModel } from '../engine/charge/make-up/linear-model.ts'
import { createHighsSolver } from './highs.ts'

const solver = createHighsSolver()

// Most of 3x + 2y with x + y <= 4, x + 3y <= 6, x <= 3.5: by hand x = 3.5, y = 0.5, worth 11.5.
const small = (kind: 'continuous' | 'integer'): LinearModel => ({
  direction: 'most',
  variables: [
    { cost: 3, low: 0, high: 3.5, kind },
    { cost: 2, low: 0, high: 10, kind },
  ],
  rows: [
    {
      low: -Infinity,
      high: 4,
      terms: [
        [0, 1],
        [1, 1],
      ],
    },
    {
      low: -Infinity,
      high: 6,
      terms: [
        [0, 1],
        [1, 3],
      ],
    },
  ],
})

describe('the linear solver', () => {
  test('finds the corner that hand arithmetic gives', async () => {
    expect(await solver.solve(small('continuous'))).toEqual({
      status: 'optimal',
      objective: 11.5,
      values: [3.5, 0.5],
    })
  })

  test('finds the best whole numbers', async () => {
    const solution = await solver.solve(small('integer'))
    expect(solution).toMatchObject({ status: 'optimal', objective: 11 })
  })

  test('says when nothing fits, with variables and without', async () => {
    const model = small('continuous')
    model.rows.push({
      low: 9,
      high: Infinity,
      terms: [
        [0, 1],
        [1, 1],
      ],
    })
    expect(await solver.solve(model)).toEqual({ status: 'infeasible' })
    const empty: LinearModel = { direction: 'least', variables: [], rows: [{ low: 1, high: 2, terms: [] }] }
    expect(await solver.solve(empty)).toEqual({ status: 'infeasible' })
    expect(await solver.solve({ ...empty, rows: [] })).toMatchObject({ status: 'optimal', objective: 0 })
  })

  test('calls a model without bound undecided, not solved', async () => {
    const variables: LinearModel['variables'] = [{ cost: 1, low: 0, high: Infinity, kind: 'continuous' }]
    expect(await solver.solve({ direction: 'most', variables, rows: [] })).toMatchObject({
      status: 'undecided',
    })
  })

  test('answers questions asked at the same time, and the same way each time', async () => {
    const answers = await Promise.all(Array.from({ length: 50 }, () => solver.solve(small('integer'))))
    for (const answer of answers) expect(answer).toEqual(answers[0])
  })

  test('loads its file from the address given, and fails aloud where there is none', async () => {
    const file = createRequire(import.meta.url).resolve('highs/runtime')
    const placed = createHighsSolver({ wasmUrl: pathToFileURL(file).href })
    expect(await placed.solve(small('continuous'))).toMatchObject({ objective: 11.5 })
    const misplaced = createHighsSolver({ wasmUrl: `${file}.absent` })
    await expect(misplaced.solve(small('continuous'))).rejects.toThrow()
  })
})
