import jstat from 'jstat'
import { expect, test } from 'vitest'
import { betaQuantile, betaShare, logGamma } from './beta-quantile.ts'

test('the log of gamma is that of the factorials, and of root pi at a half', () => {
  // 1, 1, 2, 6, 24 ... and gamma(1/2) = sqrt(pi)
  let factorial = 1
  for (let n = 1; n < 20; n += 1) {
    expect(logGamma(n)).toBeCloseTo(Math.log(factorial), 12)
    factorial *= n
  }
  expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 13)
})

// the library stops at the eighth digit
test('quantiles agree with the statistics library over records of 1 to 400 pours', () => {
  for (const pours of [1, 2, 5, 12, 40, 112, 400])
    for (const spoiled of [0, 1, 3, 9, 40].filter((count) => count <= pours)) {
      const a = spoiled + 0.5
      const b = pours - spoiled + 0.5
      for (const share of [0.05, 0.5, 0.95]) {
        const want = jstat.beta.inv(share, a, b)
        expect(Math.abs(betaQuantile(share, a, b) / want - 1), `${spoiled} of ${pours}`).toBeLessThan(1e-7)
      }
    }
})

test('a quantile put back gives its share, and the even law gives itself', () => {
  for (const share of [0.01, 0.05, 0.3, 0.5, 0.95, 0.99])
    for (const [a, b] of [
      [0.5, 40.5],
      [3.5, 9.5],
      [20, 1],
    ] as const)
      expect(betaShare(betaQuantile(share, a, b), a, b)).toBeCloseTo(share, 12)
  expect(betaShare(0.3, 1, 1)).toBeCloseTo(0.3, 14)
  // Beta(2, 1): x²; Beta(1, 3): 1 - (1 - x)³
  expect(betaShare(0.3, 2, 1)).toBeCloseTo(0.09, 14)
  expect(betaShare(0.3, 1, 3)).toBeCloseTo(1 - 0.7 ** 3, 14)
})

test('outside its ground it answers with no number at all', () => {
  expect(betaShare(1.2, 1, 1)).toBeNaN()
  expect(betaQuantile(-0.1, 1, 1)).toBeNaN()
  expect(betaQuantile(0.5, 0, 1)).toBeNaN()
  expect(betaQuantile(Number.NaN, 1, 1)).toBeNaN()
})

test('quantiles agree with a second library to its last digits', () => {
  // scipy.stats.beta.ppf(0.05 and 0.95, a, b), scipy 1.17.1
  const printed = [
    [0.5, 5.5, 0.00037399702783767714, 0.30574558468894947],
    [3.5, 9.5, 0.09635547650808837, 0.4837621473970543],
    [3.5, 43.5, 0.023932209425354598, 0.14552593471078112],
    [0.5, 40.5, 4.884432335198746e-5, 0.046597283133328136],
  ] as const
  for (const [a, b, low, high] of printed) {
    expect(Math.abs(betaQuantile(0.05, a, b) / low - 1), `${a}, ${b}`).toBeLessThan(1e-11)
    expect(Math.abs(betaQuantile(0.95, a, b) / high - 1), `${a}, ${b}`).toBeLessThan(1e-11)
  }
})
