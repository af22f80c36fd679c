import { waxWireOf } from '../engine/materials/index.ts'
import type { Plan } from '../engine/plan.ts'
import {
  lengthOf,
  type Part,
  type UnitChoice,
  writeFigure,
  writeNumber,
  writeWords,
} from '../engine/quantity/index.ts'
import {
  begin,
  besideInches,
  sentence,
  write,
  writeRange,
  writeSides,
  writeToWeigh,
  writeWithRange,
} from './say.ts'
import { type Block, type Row, row, sign } from './sheet.ts'

/** The price is no work at the bench, and its checks stay off the sheet; a stop is never left off. */
const atTheBench = ({ part }: { readonly part: Part }): boolean => part !== 'price'

/** Past this many kinds of piece their waxes share a row. */
const WAXES_ON_ROWS = 4

const BY_ITS = { mesh: 'model', pattern: 'drawing', volume: 'volume' } as const

/** Every wax: those known only from a model, a drawing or a volume go on the scale, those already weighed stand as they are. */
const waxRows = (plan: Plan, units: UnitChoice): Row[] => {
  const waxes = plan.pieces.pieces.flatMap(({ letter, name, quantity, waxMass, from }) =>
    waxMass === undefined ? [] : [{ letter, name, quantity, waxMass, from }],
  )
  if (waxes.length > WAXES_ON_ROWS)
    return [
      row(
        `Waxes on the scale: ${waxes
          .map(
            ({ letter, quantity, waxMass }) =>
              `${letter}\u00a0${quantity > 1 ? `${quantity}\u00a0×\u00a0` : ''}${write(waxMass, units)}`,
          )
          .join(', ')}`,
        { got: 'g' },
      ),
    ]
  return waxes.map(({ letter, name, quantity, waxMass, from }) => {
    // a drawn piece is weighed too, once it is carved
    const isWeighed = from === 'weighed-wax' || waxMass.kind === 'weighed'
    return row(
      `${letter} ${name}, wax ${isWeighed ? 'as weighed' : 'on the scale'}${quantity > 1 ? `, each of ${quantity}` : ''}`,
      {
        plan: write(waxMass, units),
        got: 'g',
        under: isWeighed ? undefined : `By its ${BY_ITS[from]}: ${writeRange(waxMass, units)}`,
      },
    )
  })
}

const carvedSizes = (plan: Plan, units: UnitChoice): Row[] =>
  plan.finish.pieces.flatMap(({ name, seat, lengths }) => [
    ...(seat
      ? [
          row(`${name}: seat in wax${besideInches(units, seat.length.value, seat.width.value)}`, {
            plan: writeSides(units, seat.length.value, seat.width.value),
            got: units.length,
          }),
        ]
      : []),
    ...lengths.map((length) =>
      row(`${name}: ${length.name}, in wax`, { plan: write(length.wax, units), got: units.length }),
    ),
  ])

/** 7.35 (1 ga): across, and the wax wire that it is; the unit stands before the list. */
const writeSprue = (diameter: number, units: UnitChoice): string => {
  const wire = waxWireOf(diameter)
  const across = writeNumber({ ...lengthOf(diameter), decimals: units.length === 'mm' ? 2 : 3 }, units)
  const shown = units.length === 'mm' ? Number(across) : across
  return wire === undefined ? `${shown}` : `${shown}\u00a0(${wire.name.replace(' ', '\u00a0')})`
}

/** The tree is built by the side that draws it; its height is what a ruler checks last. */
const placesRow = ({ arranged, shop, pour }: Plan, units: UnitChoice): Row[] => {
  const base = shop.bases.find(({ id }) => id === pour.tree.base) ?? shop.bases[0]
  if (arranged === undefined || base === undefined) return []
  const { highest_mm } = arranged.measured
  return [
    row('Waxes set by the side “Where each wax goes”; the highest above the base', {
      plan: writeFigure({ ...lengthOf(highest_mm / 1000), decimals: units.length === 'mm' ? 1 : 2 }, units),
      got: units.length,
    }),
  ]
}

