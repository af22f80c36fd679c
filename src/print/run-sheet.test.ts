import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { shapesOf } from '../../examples/shapes-of.ts'
import { type Pour, pourFileSchema, readDocument, type Shop } from '../engine/documents/index.ts'
import { explain } from '../engine/explain.ts'
import { solveCooling } from '../engine/heat/index.ts'
import { sayClock, sayMoment } from '../engine/physics/schedule.ts'
import { type Plan, planPour } from '../engine/plan.ts'
import { METRIC, say, type UnitChoice, writeWords } from '../engine/quantity/index.ts'
import { laySheet, printRunSheet, type RunSheetOptions } from './index.ts'
import { type PageRead, readBack } from './read-back.ts'

const folder = new URL('../../examples/', import.meta.url)
const NOW = Date.UTC(2026, 10, 12, 18, 0)
const INCHES: UnitChoice = { ...METRIC, length: 'in', temperature: 'F' }
const MM = 72 / 25.4

const read = (file: string): { pour: Pour; shop: Shop } => {
  const reading = readDocument(pourFileSchema, JSON.parse(readFileSync(new URL(file, folder), 'utf8')))
  if (!reading.ok || reading.value.shop === undefined) throw new Error(`${file} is no whole pour`)
  const { shop, ...pour } = reading.value
  return { pour, shop }
}

const planOf = ({ pour, shop }: { pour: Pour; shop: Shop }): Plan =>
  planPour(shop, pour, { now: NOW, meshes: shapesOf(pour) })

const print = async (plan: Plan, options: Partial<RunSheetOptions> = {}): Promise<PageRead[]> =>
  readBack(
    await printRunSheet(plan, { paper: 'a4', units: METRIC, printedAt: NOW, compress: false, ...options }),
  )

const textOf = (pages: readonly PageRead[]): string => pages.map(({ text }) => text).join(' ')
const plain = (words: string): string => words.replaceAll('\u00a0', ' ')

const must = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('the plan of the demo has this')
  return value
}

let demo: Plan
beforeAll(() => {
  demo = planOf(read('cloak-clasp.json'))
})

