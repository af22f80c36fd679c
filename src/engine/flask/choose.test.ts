import { describe, expect, it } from 'vitest'
import { openRoots } from '../documents/index.ts'
import { METRIC, millimetres, root, writeWords } from '../quantity/index.ts'
import { samplePour, sampleShop } from '../sample-pour.ts'
import { chooseFlask, type Standing } from './index.ts'

const flask = (id: string, insideDiameter_mm: number, insideHeight_mm: number) => ({
  id,
  insideDiameter_mm,
  insideHeight_mm,
  wall_mm: 1.6,
  owned: true,
})

const length = (id: string, value: number) =>
  root({ id, title: id, unit: 'm', value, kind: 'asked', source: 'test' })

const standingOf = (reach_mm: number, rise_mm: number): Standing => ({
  reach: millimetres(reach_mm),
  rise: millimetres(rise_mm),
  tiers: 1,
  upright: 'longest',
})

/** A tree that reaches and rises this far [mm] above a cone of 13 mm, in this rack. */
const choose = (
  reach_mm: number,
  rise_mm: number,
  flasks: ReturnType<typeof flask>[],
  asked?: string,
  alone_mm?: readonly [reach: number, rise: number],
  machineTakes_mm: readonly [across: number, high: number] = [200, 200],
) => {
  const [across, high] = machineTakes_mm
  const machines = sampleShop().machines.map((machine) => ({
    ...machine,
    mostFlaskDiameter_mm: across,
    mostFlaskHeight_mm: high,
  }))
  const shop = sampleShop({ flasks, machines })
  const pour = samplePour({ flask: asked })
  const standing = standingOf(reach_mm, rise_mm)
  const alone = alone_mm === undefined ? standing : standingOf(...alone_mm)
  return chooseFlask({
    shop,
    pour,
    roots: openRoots(shop, pour),
    layouts: [standing],
    alone: [{ name: 'clasp', layouts: [alone] }],
    inFlasks: (count) => Array.from({ length: count }, () => [alone]),
    sizesOf: (layout) => ({ reach: length('reach', layout.reach), rise: length('rise', layout.rise) }),
    baseIndex: 0,
    machineIndex: 0,
    pending: false,
    onlyBoxes: false,
  })
}

const verdictOf = (answer: ReturnType<typeof choose>['answer'], id: string) =>
  answer.verdicts.find((verdict) => verdict.id === id)?.verdict