const treeRows = (plan: Plan, units: UnitChoice): Block[] => {
  const { weighed } = plan.pour.tree
  const { gates, stem } = plan.tree
  const each = (piece: string, count: number): string => {
    const copies = plan.pour.pieces.find(({ id }) => id === piece)?.quantity ?? 1
    const placed = plan.arranged?.measured.sprues.filter((one) => one.piece.startsWith(`${piece}/`)).length
    // copies may differ in how many they have; the side that draws them shows each
    const many = placed === undefined ? count : Math.ceil(placed / copies)
    return many > 1 ? `${many} × ` : ''
  }
  const sprues = gates.map(
    ({ piece, letter, count, diameter }) =>
      `${letter} ${each(piece, count.value)}${writeSprue(diameter.value, units)}`,
  )
  return [
    ...(weighed
      ? [
          row('Base alone, clean', { plan: `${weighed.base_g}\u00a0g`, got: 'g' }),
          row('Base with the tree', { plan: `${weighed.baseWithTree_g}\u00a0g`, got: 'g' }),
        ]
      : []),
    ...placesRow(plan, units),
    row(
      sprues.length === 0
        ? 'Sprues open until the pieces are measured; smooth, washed, dry'
        : `Sprues, ${units.length} (wire): ${sprues.join(', ')}${stem ? `, main ${writeSprue(stem.diameter.value, units)}` : ''}; smooth, washed`,
    ),
    // a tree that was weighed is built
    ...(weighed
      ? []
      : [sign('caution', 'A hot wax tool burns; wax that smokes is too hot to breathe over.')]),
  ]
}

const metalRow = (plan: Plan, units: UnitChoice): Row => {
  const { needed, charge, shop, pour } = plan
  const precious = shop.alloys.some(({ id, metal }) => id === pour.alloy && metal !== 'copper')
  if (needed.toWeigh === undefined) return row('Metal: the charge is open', { got: units.mass })
  const step = shop.scales.metal.resolution_g
  const bare = (mass: number): string => writeToWeigh(mass, step, units).split('\u00a0')[0] ?? ''
  const lots = charge.lines.map(({ name, mass, pieces = [] }) => {
    const whole = pieces.length > 1 ? ` (${pieces.map(bare).join(' + ')})` : ''
    return `${bare(mass)}\u00a0${name.toLowerCase()}${whole}`
  })
  const facts = [
    needed.needed && `needed ${writeRange(needed.needed, units)}`,
    charge.fineness && precious && `fineness ${writeWithRange(charge.fineness, units)}`,
    plan.spruesBy === 'boxes' ? 'sprues by outside boxes' : undefined,
    charge.byRule ? 'make-up by rule so far' : undefined,
  ].filter((fact) => fact !== undefined)
  return row(lots.length === 0 ? 'Metal' : `Metal: ${lots.join(', ')}`, {
    plan: writeToWeigh(needed.toWeigh.value, step, units),
    got: units.mass,
    under: facts.length === 0 ? undefined : begin(facts.join('; ')),
  })
}

/** Cold, and while an arm that can't be balanced still costs nothing: what lies in the cradle, and where the weight sits. */
const balanceRow = ({ spin }: Plan, units: UnitChoice): Row =>
  spin.balance
    ? row(
        `Balance cold: crucible empty, ${write({ ...spin.balance.standIn, plainMass: true }, units)} in the cradle, counterweight at ${write(spin.balance.counterweightAt, units)}`,
      )
    : row('Balance cold: open until the flask has a weight', { got: units.length })

/** A cure as paper can give it: entering and accepting are done on the page, before the sheet is printed. */
export const onPaper = (remedy: string): string => {
  const left = remedy.replace(/,? (?:and|or) (?:enter|accept)\b[^.;]*/g, '')
  return /^(?:enter|accept)\b/i.test(left) ? 'settle it in the plan and print again' : left
}

/** What is settled, weighed and looked over while the wax can still be mended. */
export const beforeTheWax = (plan: Plan, units: UnitChoice): Block[] => [
  ...waxRows(plan, units),
  ...carvedSizes(plan, units),
  ...treeRows(plan, units),
  metalRow(plan, units),
  balanceRow(plan, units),
  ...plan.go.checks.filter(atTheBench).map(({ reason, remedy }) =>
    sign(
      'check',
      [writeWords(reason, units), onPaper(writeWords(remedy, units))]
        .map((words) => begin(sentence(words)))
        .join(' ')
        .trim(),
    ),
  ),
  ...plan.go.accepted
    .filter(atTheBench)
    .map(({ title, accepted }) => sign('note', `${writeWords(title, units)}: accepted, “${accepted}”.`)),
  sign('check', 'Last look. The wax can’t come back after the next line.'),
]
