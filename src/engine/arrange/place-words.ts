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

/** Numbers in order, a run of three or more by its ends. */
export const runsOf = (numbers: readonly number[]): string[] => {
  const runs: [number, number][] = []
  for (const number of numbers) {
    const last = runs.at(-1)
    if (last !== undefined && last[1] === number - 1) last[1] = number
    else runs.push([number, number])
  }
  return runs.flatMap(([from, to]) =>
    to - from < 2 ? [...new Set([from, to])].map(String) : [`${from} to ${to}`],
  )
}

/** The same in a sentence: 1 to 4, 7 and 9. */
export const numbersWords = (numbers: readonly number[]): string => {
  const runs = runsOf(numbers)
  return runs.length < 2 ? runs.join() : `${runs.slice(0, -1).join(', ')} and ${runs.at(-1)}`
}
