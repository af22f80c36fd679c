import { judgePlasterEnd } from './arrange/index.ts'
import type { ArrangementFacts } from './arrangement-verdict.ts'
import type { Pour, Shop } from './documents/index.ts'
import type { MeasuredTree } from './measure-arrangement.ts'
import {
  lengthOf,
  type Quantity,
  reckon,
  root,
  say,
  type Unit,
  type Verdict,
  type Words,
} from './quantity/index.ts'
import type { PlacedMetal } from './spin/index.ts'
import { builtByHand, type Layout, type LayoutSizes, lengthByHand, roomAsPlaced } from './tree/index.ts'

/** What a plan says by rule where it reckons with an arrangement: held beside it, and used for nothing. */
export interface ByRule {
  readonly flask?: Shop['flasks'][number]
  readonly sprues?: Quantity
  /** from the flask's mouth to the farthest metal */
  readonly depth?: Quantity
}

/** An arrangement that a plan reckons with, in the plan's own quantities. */
export interface ArrangedTree {
  readonly measured: MeasuredTree
  /** places from before a change, while those of the changed tree are sought */
  readonly meanwhile: boolean
  readonly tightest: ArrangementFacts['tightest']
  readonly flask: Shop['flasks'][number]
  readonly layout: Layout
  readonly sizes: LayoutSizes
  /** from the flask's mouth to the middle of the metal */
  readonly centroid: Quantity
  readonly placed: Pick<PlacedMetal, 'farthest' | 'byHand' | 'body' | 'offset'>
}

const MM = 1e-3
const SOURCE = 'the arrangement, measured on its own solids'

/** The waxes as the boxes that hold them where they stand, for whatever draws a layout. */
const layoutOf = ({ boxes, stem, sprues, reach_mm, highest_mm }: MeasuredTree, cone_mm: number): Layout => ({
  upright: 'longest',
  tiers: 1,
  reach: reach_mm * MM,
  rise: (highest_mm - cone_mm) * MM,
  stemLength: (stem.top_mm - cone_mm) * MM,
  gateLength: (sprues.reduce((sum, { length }) => sum + length, 0) / Math.max(1, sprues.length)) * MM,
  placements: boxes.map(({ piece, copy, min_mm: low, max_mm: high }) => ({
    piece,
    copy,
    footprint: {
      x: ((low[0] + high[0]) / 2) * MM,
      y: ((low[1] + high[1]) / 2) * MM,
      halfDepth: ((high[0] - low[0]) / 2) * MM,
      halfWidth: ((high[1] - low[1]) / 2) * MM,
      angle: 0,
    },
    bottom: (low[2] - cone_mm) * MM,
    height: (high[2] - low[2]) * MM,
  })),
})

const measure = (id: string, title: string, unit: Unit, value: number): Quantity =>
  root({ id, title, unit, value, kind: 'usual', source: SOURCE })

/**
 * The arrangement as a plan reckons with it; undefined where it fits nothing, was not measured, or stands in a flask
 * that this pour does not take.
 */
