import jstat from 'jstat'
import { describe, expect, test } from 'vitest'
import { normalCdf, normalQuantile } from './normal.ts'
import { solveBetween, whenFallen } from './root-finding.ts'
import { besselJ, erf, erfc, scaledErfc } from './special-functions.ts'
import { studentQuantile } from './student.ts'

// its type, kept where the library is used, lists only what is used there
const statistics = jstat as unknown as {
  erf(x: number): number
  normal: Record<'cdf' | 'inv', (x: number, mean: number, deviation: number) => number>
  studentt: { inv(chance: number, freedom: number): number }
}

const steps = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count + 1 }, (_, index) => from + ((to - from) * index) / count)

describe('error function', () => {
  test('agrees with the statistics library to 1e-12 from -6 to 6', () => {
    for (const x of steps(-6, 6, 240)) expect(Math.abs(erf(x) - statistics.erf(x))).toBeLessThan(1e-12)
  })

  test('its complement keeps its digits far out', () => {
    // Abramowitz and Stegun 1964 table 7.3: x exp(x²) erfc(x) at 1/x² = 0.01 is 0.561 4092 to four places
    expect(10 * scaledErfc(10)).toBeCloseTo(0.5614, 4)
    expect(erfc(10) / (Math.exp(-100) * scaledErfc(10))).toBeCloseTo(1, 12)
    expect(erfc(2 - 1e-13) / erfc(2 + 1e-13)).toBeCloseTo(1, 11)
    expect(erf(Number.NaN)).toBeNaN()
    expect(erfc(Number.NaN)).toBeNaN()
  })
})

describe('normal distribution', () => {
  test('agrees with the statistics library to 1e-12 from -6 to 6', () => {
    for (const z of steps(-6, 6, 240))
      expect(Math.abs(normalCdf(z) - statistics.normal.cdf(z, 0, 1))).toBeLessThan(1e-12)
    for (const p of steps(0.001, 0.999, 200)) {
      expect(Math.abs(normalQuantile(p) - statistics.normal.inv(p, 0, 1))).toBeLessThan(1e-12)
    }
  })

  test('chances far out are small, not nothing', () => {
    // scipy 1.17 norm.cdf(-9)
    expect(normalCdf(-9) / 1.1285884059538324e-19).toBeCloseTo(1, 10)
  })

  test('quantile and chance undo each other into the tails', () => {
    for (const p of [1e-30, 1e-12, 1e-6, 0.05, 0.3, 0.5, 0.9]) {
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 10)
    }
  })

  test('a chance that is none has no quantile', () => {
    for (const none of [-0.1, 1.1, Number.NaN]) expect(normalQuantile(none)).toBeNaN()
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY)
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe("student's t", () => {
  test('agrees with the statistics library as far as that is good, odd and even degrees of freedom', () => {
    for (const freedom of [1, 2, 3, 4, 7, 16, 30, 101]) {
      for (const p of [0.6, 0.9, 0.975, 0.995]) {
        expect(studentQuantile(p, freedom) / statistics.studentt.inv(p, freedom)).toBeCloseTo(1, 6)
      }
    }
  })

  test('is symmetric, tends to the normal, and refuses part degrees of freedom', () => {
    expect(studentQuantile(0.1, 5)).toBeCloseTo(-studentQuantile(0.9, 5), 12)
    expect(studentQuantile(0.975, Number.POSITIVE_INFINITY)).toBeCloseTo(normalQuantile(0.975), 12)
    expect(studentQuantile(0.975, 9999) - normalQuantile(0.975)).toBeLessThan(3e-4)
    expect(studentQuantile(0.975, 2.5)).toBeNaN()
    expect(studentQuantile(1.5, 3)).toBeNaN()
  })
})

describe('Bessel functions', () => {
  test('vanish at their published zeros', () => {
    // Abramowitz and Stegun 1964 table 9.5
    for (const zero of [2.4048255577, 5.5200781103, 8.6537279129, 62.0484691902]) {
      expect(Math.abs(besselJ(0, zero))).toBeLessThan(1e-10)
    }
    for (const zero of [3.8317059702, 7.0155866698, 10.1734681351]) {
      expect(Math.abs(besselJ(1, zero))).toBeLessThan(1e-10)
    }
  })

  test('the first is minus the slope of the zeroth', () => {
    for (const x of steps(0.1, 200, 97)) {
      const step = 1e-5
      expect(-(besselJ(0, x + step) - besselJ(0, x - step)) / (2 * step)).toBeCloseTo(besselJ(1, x), 8)
    }
  })
})

describe('root finding', () => {
  test('finds a root to the last digits, also of a badly scaled function', () => {
    expect(solveBetween((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 13)
    expect(solveBetween((x) => Math.exp(40 * x) - 1e6, 0, 3)).toBeCloseTo(Math.log(1e6) / 40, 12)
    expect(solveBetween((x) => x ** 9, -1, 2)).toBeCloseTo(0, 2)
  })

  test('says NaN where there is no change of sign and where the function gives NaN', () => {
    expect(solveBetween((x) => x * x + 1, -1, 1)).toBeNaN()
    expect(solveBetween(() => Number.NaN, -1, 1)).toBeNaN()
  })

  test('finds when a falling function passes a level far beyond the first guess', () => {
    expect(whenFallen((t) => Math.exp(-t / 1000), 0.01, 1)).toBeCloseTo(1000 * Math.log(100), 6)
  })
})
