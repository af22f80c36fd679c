import { radiationCoefficient } from '../physics/radiation.ts'
import { STEEL_HEAT } from './steel.ts'

/** What cools: the poured flask in still air. SI throughout. */
export interface PouredFlask {
  readonly radius: number
  readonly height: number
  /** kg */
  readonly dryInvestment: number
  readonly steel: number
  readonly metal: number
  /** J/kgK and W/mK of the dry mould */
  readonly mouldHeat: number
  readonly conductivity: number
  /** J/kgK of the solid metal, J/kg from the pouring heat to solid, K where it is solid */
  readonly metalHeat: number
  readonly freezingHeat: number
  readonly solidAt: number
  /** K */
  readonly mould: number
  readonly air: number
  /** what the air takes beside radiation [W/m2K] */
  readonly airTakes: number
  readonly emissivity: number
  /** how far the castings' heat has mould to spread into, as a share of the radius */
  readonly reach: number
}

/** One moment of the cooling [K]: the castings, the inner mould with them on average, the outer with its steel. */
export interface Cooling {
  readonly s: number
  readonly castings: number
  readonly inner: number
  readonly outer: number
}

/**
 * Two nodes. The inner holds the metal and the inner half of the mould (within R/√2), the outer the other
 * half and the steel. Between them heat is conducted from the mean ring of one to that of the other; the
 * side loses by radiation and air, and so do both ends of each node through a third of half the height.
 * The castings begin at the heat they froze at and settle to the inner half with the slowest term of a slab
 * as deep as their reach.
 */
export class FlaskCooling {
  readonly #inner: number
  readonly #outer: number
  readonly #between: number
  readonly #side: { readonly area: number; readonly through: number }
  readonly #ends: { readonly area: number; readonly through: number }
  readonly #given: PouredFlask
  readonly #settling: number
  readonly #start: Cooling

  constructor(given: PouredFlask) {
    const { radius, height, conductivity } = given
    const half = (given.dryInvestment * given.mouldHeat) / 2
    this.#given = given
    this.#inner = half + given.metal * given.metalHeat
    this.#outer = half + given.steel * STEEL_HEAT
    // mean rings of equal halves stand at R/2 and R √3/2
    this.#between = (2 * Math.PI * height * conductivity) / Math.log(Math.sqrt(3))
    this.#side = {
      area: 2 * Math.PI * radius * height,
      through: (radius * Math.log(2 / Math.sqrt(3))) / conductivity,
    }
    this.#ends = { area: Math.PI * radius ** 2, through: height / (6 * conductivity) }
    const density = given.dryInvestment / (Math.PI * radius ** 2 * height)
    const depth = given.reach * radius
    this.#settling = (4 * depth ** 2 * density * given.mouldHeat) / (Math.PI ** 2 * conductivity)
    const { mould, metal, metalHeat, freezingHeat, solidAt } = given
    const inner = (half * mould + metal * (freezingHeat + metalHeat * solidAt)) / this.#inner
    this.#start = { s: 0, castings: Math.max(solidAt, inner), inner, outer: mould }
  }

  /** As the last metal freezes: the inner half has been given its heat. */
  start(): Cooling {
    return this.#start
  }

  #rates(inner: number, outer: number): readonly [inner: number, outer: number] {
    const { air, airTakes, emissivity } = this.#given
    const takes = (surface: number): number => airTakes + radiationCoefficient(emissivity, surface, air)
    const lost = (
      body: number,
      first: number,
      face: { readonly area: number; readonly through: number },
    ): number => {
      // the face stands below the body; one correction is enough, since radiation bends slowly
      const surface = air + (body - air) / (1 + first * face.through)
      return (face.area * (body - air)) / (1 / takes(surface) + face.through)
    }
    const [fromInner, fromOuter] = [takes(inner), takes(outer)]
    const outwards = this.#between * (inner - outer)
    return [
      -(outwards + lost(inner, fromInner, this.#ends)) / this.#inner,
      (outwards - lost(outer, fromOuter, this.#side) - lost(outer, fromOuter, this.#ends)) / this.#outer,
    ]
  }

  /** A step by the midpoint rule. */
  step(from: Cooling, dt: number): Cooling {
    const [a, b] = this.#rates(from.inner, from.outer)
    const [c, d] = this.#rates(from.inner + (a * dt) / 2, from.outer + (b * dt) / 2)
    const s = from.s + dt
    const inner = from.inner + c * dt
    const over = (this.#start.castings - this.#start.inner) * Math.exp(-s / this.#settling)
    return { s, castings: inner + over, inner, outer: from.outer + d * dt }
  }

  /** Step that stays well under the quickest of the two nodes [s]. */
  stepLength(): number {
    const quick =
      Math.min(this.#inner, this.#outer) / (this.#between + 60 * (this.#side.area + this.#ends.area))
    return quick / 2.5
  }

  /** Time [s] until the castings have fallen to a temperature; 0 when they start below it. */
  timeTo(temperature: number): number {
    let now = this.start()
    if (now.castings <= temperature) return 0
    if (temperature <= this.#given.air) return Number.POSITIVE_INFINITY
    const dt = this.stepLength()
    for (let count = 0; count < 20_000; count += 1) {
      const next = this.step(now, dt)
      if (next.castings <= temperature) {
        const share = Math.log((now.castings - this.#given.air) / (temperature - this.#given.air))
        const whole = Math.log((now.castings - this.#given.air) / (next.castings - this.#given.air))
        return now.s + (dt * share) / whole
      }
      now = next
    }
    return Number.POSITIVE_INFINITY
  }

  /** The curve for a chart, every `every` seconds until `until`. */
  curve(until: number, every = 60): Cooling[] {
    let now = this.start()
    const drawn: Cooling[] = [now]
    const parts = Math.ceil(every / this.stepLength())
    while (now.s < until) {
      for (let part = 0; part < parts; part += 1) now = this.step(now, every / parts)
      drawn.push(now)
    }
    return drawn
  }
}
