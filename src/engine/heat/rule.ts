import { radiationCoefficient } from '../physics/radiation.ts'
import { celsius, type Quantity, reckon, root } from '../quantity/index.ts'
import type { BurnoutCourse, BurnoutModel, CoreHistory, CorePoint } from './burnout-model.ts'
import { lagSize, soakSize, wallShare } from './formulas.ts'

/** Core heat from which carbon burns off in air within the hour [K]: about 600 °C, common practice. */
export const CARBON_BURNS = celsius(600)

/** Steps per stretch of the program. Fixed, so that a small change of any input moves the answer smoothly. */
const STEPS = 6

/** Of an oxidised steel flask and of plaster; Incropera table A.11 gives 0.7 to 0.93. From memory. */
const EMISSIVITY = 0.8
/** Hot moving air round a flask in a kiln [W/m2K]; 5 to 12, Incropera. From memory. */
const AIR = 8

interface Numbers {
  readonly radius: number
  readonly height: number
  readonly conductivity: number
  readonly density: number
  readonly heat: number
  readonly dryingHeat: number
  readonly boiling: number
  readonly doubt: number
  readonly melts: number
  readonly temperatures: readonly number[]
  readonly durations: readonly number[]
}

interface Followed {
  readonly melted: number
  readonly dry: number
  readonly hot: number
  readonly atCast: number
  readonly curve: readonly (readonly [s: number, K: number])[]
}

/** Integral of ln(1/(1-v)) from 0 to v: 0 for a wet mould, 1 for a dry one. */
const frontWork = (v: number): number => v + (1 - v) * Math.log(1 - v)

/** The dry share after the front has been given `work`, with conduction and face resistances c and f. */
const advance = (v: number, work: number, c: number, f: number): number => {
  const target = c * frontWork(v) + f * v + work
  let next = Math.min(v + work / (f + c * -Math.log(1 - Math.min(v, 0.999))), 1 - 1e-12)
  // Newton on a rising convex function: settles from above in a few steps
  for (let step = 0; step < 6; step += 1) {
    const off = c * frontWork(next) + f * next - target
    next = Math.min(Math.max(next - off / (f - c * Math.log(1 - next)), v), 1 - 1e-12)
    if (Math.abs(off) < 1e-10 * target) break
  }
  return next
}

/**
 * A drying front that moves in from the face while the core waits at the boiling point, then a core that
 * follows the kiln with one time constant. The front is quasi-steady: what reaches it goes into water,
 *
 *   E [ g ln(1/(1-v))/k + (V/A)/h ] dv/dt = T_kiln - T_boil
 *
 * with v the dry share, E the drying heat, g = 1/(4/R² + 8/H²), and h from radiation and air at the kiln's
 * heat. Each step is solved exactly, the front for a steady kiln, the core for a steady climb, behind which
 * it trails by g. Steam flow, wax and the heat of the dry rind are left out; `doubt` stretches both times.
 * Seconds; Infinity for what the program never reaches.
 */
const followNumbers = (given: Numbers, drawn = false): Followed => {
  const { radius, height, conductivity, density, heat, boiling, melts, temperatures, durations } = given
  const size = soakSize.record.value({ radius, height })
  const depth = wallShare.record.value({ radius, height })
  const conduction = lagSize.record.value({ radius, height }) / conductivity
  const soaking = (given.doubt * size * density * heat) / conductivity
  // a steady climb keeps the middle further behind than the slowest term alone would
  const climbing = given.doubt * conduction * density * heat - soaking
  const water = given.doubt * given.dryingHeat
  let s = 0
  let K = temperatures[0] ?? boiling
  let dryShare = 0
  let melted = Number.POSITIVE_INFINITY
  let dry = Number.POSITIVE_INFINITY
  let hot = Number.POSITIVE_INFINITY
  const curve: [number, number][] = drawn ? [[0, K]] : []
  durations.forEach((duration, index) => {
    const from = temperatures[index] ?? K
    const to = temperatures[index + 1] ?? from
    // a stretch of no length moves nothing, and has no rate
    if (!(duration > 0)) return
    const dt = duration / STEPS
    for (let step = 0; step < STEPS; step += 1) {
      const kiln = from + ((to - from) * (step + 0.5)) / STEPS
      const transfer = AIR + radiationCoefficient(EMISSIVITY, kiln, Math.max(K, boiling))
      const time = soaking + (density * heat * depth) / transfer
      const rate = (to - from) / duration
      const end = s + dt
      let begun = s
      if (dryShare < 1 && kiln > boiling) {
        const push = (kiln - boiling) / water
        const face = depth / transfer
        const left = conduction * (1 - (dryShare > 0 ? frontWork(dryShare) : 0)) + face * (1 - dryShare)
        if (push * dt >= left) {
          dry = s + left / push
          begun = dry
          dryShare = 1
        } else dryShare = advance(dryShare, push * dt, conduction, face)
      }
      // exact for a kiln that climbs steadily: the core comes to trail it by rate times this
      const trail = rate * (time + climbing)
      const atBegun = from + ((to - from) * step) / STEPS + rate * (begun - s)
      const coreAt = (moment: number): number =>
        atBegun + rate * (moment - begun) - trail + (K - atBegun + trail) * Math.exp((begun - moment) / time)
      const free = coreAt(end)
      const reached = dryShare < 1 ? Math.min(free, boiling) : free
      const crossed = (level: number): number => {
        if (!(K < level && reached >= level)) return Number.POSITIVE_INFINITY
        let [below, above] = [begun, end]
        for (let halving = 0; halving < 24; halving += 1) {
          const middle = (below + above) / 2
          if (coreAt(middle) < level) below = middle
          else above = middle
        }
        return above
      }
      melted = Math.min(melted, crossed(melts))
      hot = Math.min(hot, crossed(CARBON_BURNS))
      K = reached
      s = end
      if (drawn) curve.push([s, K])
    }
  })
  return { melted, dry, hot, atCast: K, curve }
}

