import { describe, expect, it } from 'vitest'
import { waxWireOf } from '../materials/index.ts'
import { planPour } from '../plan.ts'
import { METRIC, writeWords } from '../quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../sample-pour.ts'

const given = { now: SAMPLE_NOW }

const withThickest = (thickest_mm: number, tree: object = {}, quantity = 1, place: object = {}) => {
  const pour = samplePour({ tree })
  const [piece] = pour.pieces
  if (piece === undefined || piece.source.from !== 'weighed-wax') throw new Error('the sample weighs its wax')
  const calipers = piece.source.calipers && {
    ...piece.source.calipers,
    height_mm: Math.max(3, thickest_mm),
    thickest_mm,
    ...place,
  }
  return planPour(
    sampleShop(),
    { ...pour, pieces: [{ ...piece, quantity, source: { ...piece.source, calipers } }] },
    given,
  )
}

describe('the sprues that are planned', () => {
  it.each([2, 2.5, 3, 3.5, 4, 5, 6, 7])(
    'are wires that are sold, and hold as such, under %f mm',
    (thickest) => {
      const { tree } = withThickest(thickest)
      const gates = tree.gates.map((gate) => gate.diameter.value)
      const stem = tree.stem?.diameter.value ?? 0
      expect(gates.length).toBeGreaterThan(0)
      for (const size of [...gates, stem]) expect(waxWireOf(size), `${size}`).toBeDefined()
      expect(stem).toBeGreaterThanOrEqual(Math.max(...gates))
      for (const gate of tree.gates) expect(gate.margin.value).toBeGreaterThanOrEqual(1.2 - 1e-9)
    },
  )

  it('leave the main sprue as thick as its sprues where the button of the base would not outlast a thicker one', () => {
    const seen = [2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6].map((thickest) => withThickest(thickest).tree)
    const even = seen.filter((tree) => tree.stem?.diameter.value === tree.gates[0]?.diameter.value)
    expect(even.length).toBeGreaterThan(0)
    expect(even.length).toBeLessThan(seen.length)
  })
})

describe('a sprue set by hand', () => {
  const judged = (diameter_mm: number | undefined) => {
    const [piece] = samplePour().pieces
    const row = { piece: piece?.id ?? '', copy: 1, at_mm: [0, 0, 0], ...(diameter_mm && { diameter_mm }) }
    const { tree } = withThickest(3, { sprues: [{ ...row, diameter_mm: 40 }, row] })
    const own = tree.answer.verdicts.find(({ id }) => id.startsWith('freeze.byHand.'))
    return { own, planned: (tree.gates[0]?.diameter.value ?? 0) * 1000 }
  }

  it('is judged where it is thinner than the one that is planned, and stops where it is solid first', () => {
    const { own: none, planned } = judged(undefined)
    expect(none).toBeUndefined()
    expect(judged(planned).own).toBeUndefined()
    const half = judged(planned / 2).own
    expect(half).toMatchObject({ verdict: 'stop', part: 'freeze', where: '/pour/flask' })
    expect(writeWords(half?.reason ?? [], METRIC)).toMatch(/set by hand/)
    expect(judged(0.97 * planned).own?.verdict).not.toBe('stop')
  })
})

describe('a feed that is expected to freeze first', () => {
  const near = Array.from({ length: 30 }, (_, index) => {
    const { tree } = withThickest(3, { stem: { diameter_mm: 6 + index * 0.2 }, button: { depth_mm: 12 } })
    const verdict = tree.answer.verdicts.find((one) => one.id === 'freeze.button')
    return { margin: tree.button.margin, verdict }
  })

  it('is a stop in plain words, though its range reaches over 1', () => {
    const over = near.filter(({ margin }) => margin && margin.value < 1 && margin.high > 1)
    expect(over.length).toBeGreaterThan(0)
    for (const { verdict } of over) {
      expect(verdict?.verdict).toBe('stop')
      expect(writeWords(verdict?.title ?? [], METRIC)).toBe('the button most likely freezes first')
    }
  })

  it('is not to be mended by thinning a sprue that a plate asks for, but by saying how wide its thick place is', () => {
    const remedyOf = (thickest: number): string => {
      const { tree } = withThickest(thickest, { stem: { diameter_mm: 11 }, button: { depth_mm: 6 } })
      const verdict = tree.answer.verdicts.find((one) => one.id === 'freeze.button')
      return writeWords(verdict?.remedy ?? [], METRIC)
    }
    expect(remedyOf(3)).toMatch(/give its model, or call that place a bar and say how wide it is/)
    expect(remedyOf(3)).not.toMatch(/thin the main sprue/)
  })

  it('stays too close to call while it is expected to outlast what it feeds', () => {
    const close = near.filter(({ margin }) => margin && margin.value > 1.001 && margin.low < 0.999)
    expect(close.length).toBeGreaterThan(0)
    for (const { verdict } of close) expect(verdict?.verdict).toBe('check')
  })
})