describe('the sheet of the demo', () => {
  test.each([
    ['a4', 595.28, 841.89],
    ['letter', 612, 792],
  ] as const)('is two sides of %s paper by the day, in either units', async (paper, width, height) => {
    for (const units of [METRIC, INCHES]) {
      const pages = await print(demo, { paper, units })
      expect(pages).toHaveLength(2)
      expect(pages[0]?.text).toContain('the day of the cast is on the next side')
      expect(pages[0]?.text).toContain('Burn out')
      expect(pages[1]?.text).toContain('The day of the cast')
      expect(pages[1]?.text).not.toContain('goes on')
      for (const title of ['Melt and', 'Quench', 'Finish']) expect(pages[1]?.text).toContain(title)
      expect(pages[0]?.width).toBeCloseTo(width, 2)
      expect(pages[0]?.height).toBeCloseTo(height, 2)
    }
  })

  test('carries what is weighed, with its ranges', async () => {
    const text = textOf(await print(demo))
    const grams = (kilograms: number, decimals: number): string => `${(kilograms * 1000).toFixed(decimals)} g`
    expect(text).toContain(grams(must(demo.needed.toWeigh).value, 1))
    expect(text).toContain(grams(must(demo.mix.powder).value, 0))
    expect(text).toContain(grams(must(demo.mix.water).value, 0))
    for (const { mass } of demo.charge.lines) expect(text).toContain((mass * 1000).toFixed(1))
    const fineness = must(demo.charge.fineness)
    expect(text).toContain(`(${fineness.low.toFixed(1)} to ${fineness.high.toFixed(1)})`)
    expect(text).toMatch(/Needed \d+(\.\d)? to \d+(\.\d)? g/)
  })

  test('carries the gauge, the clock of the mix and every hold with its clock time', async () => {
    const text = textOf(await print(demo))
    const gauge = demo.mix.vacuum.boilGauge.value / 3386.389
    expect(text).toContain(`boils from ${gauge.toFixed(1)} inHg`)
    const { clock } = demo.shop
    for (const minutes of [clock.mix_min, clock.vacuumMix_min, clock.pour_min, clock.vacuumFlask_min])
      expect(text).toContain(`${Math.trunc(minutes)}:${String((minutes % 1) * 60).padStart(2, '0')}`)
    const holds = demo.burnout.program.filter(({ kind }) => kind === 'hold')
    expect(holds.length).toBeGreaterThan(2)
    for (const hold of holds) {
      expect(text).toContain(`${Math.round(hold.setpoint - 273.15)} °C`)
      expect(text).toContain(`hold from ${sayClock(must(hold.start), demo.shop.timeZone)}`)
    }
  })

  test('says when, from the last moment to mix to the quench', async () => {
    const text = textOf(await print(demo))
    expect(text).toContain('Saturday 14 November, 3:30 pm')
    expect(text).toContain(sayMoment(must(demo.burnout.mixBy), demo.shop.timeZone))
    expect(text).toContain(sayMoment(must(demo.burnout.start), demo.shop.timeZone))
    const { window } = demo.quench
    const run = must(demo.spin.time).run.value
    // to the minute after it opens, never before
    const opens = Math.ceil((must(demo.castAt) + (run + must(window).from) * 1000) / 60_000) * 60_000
    expect(text).toContain(`from ${sayClock(opens, demo.shop.timeZone)}`)
    expect(text).toContain('any red, and it waits')
    expect(text).toContain('Sheet 1 of 2, printed 12 November 2026, 11:00 am')
  })

  test('says how soon the metal must follow the flask, by the low end of what was solved', async () => {
    const { pour, shop } = read('cloak-clasp.json')
    const { key, question } = must(demo.quench.asked)
    const solved = planPour(shop, pour, {
      now: NOW,
      meshes: shapesOf(pour),
      coolings: { [key]: solveCooling(question) },
    })
    const { seconds } = must(solved.quench.transfer)
    const within = Math.floor(seconds.low / 5) * 5
    const text = plain(textOf(await print(solved)))
    const row = text.slice(text.indexOf('no dirt in the sprue'), text.indexOf('Seated in the cradle'))
    expect(row).toContain(`${within} s`)
    expect(row).toContain('From the door to the pour, at most')
    expect(textOf(await print(demo))).not.toContain('From the door to the pour')
  })

  test('writes the caster’s own temperature first and the other in brackets', async () => {
    expect(textOf(await print(demo))).toMatch(/quicksilver, 981 °C \(1,798 °F\)/)
    expect(textOf(await print(demo, { units: INCHES }))).toMatch(/quicksilver, 1,798 °F \(981 °C\)/)
    expect(textOf(await print(demo, { units: INCHES }))).toContain(' in')
  })

  test('balances the arm cold before the wax is spent, in one line, and only winds it beside the kiln', () => {
    const { sections } = laySheet(demo, { units: METRIC, printedAt: NOW })
    const rowsOf = (title: string): string[] =>
      must(sections.find((section) => section.title === title)).blocks.flatMap((block) =>
        block.kind === 'row' ? [plain(`${block.words} ${block.plan ?? ''}`).trim()] : [],
      )
    const { standIn, counterweightAt } = must(demo.spin.balance)
    const at = `${(counterweightAt.value * 1000).toFixed(1)} mm`
    expect(rowsOf('Before the wax is spent')).toContain(
      `Balance cold: crucible empty, ${Math.round(standIn.value * 1000).toLocaleString('en-US')} g in the cradle, counterweight at ${at}`,
    )
    expect(rowsOf('Melt and spin').filter((words) => words.includes('alance'))).toEqual([])
    expect(rowsOf('Melt and spin')[0]).toBe(`Wind 3 turns; counterweight still at ${at}`)
  })

  test('says one moment by which the mix is started, and the evening before it where that is night', async () => {
    const text = textOf(await print(demo))
    const by = sayMoment(must(demo.burnout.mixBy), demo.shop.timeZone)
    expect(text).toContain(`start by ${by} at the latest`)
    expect(text).toContain('Common practice: the evening before, by 8:00 pm')
    expect(text).toContain('Left alone: vented')
  })

  test('says that the burnout is by rule, and within what powder and water lie', async () => {
    const text = textOf(await print(demo))
    expect(text).toMatch(/1[34] h \d\d, by rule/)
    for (const name of ['powder', 'water'] as const) {
      const { low, high } = must(demo.mix[name])
      expect(text).toContain(`(${(low * 1000).toFixed(0)} to ${(high * 1000).toFixed(0)} g)`)
    }
  })

  test('names every piece, those already weighed too', async () => {
    const text = textOf(await print(demo))
    expect(demo.pieces.pieces.map(({ from }) => from)).toContain('weighed-wax')
    for (const { letter, name } of demo.pieces.pieces) expect(text).toContain(`${letter} ${name}, wax `)
    expect(text).toContain('B Cord slide, wax as weighed')
    // drawn first, and on the scale since it was carved
    expect(text).toContain('A Clasp, wax as weighed')
    expect(text).not.toContain('By its drawing')
  })

  test('leaves the price to the desk', async () => {
    const check = {
      id: 'price.odd',
      part: 'price',
      verdict: 'check',
      title: say`A price nobody has set`,
      reason: say`The price stands open.`,
      remedy: say`set it`,
    } as const
    const go = { ...demo.go, checks: [check], accepted: [{ ...check, accepted: 'a friend' }] }
    const text = textOf(await print({ ...demo, go }))
    expect(text).not.toContain('The price stands open')
    expect(text).not.toContain('a friend')
  })

  test('gives the seat and the sprues in the sheet’s own unit, with the wax wire that each sprue is', async () => {
    const inInches = textOf(await print(demo, { units: INCHES }))
    const { length, width } = must(must(demo.finish.pieces.find(({ seat }) => seat)).seat)
    const inch = (metres: number): string => (metres / 0.0254).toFixed(3)
    expect(inInches).toContain(`${inch(length.value)} × ${inch(width.value)} in`)
    // B&S 4 is 0.2043 in across, 5 is 0.1819 in (ASTM B258): 5.19 and 4.62 mm
    expect(inInches).toContain('Sprues, in (wire): A 2 × 0.204 (4 ga), B 0.182 (5 ga)')
    expect(textOf(await print(demo))).toContain('Sprues, mm (wire): A 2 × 5.19 (4 ga), B 4.62 (5 ga)')
  })

  test('warns of the hot tool where the wax is sprued, and not of a tree that was weighed built', async () => {
    const words = 'A hot wax tool burns; wax that smokes is too hot to breathe over.'
    const text = textOf(await print(demo))
    expect(text.indexOf(words)).toBeGreaterThan(text.indexOf('Sprues, mm (wire)'))
    expect(text.indexOf(words)).toBeLessThan(text.indexOf('Last look.'))
    const built = {
      ...demo.pour,
      tree: {
        ...demo.pour.tree,
        weighed: { base_g: 50, baseWithTree_g: 62, baseWeighed: 'earlier' as const },
      },
    }
    expect(textOf(await print({ ...demo, pour: built }))).not.toContain(words)
  })

  test('names the whole pieces of a lot that comes in pieces', async () => {
    const [line] = demo.charge.lines
    const lines = [{ ...must(line), name: 'Button from pour 44', mass: 0.0586, pieces: [0.0381, 0.0205] }]
    const text = textOf(await print({ ...demo, charge: { ...demo.charge, lines } }))
    expect(text).toContain('58.6 button from pour 44 (38.1 + 20.5)')
  })

  test.each(['a4', 'letter'] as const)('keeps foot and sheet number apart on %s', async (paper) => {
    const printedAt = Date.UTC(2026, 8, 30, 19, 59)
    const { written, width } = must((await print(demo, { paper, printedAt }))[0])
    const foot = must(written.find(({ text }) => text.startsWith('Ranges are')))
    const number = must(written.find(({ text }) => text.startsWith('Sheet 1')))
    // both lines are set alike, so the known width of the one gives that of a letter
    const letter = (width - 11 * MM - number.x) / number.text.length
    expect(number.x - (foot.x + foot.text.length * letter)).toBeGreaterThan(14)
  })

  test('says the same on either paper', async () => {
    const words = async (paper: 'a4' | 'letter'): Promise<string[]> =>
      (await print(demo, { paper })).flatMap(({ text }) => text.split(/\s+/)).sort()
    expect(await words('letter')).toEqual(await words('a4'))
  })

  test('has one act to a tick, each with its words', async () => {
    const { sections } = laySheet(demo, { units: METRIC, printedAt: NOW })
    const acts = sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'row' ? [block.words] : [])),
    )
    const wanted = [
      /^Collar on/,
      /^Base and collar off/,
      /^Flask into the kiln, mouth down/,
      /^Kiln on, or its delay set for /,
      /sprue white and clean/,
      /^Crucible warmed and glazed/,
      /^Silver first/,
      /^Copper after, .*stir/,
      /open the kiln now/,
      /^Flask out with dry tongs/,
      /^Seated in the cradle, .*wired/,
      /neutralise/,
      /^Saw off the sprues/,
      /^Pickle made up: .* of salt/,
    ]
    for (const act of wanted) expect(acts.filter((words) => act.test(words))).toHaveLength(1)
    expect(acts.indexOf('Silver first, with borax')).toBeLessThan(
      acts.findIndex((words) => words.startsWith('Rolls like quicksilver')),
    )
    const [charged, cooled] = [demo.finish.castMass, demo.finish.metalBack].map((mass) => must(mass))
    const text = textOf(await print(demo))
    for (const mass of [charged, cooled])
      expect(text).toContain(
        `${(must(mass).low * 1000).toFixed(1)} to ${(must(mass).high * 1000).toFixed(1)} g`,
      )
  })

  test('opens the kiln by the metal and not by the clock, and a climb has its unit', async () => {
    const text = textOf(await print(demo))
    expect(text).toContain('open the kiln when the metal rolls, not by the clock')
    expect(text).toMatch(/climb \d+ °C an hour/)
    expect(textOf(await print(demo, { units: INCHES }))).toMatch(/climb \d+ °F an hour/)
  })

  test('says dangers before anything else in its first box', () => {
    const [first] = laySheet(demo, { units: METRIC, printedAt: NOW }).sections
    expect(first?.blocks[0]?.kind).toBe('signs')
  })

  test('has words for paper: nothing is entered or accepted there', async () => {
    const { pour, shop } = read('weighed-only.json')
    const text = textOf(await print(planOf({ pour, shop: { ...shop, trial: {} } })))
    expect(text).toContain('Cast a scrap of wax first.')
    expect(text).not.toMatch(/accept it|enter the day/)
  })

  test('gives the same bytes again', async () => {
    const options: RunSheetOptions = { paper: 'a4', units: METRIC, printedAt: NOW }
    expect(await printRunSheet(demo, options)).toEqual(await printRunSheet(demo, options))
  })

  test('promises nothing and defers to the maker’s sheet', async () => {
    expect(textOf(await print(demo))).toContain(
      'Ranges are nine in ten; none is a promise. Maker’s sheets and local code come first.',
    )
  })
})

