import {
  type ArrangeProblem,
  type BenchSprue,
  isOnlyTold,
  type SheetUnit,
  tiltWords,
} from '../engine/arrange/index.ts'
import { nameInFlask } from '../engine/arrangement-verdict.ts'
import type { Pour } from '../engine/documents/index.ts'
import { waxWireOf } from '../engine/materials/index.ts'
import { MM_PER_INCH } from '../engine/quantity/index.ts'
import { sayLengths } from '../engine/quantity/say-lengths.ts'
import type { ArrangeJson } from './arrange.ts'

/** Distances that are written out, the tightest. */
const MOST_LISTED = 10

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** Writes a length with its unit: for the bench to a tenth of a millimetre or a hundredth of an inch, or one digit finer. */
const lengthIn =
  (unit: SheetUnit, finer = 0) =>
  (length_mm: number): string =>
    unit === 'mm'
      ? `${length_mm.toFixed(1 + finer)} mm`
      : `${(length_mm / MM_PER_INCH).toFixed(2 + finer)} in`

/** Every reason is a row of facts with semicolons between. */
const factsOf = (reason: string): string[] =>
  reason
    .split('; ')
    .map((fact) => fact.trim())
    .filter((fact) => fact !== '')

/** No line of a fact is wider than this where a space lets it break. */
const WIDTH = 92

const wrapped = (text: string, indent: string): string[] => {
  const lines = ['']
  for (const word of text.split(' ')) {
    const line = lines[lines.length - 1] ?? ''
    if (line !== '' && indent.length + line.length + 1 + word.length > WIDTH) lines.push(word)
    else lines[lines.length - 1] = line === '' ? word : `${line} ${word}`
  }
  return lines.map((line, index) => `${indent}${index === 0 ? '' : '  '}${line}`)
}

/** Parts of a pour that a problem may lie in whether or not its file has an entry there. */
const PARTS_OF_FILE: readonly (readonly [string, string])[] = [
  ['/pour/tree/sprues', 'the sprues'],
  ['/pour/tree/stem', 'the main sprue'],
  ['/pour/tree/button', 'the button'],
  ['/pour/tree/locked', 'the places kept'],
  ['/pour/flask', 'the flask'],
  ['/shop/flasks', 'the rack of flasks'],
]

/** A problem's place as the bench calls it: pieces and sprues by name and number, another entry of the file by its path. */
const placeOf = (where: string, pieces: Pour['pieces']): string => {
  const index = /^(?:\/pour)?\/pieces\/(\d+)/.exec(where)?.[1]
  if (index !== undefined) return pieces[Number(index)]?.name ?? where
  const part = PARTS_OF_FILE.find(([path]) => where.startsWith(path))?.[1]
  if (part !== undefined) return part
  return where
    .split(', ')
    .map((place) => pieces.find(({ id }) => id === place)?.name ?? nameInFlask(place, pieces))
    .join(', ')
}