describe('the button as what feeds the whole tree', () => {
  const judged = (depth_mm: number) => {
    const plan = withThickest(3, { button: { depth_mm } })
    const density = plan.conditions.metalDensity.value
    const verdict = plan.verdicts.find((one) => one.id === 'freeze.reservoir')
    const metal = ((plan.needed.cavity?.value ?? Number.NaN) + plan.tree.button.mass.value) / density
    // sterling draws in 4.8 to 6.2 % on freezing: the table of alloys
    return { verdict, worst: plan.tree.button.volume.value / (0.062 * metal) }
  }

  it('is a check where it holds less than the metal draws in, and passes where it holds more', () => {
    const [shallow, deep] = [judged(1), judged(13)]
    expect(shallow.worst).toBeLessThan(1)
    expect(shallow.verdict?.verdict).toBe('check')
    expect(deep.worst).toBeGreaterThan(1.3)
    expect(deep.verdict?.verdict).toBe('pass')
    const told = /make the button ([\d.]+).mm deep or more/.exec(
      writeWords(shallow.verdict?.remedy ?? [], METRIC),
    )
    const advised = Number(told?.[1])
    expect(judged(advised).verdict?.verdict).toBe('pass')
    expect(judged(advised - 1).verdict?.verdict).toBe('check')
    expect(writeWords(deep.verdict?.reason ?? [], METRIC)).toMatch(
      /draws in .* as it freezes: .* times, .* to .*/,
    )
  })
  const many = (quantity: number, tree: object = {}) => {
    const pour = samplePour({ tree })
    return planPour(
      sampleShop(),
      { ...pour, pieces: pour.pieces.map((piece) => ({ ...piece, quantity })) },
      given,
    )
  }
  const reservoir = ({ verdicts }: ReturnType<typeof many>) =>
    verdicts.find((one) => one.id === 'freeze.reservoir')
  const counts = Array.from({ length: 30 }, (_, index) => index + 1)

  it('is planned deep enough to hold that with half as much again, or as deep as its cone goes', () => {
    const seen = counts.map((quantity) => {
      const plan = many(quantity)
      const { button } = plan.tree
      const metal = (plan.needed.cavity?.value ?? Number.NaN) / plan.conditions.metalDensity.value
      return {
        quantity,
        depth: button.depth.value,
        full: button.depth.value === button.cone.coneDepth.value,
        // a middle share of 5.5 % of sterling, on a frustum's own volume
        holds: button.volume.value / (0.055 * (metal + button.volume.value)),
        margin: button.margin?.value ?? 0,
        verdict: reservoir(plan)?.verdict,
      }
    })
    const held = seen.filter(({ full }) => !full)
    expect(held.length).toBeGreaterThan(8)
    for (const { holds, margin, verdict, quantity } of held) {
      expect(verdict, `${quantity} pieces`).toBe('pass')
      expect(holds, `${quantity} pieces`).toBeGreaterThanOrEqual(1.5 - 1e-9)
      expect(margin, `${quantity} pieces`).toBeGreaterThanOrEqual(1.2 - 1e-9)
    }
    expect(Math.max(...held.map(({ depth }) => depth))).toBeGreaterThan((seen[0]?.depth ?? 0) + 1e-3)
    // no deeper than it has to be: half a millimetre less lacks in one or the other
    for (const { quantity, depth } of held.slice(-3)) {
      const less = many(quantity, { button: { depth_mm: depth * 1000 - 0.5 } })
      const { button } = less.tree
      const metal = (less.needed.cavity?.value ?? Number.NaN) / less.conditions.metalDensity.value
      const holds = button.volume.value / (0.055 * (metal + button.volume.value))
      expect(Math.min(holds / 1.5, (button.margin?.value ?? 0) / 1.2)).toBeLessThan(1)
    }
  })

  /** Thin and heavy: sprues and main sprue ask little of the button, and the metal much. */
  const heavy = (quantity: number, mass_g = 4) => {
    const pour = samplePour({})
    const pieces = pour.pieces.map((piece) => ({
      ...piece,
      quantity,
      source: {
        from: 'weighed-wax' as const,
        mass_g,
        wax: 'hard-carving',
        calipers: {
          length_mm: 40,
          width_mm: 30,
          height_mm: 10,
          thickest_mm: 2.2,
          thinnest_mm: 1.6,
          section: 'bar' as const,
          sectionWidth_mm: 3,
        },
      },
    }))
    return { ...pour, pieces }
  }

  it('is not another one for another flask, nor once the tree is weighed', () => {
    const depths = [2, 3, 4, 5, 6, 7, 8, 10, 12].map((quantity) => {
      const asked = heavy(quantity)
      const depthOf = (of: typeof asked): number => planPour(sampleShop(), of, given).tree.button.depth.value
      const free = depthOf(asked)
      for (const { id } of sampleShop().flasks) expect(depthOf({ ...asked, flask: id })).toBe(free)
      for (const sprues_g of [0.1, 2, 6, 20]) {
        const weighed = {
          base_g: 60,
          baseWithTree_g: 60 + 4 * quantity + sprues_g,
          baseWeighed: 'today' as const,
        }
        expect(depthOf({ ...asked, tree: { ...asked.tree, weighed } })).toBe(free)
      }
      return free
    })
    expect(new Set(depths).size).toBeGreaterThan(3)
  })

  it('holds the most that an alloy of one’s own may draw in, however loosely that is known', () => {
    const shop = sampleShop()
    const loose = shop.alloys.map((alloy) => ({
      ...alloy,
      shrinkOnFreezing: { value: 0.05, low: 0.03, high: 0.08, source: 'of the test' },
    }))
    let held = 0
    for (const quantity of [1, 2, 3, 4, 5, 6])
      for (const mass_g of [2, 4, 6]) {
        const plan = planPour({ ...shop, alloys: loose }, heavy(quantity, mass_g), given)
        const { depth, cone } = plan.tree.button
        if (depth.value >= cone.coneDepth.value) continue
        held += 1
        expect(reservoir(plan)?.verdict, `${quantity} of ${mass_g} g`).toBe('pass')
      }
    expect(held).toBeGreaterThan(6)
  })
})

