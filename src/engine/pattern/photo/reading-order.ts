/** Reading order: from the top down, then from left to right, by the middle of what is drawn. */
export function inReadingOrder<T>(items: readonly T[], pointsOf: (item: T) => Float64Array | undefined): T[] {
  const ranked = items.map((item) => {
    const points = pointsOf(item) ?? new Float64Array(0)
    let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity]
    for (let k = 0; k < points.length; k += 2) {
      left = Math.min(left, points[k] as number)
      right = Math.max(right, points[k] as number)
      low = Math.min(low, points[k + 1] as number)
      high = Math.max(high, points[k + 1] as number)
    }
    return { item, row: -Math.round(low + high), column: left + right }
  })
  return ranked.sort((a, b) => a.row - b.row || a.column - b.column).map(({ item }) => item)
}
