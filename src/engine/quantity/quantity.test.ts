import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addUp, decide, formula, NINE_IN_TEN, type Quantity, reckon, reworked, root } from './index.ts'

const known = (id: string, value: number, u = 0): Quantity =>
  root({ id, title: id, unit: '1', value, u, kind: 'asked', source: 'this test' })

const product = formula({
  name: 'product',
  title: 'Product',
  says: 'one times other',
  unit: '1',
  inputs: { one: { unit: '1', valid: [0, 100] }, other: { unit: '1', valid: [0, 100] } },
  source: 'this test',
  value: ({ one, other }) => one * other,
})

describe('a quantity', () => {
  it('counts a root used twice once: x times x spreads twice as much as x, not √2 times', () => {
    const x = known('x', 10, 0.1)
    const square = product({ one: x, other: x }, { id: 'square' })
    // d(x²)/dx = 2x = 20, times 0.1
    expect(square.u).toBeCloseTo(2, 6)
  })

  it('adds independent roots by the root of the sum of squares', () => {
    const sum = addUp({ id: 'sum', title: 'sum', says: 'added up' }, [known('a', 1, 3), known('b', 2, 4)])
    expect(sum.value).toBe(3)
    expect(sum.u).toBeCloseTo(5, 9)
  })

  it('takes a difference of a thing with itself as exact', () => {
    const x = known('x', 7, 2)
    const nothing = reckon({
      id: 'nothing',
      title: 'nothing',
      unit: '1',
      says: 'x less x',
      source: 'this test',
      inputs: { a: x, b: x },
      body: ({ a, b }) => a - b,
    })
    expect(nothing.u).toBeCloseTo(0, 12)
  })

  it('keeps a positive answer with a wide spread above zero', () => {
    const wide = product({ one: known('a', 1, 0.6), other: known('b', 1) }, { id: 'wide' })
    expect(wide.low).toBeGreaterThan(0)
    expect(wide.high - wide.value).toBeGreaterThan(wide.value - wide.low)
  })

  it('marks an input outside its valid range and still answers', () => {
    const outside = product({ one: known('a', 200), other: known('b', 2) }, { id: 'outside' })
    expect(outside.value).toBe(400)
    expect(outside.marks).toHaveLength(1)
  })

  it('refuses to hand on what is not a number', () => {
    expect(() =>
      reckon({
        id: 'bad',
        title: 'bad',
        unit: '1',
        says: '',
        source: '',
        inputs: { a: known('a', -1) },
        body: ({ a }) => Math.sqrt(a),
      }),
    ).toThrow(/bad is not a number/)
  })

  it('runs a decision again when its inputs change, and gives it no slope', () => {
    const size = known('size', 3.2, 0.5)
    const step = decide({
      id: 'step',
      title: 'step',
      unit: '1',
      says: 'rounded up',
      source: 'this test',
      inputs: { size },
      body: (n) => Math.ceil(n.size),
    })
    expect(step.u).toBe(0)
    expect(reworked(step, new Map([[size, 5.1]]))).toBe(6)
  })

  it('never gives a narrower answer for a wider input', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (value, u, more) => {
          const width = (spread: number): number => {
            const answer = product({ one: known('a', value, spread), other: known('b', 3, 0.1) }, { id: 'p' })
            return answer.high - answer.low
          }
          expect(width(u + more)).toBeGreaterThanOrEqual(width(u) - 1e-9)
        },
      ),
    )
  })

  it('has its nine-in-ten range where a normal spread has it', () => {
    const x = known('x', 100, 1)
    const one = product({ one: x, other: known('b', 1) }, { id: 'one' })
    expect(one.high - 100).toBeCloseTo(NINE_IN_TEN, 6)
  })
})
