import type { Plan } from '../engine/plan.ts'
import { type UnitChoice, writeWords } from '../engine/quantity/index.ts'
import {
  begin,
  sentence,
  write,
  writeLength,
  writeMillimetres,
  writeRange,
  writeToWeigh,
  writeWithRange,
} from './say.ts'
import { type Block, type Row, row, sign } from './sheet.ts'

/** Past this many kinds of piece their waxes share a row. */
const WAXES_ON_ROWS = 4

/** Waxes whose mass the plan has only from a model or a volume; what is weighed need not be weighed again. */
const BY_ITS = { mesh: 'model', pattern: 'drawing', volume: 'volume' } as const

const unweighedWaxes = (plan: Plan, units: UnitChoice): Row[] => {
  const waxes = plan.pieces.pieces.flatMap(({ letter, name, quantity, waxMass, from }) =>
    waxMass === undefined || from === 'weighed-wax' ? [] : [{ letter, name, quantity, waxMass, from }],
  )
  if (waxes.length > WAXES_ON_ROWS)
    return [
      row(
        `Waxes on the scale: ${waxes
          .map(({ letter, waxMass }) => `${letter}\u00a0${write(waxMass, units)}`)
          .join(', ')}`,
        { got: 'g' },
      ),
    ]
  return waxes.map(({ letter, name, quantity, waxMass, from }) =>
    row(`${letter} ${name}, wax on the scale${quantity > 1 ? `, each of ${quantity}` : ''}`, {
      plan: write(waxMass, units),
      got: 'g',
      aside: `By its ${BY_ITS[from]}: ${writeRange(waxMass, units)}`,
    }),
  )
}

const carvedSizes = (plan: Plan, units: UnitChoice): Row[] =>
  plan.finish.pieces.flatMap(({ name, seat, lengths }) => [
    ...(seat
      ? [
          row(`${name}: seat in wax`, {
            plan: `${writeMillimetres(seat.length.value, seat.width.value)}\u00a0mm`,
            got: 'mm',
          }),
        ]
      : []),
    ...lengths.map((length) =>
      row(`${name}: ${length.name}, in wax`, { plan: write(length.wax, units), got: units.length }),
    ),
  ])

const treeRows = (plan: Plan, units: UnitChoice): Row[] => {
  const { weighed } = plan.pour.tree
  const { gates, stem } = plan.tree
  const sprues = gates.map(
    ({ letter, count, diameter }) =>
      `${letter} ${count.value > 1 ? `${count.value} × ` : ''}${writeLength(diameter.value, units)}`,
  )
  return [
    ...(weighed
      ? [
          row('Base alone, clean', { plan: `${weighed.base_g}\u00a0g`, got: 'g' }),
          row('Base with the tree', { plan: `${weighed.baseWithTree_g}\u00a0g`, got: 'g' }),
        ]
      : []),
    row(
      sprues.length === 0
        ? 'Sprues open until the pieces are measured; smooth, washed, dry'
        : `Sprues ${sprues.join(', ')}${stem ? `, main ${writeLength(stem.diameter.value, units)}` : ''}; smooth, washed, dry`,
    ),
  ]
}

const metalRow = (plan: Plan, units: UnitChoice): Row => {
  const { needed, charge, shop, pour } = plan
  const precious = shop.alloys.some(({ id, metal }) => id === pour.alloy && metal !== 'copper')
  if (needed.toWeigh === undefined) return row('Metal: the charge is open', { got: units.mass })
  const step = shop.scales.metal.resolution_g
  const lots = charge.lines.map(({ name, mass }) => {
    const [number = ''] = writeToWeigh(mass, step, units).split('\u00a0')
    return `${number}\u00a0${name.toLowerCase()}`
  })
  const facts = [
    needed.needed && `needed ${writeRange(needed.needed, units)}`,
    charge.fineness && precious && `fineness ${writeWithRange(charge.fineness, units)}`,
    charge.byRule ? 'make-up by rule so far' : undefined,
  ].filter((fact) => fact !== undefined)
  return row(lots.length === 0 ? 'Metal' : `Metal: ${lots.join(', ')}`, {
    plan: writeToWeigh(needed.toWeigh.value, step, units),
    got: units.mass,
    under: facts.length === 0 ? undefined : begin(facts.join('; ')),
  })
}

/** What is settled, weighed and looked over while the wax can still be mended. */
export const beforeTheWax = (plan: Plan, units: UnitChoice): Block[] => [
  ...unweighedWaxes(plan, units),
  ...carvedSizes(plan, units),
  ...treeRows(plan, units),
  metalRow(plan, units),
  ...plan.go.checks.map(({ reason, remedy }) =>
    sign(
      'check',
      [reason, remedy]
        .map((words) => begin(sentence(writeWords(words, units))))
        .join(' ')
        .trim(),
    ),
  ),
  ...plan.go.accepted.map(({ title, accepted }) =>
    sign('note', `${writeWords(title, units)}: accepted, “${accepted}”.`),
  ),
  sign('check', 'Last look. The wax can’t come back after the next line.'),
]