describe('the flask', () => {
  it('is the smallest whose wall and top are both clear, and says why the next smaller is not', () => {
    // reach 25: 2 in has 0.4 mm to the wall, 2.5 in has 6.75, of which 6.35 is needed
    const { plan, answer } = choose(25, 40, [
      flask('two', 50.8, 90),
      flask('half', 63.5, 90),
      flask('three', 76.2, 90),
    ])
    expect(plan?.flask.id).toBe('half')
    expect(plan?.sideGap?.value).toBeCloseTo(6.75e-3, 9)
    expect(plan?.nextSmaller?.flask.id).toBe('two')
    expect(verdictOf(answer, 'flask.wall')).toBe('pass')
  })

  it('keeps half an inch above the pieces however narrow it is', () => {
    // 1.5 in across: a quarter inch per inch is 9.5 mm, and 11 mm is above that, yet under 12.7
    const { answer } = choose(10, 50, [flask('narrow', 38.1, 74)], 'narrow')
    expect(verdictOf(answer, 'flask.top')).toBe('stop')
  })

  it('takes what lies between the least and the rule as a check', () => {
    // 3 in across: the rule wants 19.05, there are 15
    const { answer } = choose(20, 50, [flask('three', 76.2, 78)])
    expect(verdictOf(answer, 'flask.top')).toBe('check')
  })

  it('is a stop when the rack holds none that does, naming the nearest', () => {
    const { plan, answer } = choose(60, 50, [flask('two', 50.8, 60), flask('three', 76.2, 90)])
    expect(plan).toBeUndefined()
    expect(verdictOf(answer, 'flask.rack')).toBe('stop')
  })

  it('never turns a hair too little into a pass by rounding', () => {
    // 6.34 mm to the wall shows as 6.34 and fails against 6.35
    const { answer } = choose(25.41, 40, [flask('half', 63.5, 90)], 'half')
    expect(verdictOf(answer, 'flask.wall')).toBe('stop')
  })

  it('advises another flask only where the machine takes it', () => {
    const rack = [flask('two', 50.8, 60), flask('half', 63.5, 90), flask('three', 76.2, 90)]
    const remedyWith = (across: number): string => {
      const { answer } = choose(24, 40, rack, 'two', undefined, [across, 100])
      const wall = answer.verdicts.find(({ id }) => id === 'flask.wall')
      return writeWords(wall?.remedy ?? [], METRIC)
    }
    expect(remedyWith(200)).toContain('take the flask of 63.5')
    expect(remedyWith(60)).not.toContain('take the flask of')
    expect(remedyWith(60)).toContain('no other flask of the rack')
  })

  const words = (answer: ReturnType<typeof choose>['answer'], id: string) => {
    const verdict = answer.verdicts.find((one) => one.id === id)
    return writeWords(
      [...(verdict?.title ?? []), ' ', ...(verdict?.reason ?? []), ' ', ...(verdict?.remedy ?? [])],
      METRIC,
    )
  }

  it('says by how much one piece outgrows the largest flask, and which flask it would want', () => {
    // reach 60, rise 90 over a cone of 13: 2 (60 + 6.35) = 132.7, so 133 mm across; a quarter of that above: 136.25,
    // so 137 high. 101.6 across leaves 50.8 - 60 = -9.2 mm
    const { answer } = choose(60, 90, [flask('four', 101.6, 101.6)])
    const told = words(answer, 'flask.rack')
    expect(told).toContain('clasp: too large for any flask of the rack')
    expect(told).toContain('reach 9.20\u00a0mm past its wall')
    expect(told).toContain('133.0\u00a0mm across and 137.0\u00a0mm high')
    expect(told).not.toContain('two flasks')
    expect(told).not.toContain('measure')
  })

  it('offers two flasks only where each piece fits one by itself', () => {
    const { answer } = choose(60, 90, [flask('four', 101.6, 101.6)], undefined, [20, 30])
    expect(words(answer, 'flask.rack')).toContain('pour the pieces in two flasks')
  })

  it('names the flask of the rack that would do instead of the one asked for', () => {
    const rack = [flask('two', 50.8, 90), flask('tall', 50.8, 120), flask('three', 76.2, 120)]
    const { answer } = choose(25, 40, rack, 'two')
    expect(words(answer, 'flask.wall')).toContain('take the flask of 76.2')
  })

  it('advises no flask that the machine does not take, and says so', () => {
    const rack = [flask('four', 101.6, 101.6)]
    const told = (machine: readonly [number, number]) =>
      words(choose(60, 90, rack, undefined, [20, 30], machine).answer, 'flask.rack')
    // 133 mm inside and 137 high, with a wall of 1.6: 136.2 across the outside
    expect(told([136.2, 137])).toContain('add a flask 133.0')
    expect(told([136.1, 137])).not.toContain('add a flask')
    expect(told([136.1, 137])).toContain('No flask that the casting machine takes, up to 136.1')
    expect(told([136.1, 137])).toContain('pour the pieces in two flasks')
    // 115.7 leaves the very least, 12.7: said to be no more than that
    expect(told([136.2, 116])).toContain('133.0\u00a0mm across and 116.0\u00a0mm high')
    expect(told([136.2, 116])).toContain('no more than the very least')
    expect(told([136.2, 115])).not.toContain('add a flask')
  })

  it('does not send the caster to the next flask up when no flask of the rack would do', () => {
    const { answer } = choose(60, 90, [flask('three', 76.2, 90), flask('four', 101.6, 101.6)], 'three')
    expect(verdictOf(answer, 'flask.wall')).toBe('stop')
    expect(words(answer, 'flask.wall')).toContain('add a flask 133.0')
    expect(words(answer, 'flask.wall')).not.toContain('next flask up')
  })
})
