import type { Calipers, Piece, Pour } from '../../engine/documents/pour.ts'
import type { Shop } from '../../engine/documents/shop.ts'

/** Names on a list: the first letter free among those taken. */
const freeId = (taken: readonly string[], stem: string): string => {
  let count = taken.length + 1
  while (taken.includes(`${stem}-${count}`)) count += 1
  return `${stem}-${count}`
}

export const waxFor = (shop: Shop): string =>
  (shop.waxes.find((wax) => wax.role === 'carving') ?? shop.waxes[0])?.id ?? ''

export const weighedPiece = (
  pieces: readonly Piece[],
  shop: Shop,
  facts: { name: string; mass_g: number; wax?: string; calipers?: Calipers },
): Piece => ({
  id: freeId(
    pieces.map((piece) => piece.id),
    'piece',
  ),
  name: facts.name,
  quantity: 1,
  source: {
    from: 'weighed-wax',
    mass_g: facts.mass_g,
    wax: facts.wax ?? waxFor(shop),
    ...(facts.calipers !== undefined && { calipers: facts.calipers }),
  },
})

/** A pour is called after its piece until it has a name; a piece nobody named is told by its letter. */
export const namesFor = (pour: string, piece: string): { title: string; called: string } => {
  const [title, called] = [pour.trim(), piece.trim()]
  return {
    title: title !== '' ? title : called !== '' ? called : 'Pour without a name',
    called: called !== '' ? called : `Piece ${letterOf(0)}`,
  }
}

/** How many castings come out of a pour: three copies of one piece are three. */
export const countOfPieces = (pieces: readonly Piece[]): string => {
  const count = pieces.reduce((total, { quantity }) => total + quantity, 0)
  return count === 1 ? 'one piece' : `${count} pieces`
}

/** Another piece of the same measures as one that stands, to be weighed by itself. */
export const samePiece = (pieces: readonly Piece[], like: Piece, mass_g: number): Piece | undefined => {
  if (like.source.from !== 'weighed-wax') return undefined
  const stem = like.name.replace(/ \d+$/, '')
  let count = 2
  while (pieces.some(({ name }) => name === `${stem} ${count}`)) count += 1
  return {
    ...like,
    id: freeId(
      pieces.map((piece) => piece.id),
      'piece',
    ),
    name: `${stem} ${count}`,
    quantity: 1,
    source: { ...like.source, mass_g },
  }
}

export const volumePiece = (
  pieces: readonly Piece[],
  facts: { name: string; volume_cm3: number },
): Piece => ({
  id: freeId(
    pieces.map((piece) => piece.id),
    'piece',
  ),
  name: facts.name,
  quantity: 1,
  source: { from: 'volume', volume_cm3: facts.volume_cm3 },
})

export const modelPiece = (
  pieces: readonly Piece[],
  facts: { name: string; file: string; sha256: string },
): Piece => ({
  id: freeId(
    pieces.map((piece) => piece.id),
    'piece',
  ),
  name: facts.name,
  quantity: 1,
  source: { from: 'mesh', file: facts.file, sha256: facts.sha256 },
})

/** Whether there is any metal on the shelf to make a charge up from. */
export const holdsStock = (shop: Shop): boolean => shop.lots.some((lot) => lot.mass_g > 0)

/** Wax to cut from until the caster says otherwise. */
const USUAL_BLANK_MM = 3

export const patternPiece = (
  pieces: readonly Piece[],
  facts: { name: string; file: string; sha256: string },
): Piece => ({
  id: freeId(
    pieces.map((piece) => piece.id),
    'piece',
  ),
  name: facts.name,
  quantity: 1,
  source: {
    from: 'pattern',
    file: facts.file,
    sha256: facts.sha256,
    heights: {
      kind: 'heights',
      version: 1,
      blank_mm: USUAL_BLANK_MM,
      regions: {},
      back: { shape: 'flat' },
      hardware: [],
      corrections: [],
      sections: [],
      over: 'shrink',
      hand: { height_mm: 0.2, outline_mm: 0.2 },
    },
  },
})

/** A pour of one weighed wax, everything else as usual in this shop. */
export const newPour = (
  shop: Shop,
  facts: { name: string; castAt: string; alloy?: string; piece: Piece },
): Pour => ({
  kind: 'pour',
  version: 1,
  name: facts.name,
  alloy: facts.alloy ?? shop.alloys[0]?.id ?? '',
  pieces: [facts.piece],
  tree: {},
  investment: { id: shop.investments[0]?.id ?? '', work: 'heavy', water_C: 22 },
  kiln: shop.kilns[0]?.id ?? '',
  machine: shop.machines[0]?.id ?? '',
  crucible: shop.crucibles[0]?.id ?? '',
  torch: shop.torches[0]?.id ?? '',
  castAt: facts.castAt,
  charge: { fromStock: holdsStock(shop) },
  spin: {},
  price: { labour_h: {}, clientsMetal: false },
})

/** A to Z, then AA: the letters that pieces carry in lists and drawings. */
export const letterOf = (index: number): string => {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : `${letterOf(Math.floor(index / 26) - 1)}${letter}`
}
