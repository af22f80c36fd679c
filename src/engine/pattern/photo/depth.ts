/**
 * How far each ink pixel's middle lies from the nearest paper pixel's middle, exact up to `most`; 0 on paper.
 * Beyond the picture is paper. Squares of whole numbers inside, so that equal depths compare equal.
 */
export function inkDepth(mask: Uint8Array, width: number, height: number, most: number): Float32Array {
  const cap = Math.min(32_000, Math.ceil(most) + 1)
  const up = new Uint16Array(mask.length)
  for (let x = 0; x < width; x += 1) up[x] = mask[x] as number
  for (let at = width; at < mask.length; at += 1)
    up[at] = mask[at] === 0 ? 0 : Math.min(cap, (up[at - width] as number) + 1)
  for (let x = 0; x < width; x += 1)
    up[mask.length - width + x] = Math.min(up[mask.length - width + x] as number, 1)
  for (let at = mask.length - width - 1; at >= 0; at -= 1) {
    const below = (up[at + width] as number) + 1
    if (below < (up[at] as number)) up[at] = below
  }
  const depth = new Float32Array(mask.length)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const at = y * width + x
      if (mask[at] === 0) continue
      const straight = up[at] as number
      let best = straight * straight
      const far = Math.min(cap, straight)
      for (let dx = 1; dx <= far && dx * dx < best; dx += 1) {
        const left = x - dx < 0 ? 0 : (up[at - dx] as number)
        const right = x + dx >= width ? 0 : (up[at + dx] as number)
        const near = Math.min(left, right)
        const square = dx * dx + near * near
        if (square < best) best = square
      }
      depth[at] = Math.sqrt(best)
    }
  return depth
}
