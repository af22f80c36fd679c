import { box, globe, type Shape, torus } from '../../fixtures/meshes/shapes.ts'
import { barBetween, revolved } from '../../src/engine/arrange/body.ts'
import type { ArrangeRequest, ThickSection } from '../../src/engine/arrange/index.ts'
import { prepareKind } from '../../src/engine/arrange/kind.ts'
import {
  judgePlasterEnd,
  shearRoundPatch,
  stressOfClampedPlate,
} from '../../src/engine/arrange/plaster-end.ts'
import { sectionsOf } from '../../src/engine/arrange/sections.ts'
import type { TriangleMesh } from '../../src/engine/piece/mesh/index.ts'
import { type Check, checkEach } from '../check.ts'

const meshOf = ({ positions, corners }: Shape): TriangleMesh => ({
  positions: Float64Array.from(positions),
  corners: Uint32Array.from(corners),
})

/** Sterling in burnt-out plaster, as row C6 of the published list has them. */
const freezing = {
  heatPerVolume: 9200 * 125e3,
  drop: 355,
  mouldConductivity: 0.5,
  mouldHeatCapacity: 1.24e6,
}

const sectionsIn = (mesh: TriangleMesh): ThickSection[] => {
  const kind = prepareKind({
    id: 'piece',
    name: 'Piece',
    copies: 1,
    mesh,
    standIn: false,
    sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the check' },
    keepClear: [],
    locked: new Map(),
  })
  const request: ArrangeRequest = {
    pieces: [kind.piece],
    flasks: [],
    base: { mouth_mm: 30, neck_mm: 10, depth_mm: 13 },
    rules: { wall_mm: 6.35, gap_mm: 3.2, topPerDiameter: 0.25, topLeast_mm: 12.7 },
    stem_mm: 6,
    button_mm: 8,
    freezing,
  }
  return sectionsOf(request, [kind])
}
const modulusOf = (mesh: TriangleMesh, place = 0): number =>
  sectionsIn(mesh)[place]?.modulus_mm.value ?? Number.NaN
const timeOf = (mesh: TriangleMesh): number => sectionsIn(mesh)[0]?.freezes_s?.value ?? Number.NaN

/** Two balls of 4 mm radius, 16 mm apart, on a rod of 1 mm radius. */
const dumbBell = (() => {
  const profile: [number, number][] = []
  for (let k = 0; k <= 96; k += 1) {
    const z = -12 + (24 * k) / 96
    const end = Math.abs(Math.abs(z) - 8)
    profile.push([Math.max(Math.sqrt(Math.max(0, 16 - end * end)), Math.abs(z) < 8 ? 1 : 0), z])
  }
  return revolved(profile)
})()

const geometry = 'geometry: volume over cooling area'
const plate =
  'Timoshenko, Theory of Plates and Shells: edge moment of a clamped circular plate p r²/8, stress 6 M/t²; from memory'
const exactly = (value: number) => ({ value, low: value, high: value })

export const checks: Check[] = [
  ...checkEach(
    {
      id: 'SPR1',
      says: 'The modulus of a plain solid is its volume over its surface',
      section: '5',
      source: geometry,
      within: { relative: 0.01 },
    },
    {
      slab: [() => modulusOf(meshOf(box(40, 30, 3))), (40 * 30 * 3) / (2 * (1200 + 120 + 90))],
      rod: [
        () => modulusOf(barBetween([0, 0, 0], [0, 0, 60], 4)),
        (Math.PI * 4 * 60) / (Math.PI * (4 * 60 + 8)),
      ],
      ball: [() => modulusOf(meshOf(globe(6, 60, 120))), 2],
      ring: [() => modulusOf(meshOf(torus(10, 1.5, 120, 60))), 0.75],
    },
  ),
  ...checkEach(
    {
      id: 'SPR2',
      says: 'Each end of a dumb-bell has about the modulus of its ball, and the neck is its rod',
      section: '5',
      source: `${geometry}; a third of the radius for a whole ball, and here a cap of the rod's width is cut off`,
      within: { relative: 0.1 },
    },
    {
      one: [() => modulusOf(dumbBell), 4 / 3],
      other: [() => modulusOf(dumbBell, 1), 4 / 3],
      neck: [() => sectionsIn(dumbBell)[1]?.neck_mm ?? Number.NaN, 2],
    },
  ),
  ...checkEach(
    {
      id: 'C6',
      says: 'A ball and a ring of round wire, both 10 mm thick, freeze in plaster when the published form says',
      section: '10',
      source:
        'Adams and Taylor: V/A = dT/(ρL) (2/√π √(kρct) + n k t/(2R)), n 2 and 1; independent computation',
      within: { relative: 0.01 },
    },
    {
      ball: [() => timeOf(meshOf(globe(5, 80, 160))), 17.1722],
      'ring of wire': [() => timeOf(meshOf(torus(40, 5, 240, 80))), 44.0431],
    },
  ),
  {
    id: 'C6.sprue',
    says: 'The sprue that just outlasts a ring of round wire is as thick as its wire',
    section: '10',
    source: 'equal shapes freeze in equal times',
    got: () => sectionsIn(meshOf(torus(40, 5, 240, 80)))[0]?.sprue_mm?.value ?? Number.NaN,
    want: 10,
    within: { relative: 0.01 },
  },
  {
    id: 'SPR3',
    says: 'A round plate held fast at its rim bends as the textbook says',
    section: '11',
    source: plate,
    got: () => stressOfClampedPlate(140e3, 38, 19),
    want: (6 * ((140e3 * 0.038 ** 2) / 8)) / 0.019 ** 2,
    within: { relative: 1e-12 },
  },
  {
    id: 'SPR4',
    says: 'A round patch is held by the plaster sheared round it',
    section: '11',
    source: 'equilibrium: pressure times π r² over 2 π r t',
    got: () => shearRoundPatch(140e3, 20, 19),
    want: (140e3 * Math.PI * 20 ** 2) / (2 * Math.PI * 20 * 19),
    within: { relative: 1e-12 },
  },
  {
    id: 'SPR5',
    says: 'A quarter inch over the tree in a 3 in flask under pump is not passed: such a flask blew out',
    section: '15',
    source: 'common practice: a caster’s account of a 3 × 4 in flask with 1/4 in over the tree',
    got: () =>
      Number(
        judgePlasterEnd({
          pressure_Pa: exactly(85e3),
          plaster_mm: 6.35,
          inside_diameter_mm: 76.2,
          patch_mm2: 2000,
        }).verdict === 'pass',
      ),
    want: 0,
    within: { absolute: 0 },
  },
  {
    id: 'SPR6',
    says: 'A quarter inch per inch of diameter over the tree bears an ordinary spin of 140 kPa',
    section: '15',
    source: 'common practice: 1/4 in per inch of flask diameter; 140.6 kPa is row P7 of the published list',
    got: () =>
      Number(
        judgePlasterEnd({
          pressure_Pa: exactly(140.6309e3),
          plaster_mm: 19.05,
          inside_diameter_mm: 76.2,
          patch_mm2: 2000,
        }).verdict === 'pass',
      ),
    want: 1,
    within: { absolute: 0 },
  },
]
