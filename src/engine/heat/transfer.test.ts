import { describe, expect, test } from 'vitest'
import { openRoots, type Pour, withPath } from '../documents/index.ts'
import { usualShop } from '../materials/index.ts'
import { celsius, METRIC, reworked, root, slopeAgainst, type Unit, writeWords } from '../quantity/index.ts'
import { planQuench, type Quench, type QuenchInput, solveCooling } from './index.ts'

const given = (id: string, unit: Unit, value: number, low = value, high = value) =>
  root({ id, title: id, unit, value, low, high, kind: 'asked', source: 'asked in this test' })

const noPour = {} as Pour

const asked = (input: Partial<QuenchInput> = {}, shop = usualShop()): QuenchInput => ({
  roots: openRoots(shop, noPour),
  shop,
  pour: noPour,
  alloyIndex: 0,
  investmentIndex: 0,
  charge: given('charge', 'kg', 0.14, 0.138, 0.142),
  castingTemperature: given('casting', 'K', celsius(510), celsius(502), celsius(518)),
  pourTemperature: given('pour', 'K', celsius(980), celsius(965), celsius(995)),
  flaskInside: { diameter: given('d', 'm', 0.0762), height: given('h', 'm', 0.0889) },
  flaskSteel: given('steel', 'kg', 0.267),
  dryInvestment: given('dry', 'kg', 0.492),
  spinRun: given('spin', 's', 60),
  work: 'medium',
  topGap: given('gap', 'm', 0.019),
  ...input,
})

/** The plan's two rounds: asked, solved, asked again with the answer. */
const solved = (input: QuenchInput): Quench => {
  const { asked: question } = planQuench(input)
  if (question === undefined) throw new Error('nothing was asked')
  return planQuench({ ...input, solved: { [question.key]: solveCooling(question.question) } })
}

describe('the quench of a flask that is solved', () => {
  const input = asked()
  const quench = solved(input)

  test('stands by the rule and says so until its answer is there, then by the solver with the rule beside', () => {
    const before = planQuench(input)
    expect([before.by, before.byRuleMeanwhile, before.transfer]).toEqual(['rule', true, undefined])
    expect([quench.by, quench.byRuleMeanwhile]).toEqual(['solver', false])
    expect(quench.crossCheck?.opens.value).toBeCloseTo(before.opens?.value ?? Number.NaN, 9)
    expect(writeWords(quench.crossCheck?.words ?? [], METRIC)).toContain('two lumps of heat')
  })

  test('opens near the trade’s five minutes, and later than a few and sooner than twenty', () => {
    expect(quench.opens?.low).toBeLessThan(300)
    expect(quench.opens?.high).toBeGreaterThan(300)
    expect(quench.opens?.high).toBeLessThan(1200)
    expect(quench.closes?.value).toBeGreaterThan(2 * (quench.opens?.value ?? Number.NaN))
  })

  test('passes on its curve, at the window’s moments, the heats that the window is set by', () => {
    for (const [at, level] of [
      [quench.opens, 500],
      [quench.closes, 200],
    ] as const) {
      const curve = quench.curve ?? []
      const after = curve.findIndex(({ s }) => s > (at?.value ?? Number.NaN))
      const [hot, cold] = [curve[after - 1]?.castings ?? Number.NaN, curve[after]?.castings ?? Number.NaN]
      expect(hot).toBeGreaterThan(celsius(level) - 0.5)
      expect(cold).toBeLessThan(celsius(level) + 0.5)
    }
  })

  test('rests on every unsure number, most on the window’s own heat and on where the metal stands', () => {
    const { closes, opens } = quench
    if (closes === undefined || opens === undefined) throw new Error('no window')
    const share = (name: string): number => Math.abs(slopeAgainst(opens, name)) * (opens.inputs[name]?.u ?? 0)
    const shares = Object.keys(opens.inputs).map((name) => [name, share(name)] as const)
    const most = shares.toSorted((a, b) => b[1] - a[1]).map(([name]) => name)
    expect(most.slice(0, 3)).toContain('metalAt')
    expect(most.slice(0, 3)).toContain('opens')
    expect(share('leaves')).toBe(0)
    expect(closes.high - closes.low).toBeGreaterThan(300)
  })

  test('is solved anew through its explanation when the flask is another', () => {
    const wider = given('d', 'm', 0.1)
    const { flaskInside } = input
    const told = reworked(quench.closes ?? wider, new Map([[flaskInside?.diameter ?? wider, 0.1]]))
    const anew = solved(asked({ flaskInside: { diameter: wider, height: given('h', 'm', 0.0889) } }))
    expect(told / (anew.closes?.value ?? Number.NaN)).toBeCloseTo(1, 3)
  })
})

describe('the way from the kiln', () => {
  test('has seconds with a range, held against what the shop takes', () => {
    const { transfer, answer } = solved(asked())
    expect(transfer?.seconds.low).toBeGreaterThan(15)
    expect(transfer?.seconds.high).toBeLessThan(180)
    expect(transfer?.core?.value).toBeGreaterThan(4 * (transfer?.seconds.value ?? Number.NaN))
    expect(answer.verdicts.map(({ id, verdict }) => [id, verdict])).toContainEqual([
      'transfer.seconds',
      'pass',
    ])
    const slow = withPath(usualShop(), '/clock/kilnToPour_s', 240)
    expect(solved(asked({}, slow)).answer.verdicts.map(({ id, verdict }) => [id, verdict])).toContainEqual([
      'transfer.seconds',
      'check',
    ])
  })

  test('is longer for a flask aimed hotter and for waxes farther from the wall', () => {
    const seconds = (input: QuenchInput): number => solved(input).transfer?.seconds.value ?? Number.NaN
    const usual = seconds(asked())
    expect(seconds(asked({ castingTemperature: given('casting', 'K', celsius(530)) }))).toBeGreaterThan(usual)
    const wide = withPath(usualShop(), '/rules/wallClearance_mm', 12)
    expect(seconds(asked({}, wide))).toBeGreaterThan(1.5 * usual)
  })

  test('ends at the low end of what casters use, or a little under an aim that is lower than that', () => {
    const leaves = (at: number) =>
      solved(asked({ castingTemperature: given('casting', 'K', celsius(at)) })).transfer?.leaves
    expect(leaves(510)?.value).toBeCloseTo(celsius(482), 6)
    expect(leaves(510)?.source).toContain('casters use')
    expect(leaves(480)?.value).toBeCloseTo(celsius(455), 6)
  })
})
