import type { ArrangeProblem } from './request.ts'

export interface Range {
  readonly value: number
  readonly low: number
  readonly high: number
}

/**
 * Hot strength of gypsum investment [Pa]. Low and high: mean compressive strength at 450 to 800 °C of four
 * dental products, 3.4 to 10.1 MPa (Dental Materials 19 (2003) 552, abstract). A plate breaks in bending, and
 * set gypsum bears in bending about a quarter to a half of what it bears in compression (from memory).
 */
export const HOT_BENDING: Range = { value: 2.1e6, low: 0.25 * 3.4e6, high: 0.5 * 10.1e6 }

/**
 * Greatest bending stress [Pa] in a round plate held fast all round its rim, under even pressure on all of it:
 * 3/4 p (r/t)². At the rim. Source: Timoshenko, Theory of Plates and Shells, clamped circular plate.
 */
export const stressOfClampedPlate = (pressure: number, radius: number, thickness: number): number =>
  0.75 * pressure * (radius / thickness) ** 2

/** Mean shear stress [Pa] where a round patch would be pushed out of the plate: p r / (2 t), equilibrium. */
export const shearRoundPatch = (pressure: number, radius: number, thickness: number): number =>
  (pressure * radius) / (2 * thickness)

export interface PlasterEnd {
  /** how many times the pressure it would bear, nine in ten or wider */
  readonly bears: Range
  readonly stress_Pa: Range
  readonly verdict: 'pass' | 'check' | 'stop'
  readonly problem?: ArrangeProblem
}

/**
 * Whether the plaster over the waxes bears the metal: the flask's round end as a plate clamped at the wall, as
 * thick as the plaster over the highest wax, with the whole pressure only where metal stands under it.
 * The share of a loaded middle is bounded from both sides: no less than all of the force spread over the plate,
 * no more than the pressure on all of it. An even wall holds the end better than a free edge, which is left out.
 * @param pressure_Pa  of the metal at the highest wax, above the air outside (spin, head or pump)
 * @param patch_mm2  of the waxes' shadow on the end, at most the plate's area
 */
export const judgePlasterEnd = ({
  pressure_Pa,
  plaster_mm,
  inside_diameter_mm,
  patch_mm2,
  strength_Pa = HOT_BENDING,
}: {
  readonly pressure_Pa: Range
  readonly plaster_mm: number
  readonly inside_diameter_mm: number
  readonly patch_mm2: number
  readonly strength_Pa?: Range
}): PlasterEnd => {
  const radius = inside_diameter_mm / 2
  const share = Math.min(1, Math.max(0, patch_mm2 / (Math.PI * radius ** 2)))
  const patch = radius * Math.sqrt(share)
  const worst = (pressure: number): number =>
    Math.max(stressOfClampedPlate(pressure, radius, plaster_mm), shearRoundPatch(pressure, patch, plaster_mm))
  const least = (pressure: number): number =>
    Math.max(
      stressOfClampedPlate(pressure * share, radius, plaster_mm),
      shearRoundPatch(pressure, patch, plaster_mm),
    )
  const stress_Pa: Range = {
    low: least(pressure_Pa.low),
    value: (least(pressure_Pa.value) + worst(pressure_Pa.value)) / 2,
    high: worst(pressure_Pa.high),
  }
  const bears: Range = {
    low: strength_Pa.low / stress_Pa.high,
    value: strength_Pa.value / stress_Pa.value,
    high: strength_Pa.high / stress_Pa.low,
  }
  const verdict = !(bears.value >= 1) ? 'stop' : bears.low >= 1 ? 'pass' : 'check'
  if (verdict === 'pass') return { bears, stress_Pa, verdict }
  const times = `${bears.value.toFixed(1)} times the metal’s pressure, ${bears.low.toFixed(1)} to ${bears.high.toFixed(1)}`
  return {
    bears,
    stress_Pa,
    verdict,
    problem: {
      kind: 'plaster-end',
      level: verdict,
      where: 'top',
      what:
        verdict === 'stop'
          ? `The ${plaster_mm.toFixed(1)} mm of plaster over the waxes most likely breaks out: it bears ${times}`
          : `Whether the ${plaster_mm.toFixed(1)} mm of plaster over the waxes bears the metal is not sure: it bears ${times}`,
      remedy:
        'leave more plaster above the waxes, take a higher flask, or wind the arm less; a closed end of steel, or a plate laid on, bears it too',
    },
  }
}