describe('cautions', () => {
  test('all levels that the plan has are on the sheet, and a caution nobody has shortened is printed whole', async () => {
    const odd = {
      id: 'spin.odd',
      part: 'spin',
      step: 'letting go',
      level: 'danger',
      words: say`A caution that was thought of later.`,
    } as const
    const text = textOf(await print({ ...demo, cautions: [...demo.cautions, odd] }))
    for (const word of ['Danger.', 'Warning.', 'Caution.']) expect(text).toContain(word)
    expect(text).toContain('A caution that was thought of later.')
  })

  test('none of the plan’s is lost: with all but one taken away, its own words stand at its step', () => {
    for (const caution of demo.cautions) {
      const { sections } = laySheet({ ...demo, cautions: [caution] }, { units: METRIC, printedAt: NOW })
      const signs = sections.flatMap(({ blocks, title }) =>
        blocks.flatMap((block) =>
          block.kind === 'signs' ? block.signs.map((sign) => ({ ...sign, title })) : [],
        ),
      )
      expect(signs).toHaveLength(1)
      expect(signs[0]?.level).toBe(caution.level)
      const steps: Record<string, string> = {
        mix: 'Mix and fill',
        burnout: 'Burn out',
        spin: 'Melt and spin',
        quench: 'Quench',
        finish: 'Finish',
      }
      expect(signs[0]?.title).toBe(steps[caution.part] ?? 'Before the wax is spent')
    }
  })
})

