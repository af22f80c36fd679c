import type { Piece } from '../../engine/documents/pour.ts'

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join() : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`

/** How the pieces in a drawing are drawn, for its caption: as their models or drawings, or as plain blocks and why. */
export const drawnAs = (
  pieces: readonly Piece[],
  forms: { has(id: string): boolean },
  tooLarge: { has(id: string): boolean },
): string => {
  const models = pieces.filter((piece) => forms.has(piece.id))
  const heavy = pieces.filter((piece) => tooLarge.has(piece.id)).map((piece) => piece.name)
  const because =
    heavy.length === 0
      ? ''
      : `; the shape of ${listed(heavy)} has too many triangles to be drawn, so a block stands for it`
  if (models.length === 0) return `each piece as a plain block of its outside measures${because}`
  const drawn = models.filter(({ source }) => source.from === 'pattern').length
  if (models.length === pieces.length)
    return drawn === 0 ? 'each piece as its model' : 'each piece as its drawing or model has it'
  const how = drawn === 0 ? 'as modelled' : drawn === models.length ? 'as drawn' : 'as drawn or modelled'
  return `${listed(models.map((piece) => piece.name))} ${how}, the rest as plain blocks of their outside measures${because}`
}
