import { openRoots } from '../../src/engine/documents/index.ts'
import { designBurnout, passes, planBurnout } from '../../src/engine/heat/index.ts'
import {
  conduct,
  gradedEdges,
  type HeatMaterial,
  roundBody,
  temperatureAt,
} from '../../src/engine/physics/conduct/index.ts'
import { celsius } from '../../src/engine/quantity/index.ts'
import { type Check, checkEach } from '../check.ts'
import { bench, stated } from '../small-studio.ts'

// A burnout of 100 by 120 mm at 3 K a minute to 700 °C, with and without its water, and whole programs.

/** The stated case; what it leaves unstated is that of row H12: k 0.5, density 1240, c 1000. */
const climb = (wet: boolean) => {
  const mould: HeatMaterial = {
    density: 1240,
    conductivity: 0.5,
    specificHeat: 1000,
    reactions: wet
      ? [
          { from: celsius(96), to: celsius(104), heat: 0.15 * 2.257e6, reversible: false },
          { from: celsius(110), to: celsius(170), heat: 180e3, reversible: false },
        ]
      : [],
  }
  const body = roundBody(
    gradedEdges(0.05, 0.0025, 1),
    gradedEdges(0.06, 0.0025, 1),
    true,
    [{ name: 'mould', material: mould }],
    () => 0,
  )
  const hot = 225 * 60
  const around = {
    heatTransfer: 10,
    emissivity: 0.8,
    ambient: [
      [0, celsius(25)],
      [hot, celsius(700)],
    ] as const,
  }
  const times = Array.from({ length: 300 }, (_, index) => (index + 1) * 60)
  const solved = conduct({
    body,
    start: celsius(25),
    surroundings: body.sides.map(() => around),
    times,
    tolerance: 1,
  })
  const core = solved.moments.map((moment) => temperatureAt(body, moment, [0, 0]))
  const past = (level: number): number => passes(times, core, celsius(level)) / 60
  const lag = Math.max(
    ...core.map((kelvins, index) => celsius(Math.min(700, 25 + 3 * (index + 1))) - kelvins),
  )
  return { past, lag, energyError: solved.energyError }
}

const explicit =
  'explicit steps of 0.25 s on 50 by 120 cells, run beforehand by another program; its conductivity and heat not stated, taken as in H12'

const programHours = (variant: 'gentle' | 'shortest', diameter_in: number, height_in: number): number => {
  const { shop, pour } = bench()
  const input = {
    shop,
    pour: { ...pour, burnout: variant },
    roots: openRoots(shop, pour),
    kilnIndex: 0,
    investmentIndex: 0,
    alloyIndex: 0,
    flaskInside: {
      diameter: stated('d', 'm', diameter_in * 0.0254),
      height: stated('h', 'm', height_in * 0.0254),
    },
    waxMelts: stated('melts', 'K', celsius(60)),
    work: 'medium',
    now: 0,
    timeZone: 'UTC',
  } as const
  const { asked } = planBurnout(input)
  if (asked === undefined) return Number.NaN
  const solved = { [asked.key]: designBurnout(asked.question) }
  return (planBurnout({ ...input, solved }).total?.value ?? Number.NaN) / 3600
}

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'BO1',
      says: 'a dry 100 by 120 mm mould at 3 K a minute: minutes until its core passes a heat, and its largest lag',
      section: '6',
      source: explicit,
      within: { relative: 0.015 },
    },
    {
      'past-170': [() => climb(false).past(170), 85],
      'past-680': [() => climb(false).past(680), 248],
      lag: [() => climb(false).lag, 111],
    },
  ),
  ...checkEach(
    {
      id: 'BO2',
      says: 'the same mould wet, 15 % free water and 180 kJ/kg bound: its core waits more than an hour longer at boiling',
      section: '6',
      source: `${explicit}; nor over which mass the water is counted, hence 3 %`,
      within: { relative: 0.03 },
    },
    {
      'past-170': [() => climb(true).past(170), 152],
      'past-680': [() => climb(true).past(680), 248],
    },
  ),
  {
    id: 'BO2.lag',
    says: 'the wet mould’s core stands furthest behind just before it dries',
    section: '6',
    source: `${explicit}; three degrees for every minute that drying is off, hence 7 %`,
    got: () => climb(true).lag,
    want: 371,
    within: { relative: 0.07 },
  },
  {
    id: 'BO3',
    says: 'heat through the faces of the wet mould is all found in it',
    section: '6',
    source: 'conservation of energy',
    got: () => climb(true).energyError,
    want: 0,
    within: { absolute: 1e-6 },
  },
  ...checkEach(
    {
      id: 'BO4',
      says: 'hours of a whole solved program stand about the trade’s half day',
      section: '6',
      source: 'common practice: programs of 8 to 12 h for small flasks, 12 to 16 h for large',
      within: { absolute: 3 },
    },
    {
      'gentle-2.5x2.5': [() => programHours('gentle', 2.5, 2.5), 11],
      'shortest-2.5x2.5': [() => programHours('shortest', 2.5, 2.5), 9],
      'gentle-3.5x4': [() => programHours('gentle', 3.5, 4), 14],
      'shortest-3.5x4': [() => programHours('shortest', 3.5, 4), 11],
    },
  ),
]