describe('what is not settled', () => {
  test('a stop stands heavy at the head with its reason, and the sheet still prints', async () => {
    const { pour, shop } = read('cloak-clasp.json')
    const plan = planOf({ pour: { ...pour, flask: 'flask-2x2' }, shop })
    const [stop] = plan.go.stops
    const pages = await print(plan)
    const first = must(pages[0])
    expect(first.text).toContain('NOT READY')
    expect(first.text).toContain(plain(writeWords(must(stop).reason, METRIC)).split(';')[0])
    const heavy = must(first.written.find(({ text }) => text === 'NOT READY'))
    expect(heavy.font).toContain('Bold')
    expect(heavy.size).toBeGreaterThan(14)
    const firstStep = must(first.written.find(({ text }) => text.startsWith('Before the')))
    expect(heavy.y).toBeGreaterThan(firstStep.y)
    expect(textOf(pages)).toContain('Finished pieces')
  })

  test('a ready plan does not say so anywhere', async () => {
    expect(demo.go.stops).toEqual([])
    expect(textOf(await print(demo))).not.toContain('NOT READY')
  })

  test('open checks are stated with their cure, accepted ones with their reason', async () => {
    const files = read('weighed-only.json')
    const open = planOf(files)
    const check = must(open.go.checks.find(({ id }) => id === 'flask.open'))
    expect(textOf(await print(open))).toContain(plain(writeWords(check.reason, METRIC)))
    const accepted = planOf({ ...files, pour: { ...files.pour, accepted: { 'flask.open': 'a tried tree' } } })
    const text = textOf(await print(accepted))
    expect(text).toContain('accepted, “a tried tree”')
    expect(text).not.toContain(plain(writeWords(check.reason, METRIC)))
  })

  test('a figure that the plan leaves open is left open on paper', async () => {
    const text = textOf(await print(planOf(read('weighed-only.json'))))
    expect(text).toContain('Metal: the charge is open')
    expect(text).not.toMatch(/NaN|undefined|null/)
  })
})