export const readArranged = (
  shop: Shop,
  pour: Pour,
  baseIndex: number,
  facts: ArrangementFacts | undefined,
): ArrangedTree | undefined => {
  const flask = shop.flasks.find(({ id }) => id === facts?.flask?.id)
  const measured = facts?.measured
  const cone_mm = shop.bases[baseIndex]?.depth_mm
  if (facts?.fits !== true || flask === undefined || measured === undefined || cone_mm === undefined)
    return undefined
  if (pour.flask !== undefined && pour.flask !== flask.id) return undefined
  const layout = layoutOf(measured, cone_mm)
  const byHand = builtByHand()
  const handBuilt = (id: string, title: string, laid: number): Quantity =>
    lengthByHand({ laid: measure(`${id}Placed`, `${title}, as placed`, 'm', laid), byHand }, { id, title })
  const joined = measure(
    'arranged.joined',
    'Sprues and main sprue with their joints, as placed',
    'm3',
    measured.sprues_mm3 * 1e-9,
  )
  const section = measure(
    'arranged.section',
    'Sections of all sprues and the main sprue, added up',
    'm2',
    measured.section_mm2 * 1e-6,
  )
  const body = measure(
    'arranged.body',
    'Pieces, sprues and button as one solid',
    'm3',
    measured.body_mm3 * 1e-9,
  )
  return {
    measured,
    meanwhile: facts.meanwhile === true,
    tightest: facts.tightest,
    flask,
    layout,
    sizes: {
      reach: handBuilt('arranged.reach', 'Farthest reach of the tree', layout.reach),
      rise: handBuilt('arranged.rise', 'Rise of the tree above the base’s cone', layout.rise),
      gateLength: handBuilt('arranged.gateLength', 'Sprues, long, in the middle', layout.gateLength),
      stemLength: handBuilt('arranged.stemLength', 'Main sprue, long', layout.stemLength),
      room: roomAsPlaced({ joined, section, byHand }, { id: 'arranged.sprues' }),
    },
    centroid: handBuilt(
      'arranged.centroid',
      'From the mouth to the middle of the metal',
      measured.centre.depth_mm * MM,
    ),
    placed: {
      farthest: measured.farthest.map(({ depth_mm, out_mm }) => ({ depth: depth_mm * MM, out: out_mm * MM })),
      byHand,
      body,
      offset: reckon({
        id: 'arranged.offAxis',
        title: 'Middle of the metal, off the flask’s axis',
        unit: 'm',
        says: 'how far the middle of the joined solid lies off the axis, and how far a hand is off in setting it',
        source: SOURCE,
        inputs: {
          laid: measure(
            'arranged.offAxisPlaced',
            'Middle of the metal off the axis, as placed',
            'm',
            measured.centre.off_mm * MM,
          ),
          byHand,
        },
        body: ({ laid, byHand: off }) => laid + off,
      }),
    },
  }
}

/**
 * Whether the plaster over the waxes bears the metal as they stand: pressed as hard as at the farthest metal, on the
 * boxes that hold the waxes, so that the judgement errs to the safe side.
 */
export const judgeEnd = (
  { measured }: ArrangedTree,
  topGap: Quantity | undefined,
  diameter: Quantity,
  pressure: Quantity | undefined,
): readonly Verdict[] => {
  if (topGap === undefined || pressure === undefined) return []
  const patch_mm2 = measured.boxes.reduce(
    (sum, { min_mm: low, max_mm: high }) => sum + (high[0] - low[0]) * (high[1] - low[1]),
    0,
  )
  const { bears, verdict, problem } = judgePlasterEnd({
    pressure_Pa: { value: pressure.value, low: pressure.low, high: pressure.high },
    plaster_mm: topGap.value / MM,
    inside_diameter_mm: diameter.value / MM,
    patch_mm2,
  })
  const times = `${bears.value.toFixed(1)} times what presses on it, ${bears.low.toFixed(1)} to ${bears.high.toFixed(1)}`
  return [
    {
      id: 'flask.end',
      part: 'flask',
      verdict,
      title: say`The plaster over the waxes against the metal`,
      reason: say`With ${topGap} over the tree and ${pressure} of metal, the end bears ${times}; hot strength is known no better.`,
      remedy: verdict === 'pass' ? [] : say`${problem?.remedy ?? 'take a taller flask, or wind fewer turns'}`,
      where: '/pour/flask',
    },
  ]
}

const apart = (one: Quantity, other: Quantity): boolean => one.low > other.high || other.low > one.high

/** Where the rule's figures lie outside those of the arrangement, in one sentence; nothing where they agree. */
export const differFromRule = (
  rule: ByRule,
  arranged: { readonly flask: Shop['flasks'][number]; readonly sprues?: Quantity; readonly depth?: Quantity },
): Words => {
  const told: Words[] = []
  if (rule.flask !== undefined && rule.flask.id !== arranged.flask.id)
    told.push(
      say`the flask of ${lengthOf(rule.flask.insideDiameter_mm * MM)} × ${lengthOf(rule.flask.insideHeight_mm * MM)}`,
    )
  if (rule.sprues !== undefined && arranged.sprues !== undefined && apart(rule.sprues, arranged.sprues))
    told.push(say`${rule.sprues} of sprues instead of ${arranged.sprues}`)
  if (rule.depth !== undefined && arranged.depth !== undefined && apart(rule.depth, arranged.depth))
    told.push(say`metal ${rule.depth} deep instead of ${arranged.depth}`)
  return told.length === 0
    ? []
    : say` By outside boxes it would be ${told.flatMap((one, at): Words => (at === 0 ? one : say`, ${one}`))}.`
}
