/** What one slice of a bar has to say: where it lies on the bar, and how wide its words are. */
export interface Slice {
  readonly from: number
  readonly wide: number
  readonly words: number
}

/** Under its slice, or at the end of a leader in a row further down. */
export type LabelPlace =
  | { readonly kind: 'under'; readonly x: number }
  | { readonly kind: 'leader'; readonly x: number; readonly row: number; readonly anchor: 'start' | 'end' }

/**
 * A place for every slice's words. Slices too thin for theirs get a leader: words to its right hang lower the
 * further left they begin, words to its left the further right, so that no leader runs through words.
 */
export const placeLabels = (slices: readonly Slice[], most: number): readonly LabelPlace[] => {
  const middle = ({ from, wide }: Slice): number => from + wide / 2
  const thin = slices.filter(({ wide, words }) => wide < words)
  const toRight = thin.filter((slice) => middle(slice) + slice.words <= most)
  const toLeft = thin.filter((slice) => !toRight.includes(slice))
  return slices.map((slice) => {
    const x = middle(slice)
    const right = toRight.indexOf(slice)
    if (right >= 0) return { kind: 'leader', x, row: toRight.length - 1 - right, anchor: 'start' }
    const left = toLeft.indexOf(slice)
    if (left >= 0) return { kind: 'leader', x, row: toRight.length + left, anchor: 'end' }
    return { kind: 'under', x }
  })
}

/**
 * Parts of a whole, rounded so that they add up to the rounded whole: each down, and what is then missing to
 * those that lost most.
 */
export const roundedParts = (parts: readonly number[], decimals: number): readonly number[] => {
  const step = 10 ** decimals
  const whole = Math.round(parts.reduce((sum, part) => sum + part, 0) * step)
  const down = parts.map((part) => Math.floor(part * step + 1e-9))
  const missing = whole - down.reduce((sum, part) => sum + part, 0)
  const lost = parts
    .map((part, index) => ({ index, by: part * step - (down[index] ?? 0) }))
    .toSorted((a, b) => b.by - a.by)
    .slice(0, Math.max(0, missing))
    .map(({ index }) => index)
  return down.map((part, index) => (part + (lost.includes(index) ? 1 : 0)) / step)
}
