import type { PieceToArrange } from './request.ts'

const ROOM: Readonly<Record<string, string>> = {
  wall: 'the wall',
  top: 'the flask’s top',
  stem: 'the main sprue',
  base: 'the top of the base’s cone',
}

/** What the places of distances are called at the bench: a wax by its name, and its copy where there are several; a sprue by its number. */
export const placeNames =
  (pieces: readonly Pick<PieceToArrange, 'id' | 'name' | 'copies'>[]) =>
  (place: string): string => {
    const room = ROOM[place]
    if (room !== undefined) return room
    const cut = place.lastIndexOf('/')
    const [id, copy] = [place.slice(0, cut), place.slice(cut + 1)]
    const piece = pieces.find((one) => one.id === id)
    if (piece !== undefined) return piece.copies > 1 ? `${piece.name} ${copy}` : piece.name
    return id === 'sprue' ? `sprue ${copy}` : place
  }