/** The answer as a silversmith reads it at the bench: one fact to a line. */
export const arrangementInWords = (
  answer: ArrangeJson,
  bench: readonly BenchSprue[],
  pieces: Pour['pieces'],
  unit: SheetUnit,
): string => {
  const length = lengthIn(unit)
  const finely = lengthIn(unit, 1)
  const names = pieces.map(({ name }) => name)
  const say = (text: string): string => sayLengths(text, unit, names)
  const lines: string[] = []
  if (answer.flask !== null)
    lines.push(
      `Flask ${length(answer.flask.inside_diameter_mm)} across, ${length(answer.flask.inside_height_mm)} high inside`,
    )
  if (answer.stem !== null && answer.button !== null) {
    const { from_mm, to_mm, diameter_mm } = answer.stem
    const wire = waxWireOf(diameter_mm / 1000)
    lines.push(
      `Main sprue ${length(diameter_mm)} across${wire === undefined ? '' : ` (wax wire ${wire.name})`}, ${length(to_mm[2] - from_mm[2] + diameter_mm / 2)} from the top of the base’s cone to its round end`,
      `Button ${length(answer.button.depth_mm)} deep in the base’s cone, poured with the metal`,
    )
  }
  answer.sprues.forEach((sprue, index) => {
    const set = bench[index]
    lines.push('', `Sprue ${index + 1}, to ${nameInFlask(`${sprue.piece}/${sprue.copy}`, pieces)}`)
    if (set !== undefined) {
      const lean = tiltWords(set.tilt)
      // one that stands on the axis points nowhere
      if (!lean.startsWith('straight'))
        lines.push(
          `  at ${set.angle.toFixed(0)}° round the base from its mark, against the clock seen from above`,
        )
      lines.push(
        `  meets the main sprue’s side ${length(set.meets)} up from the top of the base’s cone`,
        `  and its middle line ${length(set.height)} up`,
        `  ${lean}`,
        `  joint with the wax ${length(set.jointHigh)} above the flat of the base’s rim`,
        `  and ${length(set.jointOut)} out from the middle of the main sprue`,
      )
    }
    lines.push(
      `  ${length(sprue.diameter_mm)} across, ${length(sprue.length_mm)} long from the wax to the surface of the main sprue`,
      ...(set === undefined
        ? []
        : [`  cut to ${length(set.cut)}: its end is let into the wax, and slants where the face does`]),
      '  Why so:',
    )
    for (const fact of factsOf(sprue.reason)) lines.push(...wrapped(say(fact), '    '))
  })
  if (answer.sprues.length > 0)
    lines.push(
      '',
      'Caution: a hot wax tool burns, and wax that smokes is too hot to breathe over; air the room.',
    )
  if (answer.sections.length > 0) lines.push('', 'Thick places, by the solid')
  for (const { piece, thickness_mm, modulus_mm, sprue_mm, neck_mm } of answer.sections) {
    lines.push(
      `  ${pieces.find(({ id }) => id === piece)?.name ?? piece}: ${length(thickness_mm)} thick`,
      `    modulus ${finely(modulus_mm.value)}, ${finely(modulus_mm.low)} to ${finely(modulus_mm.high)}`,
    )
    if (sprue_mm !== undefined)
      lines.push(
        `    outlasted by a sprue ${length(sprue_mm.value)} across, ${length(sprue_mm.low)} to ${length(sprue_mm.high)}`,
      )
    if (neck_mm !== null) lines.push(`    behind a neck of ${length(neck_mm)}`)
  }
  const held = [
    ...answer.clearances,
    ...answer.stemClearances.filter((one) => !isOnlyTold({ ...one, between: [...one.between] })),
  ].sort((a, b) => a.distance_mm - a.needed_mm - (b.distance_mm - b.needed_mm))
  if (held.length > 0) lines.push('', 'Tightest distances')
  for (const { between, distance_mm, needed_mm } of held.slice(0, MOST_LISTED))
    lines.push(
      `  ${between.map((place) => nameInFlask(place, pieces)).join(' to ')}${between.every((place) => place.startsWith('sprue/')) ? ', away from the main sprue' : ''}: ${finely(distance_mm)}, and ${finely(needed_mm)} is needed`,
    )
  if (answer.metalBody !== null)
    lines.push(
      '',
      `Metal ${(answer.metalBody.volume_mm3 / 1000).toFixed(2)} cm³ in one solid, ${answer.metalBody.closed ? 'closed' : 'not closed'}`,
    )
  for (const problem of answer.problems) lines.push('', ...problemLines(problem, pieces, say))
  return lines.join('\n').trimStart()
}

const problemLines = (
  { level, what, where, remedy }: ArrangeProblem,
  pieces: Pour['pieces'],
  say: (text: string) => string,
): string[] => [
  ...wrapped(`${capital(level)}: ${say(what)}`, ''),
  `  where: ${placeOf(where, pieces)}`,
  ...wrapped(`what to do: ${say(remedy)}`, '  '),
]
