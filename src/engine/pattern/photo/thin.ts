/**
 * Thins ink to lines one pixel wide, peeling the shallowest pixels first, so that what is left runs along the
 * middle. Pieces stay whole, holes stay open, and the ends of strokes stay.
 * Source: simple points and ordered homotopic thinning; textbooks of digital topology.
 * @param depth  of each ink pixel, 0 on paper; the outermost rows and columns must be paper
 * @returns 1 on the lines, 0 elsewhere
 */
export function thinInk(depth: Float32Array, width: number): Uint8Array {
  const left = new Uint8Array(depth.length)
  const round = [-width, -width + 1, 1, width + 1, width, width - 1, -1, -width - 1]
  const neighbours = (at: number): number => {
    let code = 0
    for (let k = 0; k < 8; k += 1) code |= (left[at + (round[k] as number)] as number) << k
    return code
  }
  const buckets: number[][] = []
  const bucketOf = (at: number): number => Math.round((depth[at] as number) * 8)
  for (let at = 0; at < depth.length; at += 1) {
    if (depth[at] === 0) continue
    left[at] = 1
    const bucket = bucketOf(at)
    while (buckets.length <= bucket) buckets.push([])
    buckets[bucket]?.push(at)
  }
  for (let level = 0; level < buckets.length; level += 1) {
    const queue = buckets[level] as number[]
    for (let k = 0; k < queue.length; k += 1) {
      const at = queue[k] as number
      if (left[at] === 0 || REMOVABLE[neighbours(at)] === 0) continue
      left[at] = 0
      // what could not go before may go now
      for (const step of round) {
        const near = at + step
        if (left[near] === 1 && bucketOf(near) <= level) queue.push(near)
      }
    }
  }
  return left
}

/** By the eight neighbours, clockwise from above as bits: may the pixel go without cutting, joining or ending? */
const REMOVABLE = Uint8Array.from({ length: 256 }, (_, code) => {
  const ink = (k: number): boolean => ((code >> (k & 7)) & 1) === 1
  let count = 0
  for (let k = 0; k < 8; k += 1) if (ink(k)) count += 1
  if (count < 2) return 0
  // pieces of ink round it, corners counting as touching (Hilditch's crossing number)
  let pieces = 0
  for (let k = 0; k < 8; k += 2) if (!ink(k) && (ink(k + 1) || ink(k + 2))) pieces += 1
  return pieces === 1 ? 1 : 0
})