/** Answers of a body already worked out, found again by the very same numbers; asked mostly in the same order. */
const remembering = (body: (n: readonly number[]) => Followed): ((n: readonly number[]) => Followed) => {
  const known: { numbers: readonly number[]; answer: Followed }[] = []
  let hint = 0
  const same = (a: readonly number[], b: readonly number[]): boolean => a.every((each, at) => each === b[at])
  return (numbers) => {
    for (let tried = 0; tried < known.length; tried += 1) {
      const at = (hint + tried) % known.length
      const entry = known[at]
      if (entry !== undefined && same(entry.numbers, numbers)) {
        hint = at + 1
        return entry.answer
      }
    }
    const answer = body(numbers)
    known.push({ numbers, answer })
    hint = 0
    return answer
  }
}

/** The rule that stands until a solver takes its place. */
export const RULE: BurnoutModel = {
  by: 'rule',
  follow: (course: BurnoutCourse): CoreHistory => {
    const inputs: Record<string, Quantity> = {
      radius: course.radius,
      height: course.height,
      conductivity: course.conductivity,
      density: course.density,
      heat: course.heat,
      dryingHeat: course.dryingHeat,
      boiling: course.boiling,
      doubt: root({
        id: 'burnout.ruleDoubt',
        title: 'What the rule may be off',
        unit: '1',
        value: 1,
        low: 0.7,
        high: 1.4,
        kind: 'usual',
        source:
          'a guess at what steam flow, wax and the rest of the load do; log a thermocouple to narrow it',
      }),
      ...(course.waxMelts && { melts: course.waxMelts }),
    }
    course.temperatures.forEach((each, index) => {
      inputs[`temperature${index}`] = each
    })
    course.durations.forEach((each, index) => {
      inputs[`duration${index}`] = each
    })
    const names = Object.keys(inputs)
    const numbered = (n: Readonly<Record<string, number>>): Numbers => {
      const number = (name: string): number => n[name] ?? Number.NaN
      return {
        radius: number('radius'),
        height: number('height'),
        conductivity: number('conductivity'),
        density: number('density'),
        heat: number('heat'),
        dryingHeat: number('dryingHeat'),
        boiling: number('boiling'),
        doubt: number('doubt'),
        melts: n.melts ?? Number.POSITIVE_INFINITY,
        temperatures: course.temperatures.map((_, index) => number(`temperature${index}`)),
        durations: course.durations.map((_, index) => number(`duration${index}`)),
      }
    }
    const again = remembering((list) =>
      followNumbers(numbered(Object.fromEntries(names.map((name, at) => [name, list[at] ?? Number.NaN])))),
    )
    const followed = (n: Readonly<Record<string, number>>): Followed =>
      again(names.map((name) => n[name] ?? Number.NaN))
    const tell = (id: string, title: string, says: string, of: (answer: Followed) => number): Quantity =>
      reckon({
        id: `burnout.core.${id}`,
        title,
        unit: id === 'atCast' ? 'K' : 's',
        says,
        source: 'drying front and slowest term of conduction in a cylinder, by rule; within about half',
        holdsWhen: 'one flask, standing clear in a kiln that follows its program',
        inputs,
        body: (numbers) => of(followed(numbers)),
      })
    const happened = (quantity: Quantity): Quantity | undefined =>
      Number.isFinite(quantity.value) ? quantity : undefined
    // a cool core: little conducted, much water; a warm core the other way round, both ends at once
    const drawn = (which: 'value' | 'low' | 'high'): Followed => {
      const numbers: Record<string, number> = {}
      for (const [name, input] of Object.entries(inputs)) numbers[name] = input.value
      const towards = (quantity: Quantity | undefined, end: 'low' | 'high'): number =>
        quantity === undefined ? Number.NaN : quantity.value + (quantity[end] - quantity.value) * Math.SQRT1_2
      if (which !== 'value') {
        numbers.conductivity = towards(inputs.conductivity, which)
        numbers.doubt = towards(inputs.doubt, which === 'low' ? 'high' : 'low')
      }
      return followNumbers(numbered(numbers), true)
    }
    const [middle, cool, warm] = [drawn('value'), drawn('low'), drawn('high')]
    const curve: CorePoint[] = middle.curve.map(([s, K], index) => {
      const ends = [K, cool.curve[index]?.[1] ?? K, warm.curve[index]?.[1] ?? K]
      return { s, K, low: Math.min(...ends), high: Math.max(...ends) }
    })
    return {
      by: 'rule',
      curve,
      waxMelted:
        course.waxMelts &&
        happened(
          tell(
            'waxMelted',
            'Core past the melting point of the wax',
            'the first moment the core is as hot as the wax melts',
            ({ melted }) => melted,
          ),
        ),
      coreDry: happened(tell('dry', 'Core dry', 'the drying front has reached the middle', ({ dry }) => dry)),
      coreHot: happened(
        tell(
          'hot',
          'Core hot enough to burn carbon',
          'the first moment the core passes 600 °C',
          ({ hot }) => hot,
        ),
      ),
      coreAtCast: tell(
        'atCast',
        'Core at the casting moment',
        'the core at the end of the program',
        ({ atCast }) => atCast,
      ),
    }
  },
}
