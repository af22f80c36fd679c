import { expect, it } from 'vitest'
import { buttonModulus } from './formulas.ts'

it('the modulus of a button counts its cone and its open face, not the neck', () => {
  // 28 to 10 mm over 11 mm: V = π 11 / 12 (784 + 280 + 100) = 3352 mm3; cone π/2 × 38 × √(121 + 81) = 848.4;
  // face π/4 × 784 = 615.8; 3352 / 1464.1 = 2.289 mm
  expect(buttonModulus(28, 10, 11)).toBeCloseTo(2.289, 2)
})