describe('on the page', () => {
  const crowded = (): Plan => {
    const { pour, shop } = read('signet-rings.json')
    const lengths = Array.from({ length: 9 }, (_, index) => ({
      name: `size ${index + 1} of a great many that have to be kept and written down one by one`,
      finished_mm: 10 + index,
      faces: 1,
    }))
    return planOf({ pour: { ...pour, pieces: pour.pieces.map((piece) => ({ ...piece, lengths })) }, shop })
  }

  test('no step breaks across two sheets', async () => {
    const plan = crowded()
    const pages = await print(plan)
    expect(pages.length).toBeGreaterThan(2)
    const { sections } = laySheet(plan, { units: METRIC, printedAt: NOW })
    const rows = sections.flatMap(({ blocks }) => blocks.filter((block) => block.kind === 'row'))
    const boxes = pages.map(({ orders }) => (orders.match(/^\S+ \S+ 9\.6 9\.6 re$/gm) ?? []).length)
    expect(boxes.reduce((sum, count) => sum + count, 0)).toBe(rows.length)
    for (const { words } of rows)
      expect(pages.filter(({ text }) => text.includes(plain(words))).length).toBeGreaterThan(0)
    expect(textOf(pages)).toContain(`Sheet ${pages.length} of ${pages.length}`)
  })

  test.each(['a4', 'letter'] as const)('nothing on %s comes nearer the edge than 10 mm', async (paper) => {
    for (const plan of [demo, crowded()])
      for (const { written, width, height, orders } of await print(plan, { paper })) {
        for (const { x, y } of written) {
          expect(x).toBeGreaterThanOrEqual(10 * MM)
          expect(x).toBeLessThanOrEqual(width - 10 * MM)
          expect(y).toBeGreaterThanOrEqual(10 * MM)
          expect(y).toBeLessThanOrEqual(height - 10 * MM)
        }
        const rules = [...orders.matchAll(/^(\S+) (\S+) m\n(\S+) \2 l$/gm)]
        expect(rules.length).toBeGreaterThan(10)
        for (const [, from, down, to] of rules) {
          // orders of a sign are scaled, and stay within its own 24 units
          if (Number(to) <= 24) continue
          expect(Number(from)).toBeGreaterThanOrEqual(10 * MM)
          expect(Number(to)).toBeLessThanOrEqual(width - 10 * MM)
          expect(Number(down)).toBeLessThanOrEqual(height - 10 * MM)
        }
      }
  })

  test('steps are set at 10.5 points or more and plan values heavy at 11.5 or more', async () => {
    const { written } = must((await print(demo))[0])
    const step = must(written.find(({ text }) => text.startsWith('Powder (')))
    expect(step.size).toBeGreaterThanOrEqual(10.5)
    const powder = `${(must(demo.mix.powder).value * 1000).toFixed(0)}\u00a0g`
    const value = must(written.find(({ text }) => text === powder))
    expect(value.size).toBeGreaterThanOrEqual(11.5)
    expect(value.font).toContain('Bold')
  })

  test('notes longer than a sheet, and a crowd of stops, run on and are all there', async () => {
    const [stop] = planOf({
      ...read('cloak-clasp.json'),
      pour: { ...read('cloak-clasp.json').pour, flask: 'flask-2x2' },
    }).go.stops
    const stops = Array.from({ length: 30 }, (_, index) => ({
      ...must(stop),
      title: say`Stop that is number ${index + 1}`,
    }))
    const notes = Array.from({ length: 900 }, (_, index) => `w${index}`).join(' ')
    const plan: Plan = { ...demo, pour: { ...demo.pour, notes }, go: { ...demo.go, stops } }
    const pages = await print(plan)
    const text = textOf(pages)
    expect(text).toContain('30 stops')
    for (let number = 1; number <= 30; number += 1) expect(text).toContain(`number ${number}.`)
    expect(text).toContain('w0 ')
    expect(text).toContain('w899')
    for (const { written, height } of pages)
      for (const { y } of written) {
        expect(y).toBeGreaterThanOrEqual(10 * MM)
        expect(y).toBeLessThanOrEqual(height - 10 * MM)
      }
  })

  test('the faces are embedded', async () => {
    const fonts = new Set(must((await print(demo))[0]).written.map(({ font }) => font))
    for (const font of fonts) expect(font).toMatch(/^[A-Z]{6}\+(Archivo|Besley)/)
  })

  test('the flask is drawn to scale: as wide to as tall as the flask seen from 17 degrees above', async () => {
    const { orders } = must((await print(demo))[0])
    const uprights = [...orders.matchAll(/^(\S+) (\S+) m\n\1 (\S+) l$/gm)].map(([, x, from, to]) => ({
      x: Number(x),
      tall: Math.abs(Number(from) - Number(to)),
    }))
    const tallest = Math.max(...uprights.map(({ tall }) => tall))
    const walls = uprights.filter(({ tall }) => Math.abs(tall - tallest) < 1e-3)
    expect(walls).toHaveLength(2)
    const wide = Math.abs(must(walls[0]).x - must(walls[1]).x)
    const flask = must(demo.flask)
    const outside = flask.diameter.value + 2 * flask.wall.value
    expect(wide / tallest).toBeCloseTo(outside / (flask.height.value * Math.cos((17 * Math.PI) / 180)), 3)
  })

  test('a tree that sticks out of its flask stays inside the margins of the sheet', async () => {
    const { pour, shop } = read('cloak-clasp.json')
    const { orders } = must((await print(planOf({ pour: { ...pour, flask: 'flask-2x2' }, shop })))[0])
    const points = [...orders.matchAll(/^(\S+) (\S+) [ml]$/gm)].map(([, x, y]) => [Number(x), Number(y)])
    const drawn = points.filter(([x = 0]) => x > 24)
    expect(Math.min(...drawn.map(([, y = 0]) => y))).toBeGreaterThanOrEqual(10 * MM - 0.5)
  })

  test('a name without a space that is longer than a line is cut, never run off the sheet', async () => {
    const { pour, shop } = read('bronze-pull.json')
    const name = 'm'.repeat(200)
    const pieces = pour.pieces.map((piece) => ({ ...piece, name }))
    const [first] = await print(planOf({ pour: { ...pour, name, pieces }, shop }))
    const longest = Math.max(
      ...must(first)
        .written.filter(({ text }) => /m{5}/.test(text))
        .map(({ text }) => text.length),
    )
    // an m of this face is more than 0.8 of its size wide
    expect(longest * 0.8 * 10.5).toBeLessThan(must(first).width)
    expect(must(first).text.replace(/[^m]/g, '').length).toBeGreaterThan(400)
  })

  test('lots add up to the charge as printed, on a finer scale too', () => {
    const { pour, shop } = read('cloak-clasp.json')
    const scales = { ...shop.scales, metal: { resolution_g: 0.01, most_g: 600 } }
    const plan = planOf({ pour, shop: { ...shop, scales } })
    const { sections } = laySheet(plan, { units: METRIC, printedAt: NOW })
    const metal = must(
      sections
        .flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'row' ? [block] : [])))
        .find(({ words }) => words.startsWith('Metal: ')),
    )
    const lots = [...metal.words.matchAll(/(\d+\.\d\d)\u00a0/g)].map(([, mass]) => Number(mass))
    expect(lots.length).toBeGreaterThan(1)
    const sum = lots.reduce((total, mass) => total + mass, 0)
    expect(sum.toFixed(2)).toBe(must(metal.plan).replace('\u00a0g', ''))
  })

  test('a shop whose clocks are not known prints in UTC and says so', async () => {
    const { pour, shop } = read('cloak-clasp.json')
    const castAt = '2026-11-14T15:30:00-07:00'
    const text = textOf(
      await print(planOf({ pour: { ...pour, castAt }, shop: { ...shop, timeZone: 'Nowhere' } })),
    )
    expect(text).toContain('Times in UTC')
    expect(text).not.toContain('Invalid')
  })

  test('names in other letters are kept, and a letter that no face holds shows as a question mark', async () => {
    const { pour, shop } = read('weighed-only.json')
    const text = textOf(await print(planOf({ pour: { ...pour, name: 'Łódź spoon 匙' }, shop })))
    expect(text.replaceAll(' ', '')).toContain('Łódźspoon?')
  })
})

describe('the side of grounds', () => {
  test('says what the charge, the fineness and the quench rest on, most first', async () => {
    const text = must((await print(demo, { explanations: true })).at(-1)).text
    expect(text).toContain('What it rests on')
    const firsts = [demo.needed.needed, demo.charge.fineness, demo.quench.opens].flatMap((quantity) =>
      explain(must(quantity)).rests.slice(0, 1),
    )
    expect(firsts.length).toBeGreaterThan(1)
    for (const first of firsts) expect(text).toContain(plain(first.title))
    expect(text).toMatch(/Its own range moves the answer by [\d.]+ g either way/)
  })

  test('is left out unless asked for', async () => {
    expect(textOf(await print(demo))).not.toContain('What it rests on')
  })
})