describe('the main sprue of many waxes', () => {
  const stemOf = (quantity: number) => {
    // thin ones: their sprues are a third as wide as the neck of the base's cone
    const { tree } = withThickest(2, {}, quantity, { section: 'bar' })
    const [gate] = tree.gates
    if (tree.stem === undefined || gate === undefined) throw new Error('the sample can be sprued')
    return {
      stem: tree.stem.diameter.value,
      sprue: gate.diameter.value * gate.count.value,
      button: tree.button,
    }
  }

  it('is wide enough for half of their sprues side by side about it, or as wide as its button outlasts', () => {
    const alone = stemOf(1).stem
    const wider: number[] = []
    for (const quantity of [1, 2, 4, 8, 12, 16, 24, 40, 80]) {
      const { stem, sprue, button } = stemOf(quantity)
      expect(waxWireOf(stem)).toBeDefined()
      expect(stem).toBeGreaterThanOrEqual(alone)
      expect(button.margin?.value).toBeGreaterThanOrEqual(1.2 - 1e-9)
      expect(stem).toBeLessThanOrEqual(button.cone.neck.value)
      const needed = (quantity * sprue) / 2 / Math.PI
      if (stem > alone) wider.push(stem)
      // by no more than the next wire is wider; short of it only where the button would not outlast one
      if (stem > alone && stem >= needed) expect(stem).toBeLessThan(needed * 1.15)
      if (stem < needed) expect(button.depth.value).toBeGreaterThan(0.8 * button.cone.coneDepth.value)
    }
    expect(new Set(wider).size).toBeGreaterThan(2)
  })

  it('is asked about where it is wider than the neck it stands on', () => {
    const told = (diameter_mm: number) =>
      withThickest(3, { stem: { diameter_mm } }).tree.answer.verdicts.find(({ id }) => id === 'freeze.neck')
    const neck_mm = (withThickest(3).tree.button.cone.neck.value ?? 0) * 1000
    expect(told(neck_mm)).toBeUndefined()
    expect(told(neck_mm + 0.5)?.verdict).toBe('check')
  })
})
