import { describe, expect, it } from 'vitest'
import type { Piece } from './documents/index.ts'
import { planPour } from './plan.ts'
import { METRIC, type UnitChoice, writeWords } from './quantity/index.ts'
import { SAMPLE_NOW, samplePour, sampleShop, sampleWax } from './sample-pour.ts'

/** Waxes measured by calipers, three fifths of their outside box filled. */
const waxes = (quantity: number, length_mm: number, width_mm: number, height_mm: number): Piece => {
  const mass_g = Math.max(1, length_mm * width_mm * height_mm * 0.6 * 0.00095)
  const thickest_mm = Math.min(height_mm, 4)
  const calipers = {
    length_mm,
    width_mm,
    height_mm,
    thickest_mm,
    thinnest_mm: 1.4,
    section: 'plate' as const,
  }
  return {
    ...sampleWax(`${quantity} of ${length_mm}`, mass_g),
    quantity,
    source: { from: 'weighed-wax', mass_g, wax: 'hard-carving', calipers },
  }
}

const POURS: readonly (readonly Piece[])[] = [
  [waxes(30, 24, 20, 3)],
  [waxes(40, 30, 25, 5)],
  [waxes(6, 60, 50, 6)],
  [waxes(8, 70, 30, 8)],
  [waxes(20, 40, 10, 10)],
  [waxes(4, 75, 60, 5)],
  [waxes(1, 120, 40, 6)],
  [waxes(1, 150, 90, 10)],
  [waxes(2, 85, 80, 5)],
  [waxes(3, 90, 20, 5), waxes(10, 30, 20, 5)],
]

const shopWith = (mostAcross_mm: number, mostHigh_mm: number) =>
  sampleShop({
    machines: sampleShop().machines.map((machine) => ({
      ...machine,
      mostFlaskDiameter_mm: mostAcross_mm,
      mostFlaskHeight_mm: mostHigh_mm,
    })),
  })

const INCHES: UnitChoice = { ...METRIC, length: 'in' }

const toMillimetres = (figure: string | undefined, choice: UnitChoice): number =>
  Number(figure) * (choice.length === 'in' ? 25.4 : 1)

const ADVISED = /add a flask ([\d.]+)\s\w+ across and ([\d.]+)\s\w+ high/
const NAMED = /(?:nearest is|largest flask,) ([\d.]+)\s\w+ × ([\d.]+)\s\w+/

describe('the advice where no flask of the rack holds the tree', () => {
  const machines = [
    [95, 110],
    [140, 170],
    [300, 400],
  ] as const
  const cases = POURS.flatMap((pieces) =>
    machines.flatMap(([across, high]) =>
      [METRIC, INCHES].map((choice) => ({ pieces, across, high, choice, name: pieces[0]?.name })),
    ),
  )

  it.each(cases)('holds together: $name, machine $across × $high, $choice.length', (one) => {
    const { pieces, across, high, choice } = one
    const shop = shopWith(across, high)
    const pour = samplePour({ pieces: [...pieces] })
    const stop = planPour(shop, pour, { now: SAMPLE_NOW }).verdicts.find(({ id }) => id === 'flask.rack')
    expect(stop?.verdict).toBe('stop')
    const reason = writeWords(stop?.reason ?? [], choice)
    const remedy = writeWords(stop?.remedy ?? [], choice)
    const advised = ADVISED.exec(remedy)
    if (advised === null) {
      expect(reason).toContain('No flask that the casting machine takes')
      return
    }
    const [width, height] = [toMillimetres(advised[1], choice), toMillimetres(advised[2], choice)]
    const named = NAMED.exec(reason)
    // what is called too narrow or too low is smaller than what is advised in its stead
    if (/past its wall|to the wall/.test(reason))
      expect(width).toBeGreaterThan(toMillimetres(named?.[1], choice))
    if (/out of it|above the pieces/.test(reason))
      expect(height).toBeGreaterThan(toMillimetres(named?.[2], choice))
    // and the advised one, bought by the figures as they are shown, does by the same rule
    const flask = {
      id: 'advised',
      insideDiameter_mm: width,
      insideHeight_mm: height,
      wall_mm: 1.6,
      owned: true,
    }
    const held = remedy.includes('one at a time')
      ? pieces.slice(0, 1).map((piece) => ({ ...piece, quantity: 1 }))
      : pieces
    const plan = planPour(
      { ...shop, flasks: [...shop.flasks, flask] },
      { ...pour, pieces: [...held] },
      { now: SAMPLE_NOW },
    )
    expect(plan.flask?.flask.id).toBe('advised')
    const least = remedy.includes('no more than the very least')
    const verdictOf = (id: string) => plan.verdicts.find((verdict) => verdict.id === id)?.verdict
    expect([verdictOf('flask.wall'), verdictOf('flask.top')]).toEqual(['pass', least ? 'check' : 'pass'])
    expect(verdictOf('spin.capacity.diameter')).toBeUndefined()
    expect(verdictOf('spin.capacity.height')).toBeUndefined()
  })

  it('counts flasks that would do when the pieces are dealt out to them', () => {
    const stop = planPour(shopWith(95, 110), samplePour({ pieces: [waxes(6, 60, 50, 6)] }), {
      now: SAMPLE_NOW,
    }).verdicts.find(({ id }) => id === 'flask.rack')
    expect(writeWords(stop?.remedy ?? [], METRIC)).toContain('pour the pieces in two flasks')
    const half = planPour(shopWith(95, 110), samplePour({ pieces: [waxes(3, 60, 50, 6)] }), {
      now: SAMPLE_NOW,
    })
    expect(half.flask).toBeDefined()
  })
})
