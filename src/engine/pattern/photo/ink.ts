/** Where ink ends and paper begins, as shares of the paper's brightness. */
export interface InkLevel {
  readonly below: number
  readonly ink: number
  readonly paper: number
  /** spread of the bare paper about its level */
  readonly grain: number
}

/** Ink must stand this many of the paper's own spreads, and this share, below the paper to be told from it. */
const LEAST_SPREADS = 5
const LEAST_CONTRAST = 0.08

/**
 * The level half way between ink and paper, where the edge of a blurred stroke lies. Ink and paper are first
 * told apart by the greatest variance between two classes.
 * Source: Otsu 1979, a threshold selection method from grey-level histograms.
 * @returns the level, or how faint what was found is
 */
export function findInkLevel(
  share: Float32Array,
  setBelow: number | undefined,
): InkLevel | { faint: number } {
  const counts = new Float64Array(256)
  for (let k = 0; k < share.length; k += 1) {
    const bin = Math.min(255, Math.max(0, Math.round((share[k] as number) * 200)))
    counts[bin] = (counts[bin] as number) + 1
  }
  const split = setBelow === undefined ? otsu(counts) : Math.round(setBelow * 200)
  const paper = quantile(counts, split + 1, 255, 0.5)
  const grain = Math.max(0.5, paper - quantile(counts, split + 1, 255, 0.16))
  const ink = quantile(counts, 0, split, 0.3)
  const contrast = paper - ink
  if (!(contrast >= LEAST_CONTRAST * 200 && contrast >= LEAST_SPREADS * grain))
    return { faint: Number.isFinite(contrast) ? Math.max(0, contrast / 200) : 0 }
  const below = setBelow === undefined ? (ink + paper) / 400 : setBelow
  return { below, ink: ink / 200, paper: paper / 200, grain: grain / 200 }
}

function otsu(counts: Float64Array): number {
  let all = 0
  let sum = 0
  counts.forEach((count, value) => {
    all += count
    sum += count * value
  })
  let best = 0
  let at = 0
  let under = 0
  let sumUnder = 0
  for (let value = 0; value < 255; value += 1) {
    under += counts[value] as number
    sumUnder += value * (counts[value] as number)
    if (under === 0 || under === all) continue
    const apart = sumUnder / under - (sum - sumUnder) / (all - under)
    const between = under * (all - under) * apart * apart
    if (between > best) {
      best = between
      at = value
    }
  }
  return at
}

/** The value below which a share of the counts from `first` to `last` lies; NaN where there are none. */
function quantile(counts: Float64Array, first: number, last: number, share: number): number {
  let all = 0
  for (let value = first; value <= last; value += 1) all += counts[value] as number
  if (all === 0) return Number.NaN
  let seen = 0
  for (let value = first; value <= last; value += 1) {
    const count = counts[value] as number
    if (seen + count >= share * all) return value - 0.5 + (share * all - seen) / count
    seen += count
  }
  return last
}
