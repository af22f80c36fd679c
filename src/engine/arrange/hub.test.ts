import { expect, test } from 'vitest'
import { hubOf, modulusInSlice } from './hub.ts'
import type { Sprue } from './request.ts'

/** The midpoint rule, fine enough to be exact here. */
const integral = (of: (x: number) => number, from: number, to: number, steps = 20_000): number => {
  const step = (to - from) / steps
  let sum = 0
  for (let k = 0; k < steps; k += 1) sum += of(from + (k + 0.5) * step)
  return sum * step
}

const upright = (radius: number) => ({ from: [0, 0, -100] as const, to: [0, 0, 100] as const, radius })

test('a round rod’s modulus is a quarter of its width', () => {
  // volume over side: πr²/(2πr), textbook
  const found = modulusInSlice([upright(4)], { low: -5, high: 5, radius: 9 })
  expect(Math.abs(found / 2 - 1)).toBeLessThan(0.02)
})

test('two rods that cross have their own volume and side, less what they share: the bicylinder’s', () => {
  // two equal cylinders that cross squarely share 16r³/3, and each has 8r² of its side in the other (Steinmetz)
  const [r, high, out] = [4, 6, 9]
  const across = { from: [-100, 0, 0] as const, to: [100, 0, 0] as const, radius: r }
  const half = (limit: number, x: number): number => Math.sqrt(limit * limit - x * x)
  const sides = integral((y) => 4 * half(r, y) * half(out, y), -r, r)
  const volume = Math.PI * r * r * 2 * high + sides - (16 / 3) * r ** 3
  const lateral = integral((turn) => 2 * r * half(out, r * Math.sin(turn)), 0, 2 * Math.PI)
  const cooled = 2 * Math.PI * r * 2 * high - 8 * r * r + lateral - 8 * r * r
  const found = modulusInSlice([upright(r), across], { low: -high, high, radius: out })
  expect(found / (volume / cooled)).toBeGreaterThan(0.98)
  expect(found / (volume / cooled)).toBeLessThan(1.02)
})

test('the round end of the main sprue cools too', () => {
  // a slice that begins at the middle of the end ball: half a ball, (2πr³/3)/(2πr²)
  const ended = { from: [0, 0, -100] as const, to: [0, 0, 0] as const, radius: 6 }
  expect(modulusInSlice([ended], { low: 0, high: 20, radius: 9 }) / 2).toBeCloseTo(1, 1)
})

const spruesRound = (count: number, width: number, heights: (k: number) => number, stem = 8): Sprue[] =>
  Array.from({ length: count }, (_, k) => {
    const [c, s] = [Math.cos((2 * Math.PI * k) / count), Math.sin((2 * Math.PI * k) / count)]
    const z = heights(k)
    return {
      piece: 'ring',
      copy: k + 1,
      from_mm: [25 * c, 25 * s, z + 25],
      to_mm: [(stem / 2) * c, (stem / 2) * s, z + stem / 2],
      axis_mm: [0, 0, z],
      sunk_mm: 0,
      outward: [-c, -s, 0],
      diameter_mm: width,
      stemEnd_mm: width,
      fillet_mm: 0,
      length_mm: 25,
      byHand: false,
      reason: '',
    }
  })

test('eight sprues at one height make a heavy lump, and the same eight one above the other none', () => {
  const level = hubOf(
    spruesRound(8, 5, () => 20),
    8,
    5,
    60,
  )
  expect(level?.sprues).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
  expect(level?.outlasts).toBeGreaterThan(3)
  expect(
    hubOf(
      spruesRound(8, 5, (k) => 12 + 9 * k),
      8,
      5,
      90,
    ),
  ).toBeUndefined()
  const few = hubOf(
    spruesRound(4, 5, () => 20),
    8,
    5,
    60,
  )
  expect(few?.outlasts).toBeLessThan(1.5)
})

test('a heavy lump is found beside a place where more sprues meet, thin ones', () => {
  const heavy = spruesRound(7, 6, () => 62)
  const alone = hubOf(heavy, 8, 5, 80)
  const thin = Array.from({ length: 16 }, (_, k) => spruesRound(16, 2, () => 20 + 0.8 * k)[k]).flatMap(
    (sprue) => sprue ?? [],
  )
  const both = hubOf([...heavy, ...thin], 8, 5, 80)
  expect(alone?.outlasts).toBeGreaterThan(3)
  expect(both?.sprues).toEqual([1, 2, 3, 4, 5, 6, 7])
  expect(both?.outlasts).toBeCloseTo(alone?.outlasts ?? Number.NaN, 9)
})

test('of two lumps the heavier is told', () => {
  const two = [...spruesRound(5, 5, () => 20, 6), ...spruesRound(4, 6, () => 50, 6)]
  const each = [two.slice(0, 5), two.slice(5)].map((list) => hubOf(list, 6, 5, 70)?.outlasts ?? Number.NaN)
  expect(each[0]).not.toBeCloseTo(each[1] ?? Number.NaN, 1)
  expect(hubOf(two, 6, 5, 70)?.outlasts).toBeCloseTo(Math.max(...each), 9)
})

test('a thicker main sprue lessens it', () => {
  const on = (stem: number): number =>
    hubOf(
      spruesRound(8, 5, () => 20, stem),
      stem,
      5,
      60,
    )?.outlasts ?? Number.NaN
  expect(on(6)).toBeGreaterThan(1.5 * on(8))
  expect(on(8)).toBeGreaterThan(1.5 * on(10))
})
