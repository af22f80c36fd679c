import type { Piece } from '../../engine/documents/pour.ts'

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join() : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`

/** How the pieces in a drawing are drawn, for its caption: as their models, or as plain blocks and why. */
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
      : `; the model of ${listed(heavy)} has too many triangles to be drawn, so a block stands for it`
  if (models.length === 0) return `each piece as a plain block of its outside measures${because}`
  if (models.length === pieces.length) return 'each piece as its model'
  return `${listed(models.map((piece) => piece.name))} as modelled, the rest as plain blocks of their outside measures${because}`
}
