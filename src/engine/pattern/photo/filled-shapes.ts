import { contours } from 'd3-contour'
import { type Blob, findBlobs, paint } from './blobs.ts'
import { inkDepth } from './depth.ts'

/** Ink wider than a line: which pixels, and its outlines with holes, x, y, x, y ... in pixels. */
export interface FilledShapes {
  readonly mask: Uint8Array
  readonly shapes: readonly (readonly number[][])[]
}

/** A meeting of lines is thicker than a line; a filled shape is thicker still, or thick over a longer way. */
const THICK = 1.5

/**
 * Finds ink wider than `widest`, with its edge where the darkness has fallen by half. Lines that run into a
 * filled shape are cut off where they leave it.
 */
export function findFilledShapes(
  share: Float32Array,
  below: number,
  ink: Uint8Array,
  depth: Float32Array,
  width: number,
  height: number,
  widest: number,
): FilledShapes {
  const half = widest / 2
  const core = new Uint8Array(ink.length)
  let some = false
  for (let at = 0; at < ink.length; at += 1)
    if ((depth[at] as number) > half) {
      core[at] = 1
      some = true
    }
  const mask = new Uint8Array(ink.length)
  if (!some) return { mask, shapes: [] }
  for (const blob of findBlobs(core, width, height, 1, true)) {
    let deepest = 0
    for (let k = 0; k < blob.runs.length; k += 2)
      for (let at = blob.runs[k] as number; at < (blob.runs[k + 1] as number); at += 1)
        deepest = Math.max(deepest, depth[at] as number)
    const long = Math.max(blob.right - blob.left, blob.bottom - blob.top)
    if (deepest < THICK * half && long < widest) paint(core, blob, 0)
  }
  const reach = half + 1.5
  for (const blob of findBlobs(core, width, height, 1, true))
    growInto(mask, ink, core, width, boxOf(blob, Math.ceil(reach) + 2, width, height), reach)
  const shapes = findBlobs(mask, width, height, 1, true).flatMap((blob) =>
    outlinesOf(share, below, ink, mask, width, boxOf(blob, 3, width, height)),
  )
  return { mask, shapes }
}

interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

const boxOf = (blob: Blob, more: number, width: number, height: number): Box => ({
  left: Math.max(0, blob.left - more),
  top: Math.max(0, blob.top - more),
  right: Math.min(width - 1, blob.right + more),
  bottom: Math.min(height - 1, blob.bottom + more),
})

/** Marks the ink within `reach` of the core: the thick part without the lines that run into it. */
function growInto(
  mask: Uint8Array,
  ink: Uint8Array,
  core: Uint8Array,
  width: number,
  box: Box,
  reach: number,
): void {
  const [across, down] = [box.right - box.left + 1, box.bottom - box.top + 1]
  const outside = new Uint8Array(across * down)
  for (let k = 0; k < outside.length; k += 1)
    outside[k] = 1 - (core[indexIn(box, k, across, width)] as number)
  const away = inkDepth(outside, across, down, reach)
  for (let k = 0; k < outside.length; k += 1) {
    const at = indexIn(box, k, across, width)
    if (ink[at] === 1 && (away[k] as number) <= reach) mask[at] = 1
  }
}

const indexIn = (box: Box, k: number, across: number, width: number): number => {
  const row = Math.floor(k / across)
  return (row + box.top) * width + box.left + k - row * across
}

function outlinesOf(
  share: Float32Array,
  below: number,
  ink: Uint8Array,
  mask: Uint8Array,
  width: number,
  box: Box,
): number[][][] {
  const [across, down] = [box.right - box.left + 1, box.bottom - box.top + 1]
  const dark: number[] = []
  for (let y = box.top; y <= box.bottom; y += 1)
    for (let x = box.left; x <= box.right; x += 1) {
      const at = y * width + x
      // other ink in the box counts as paper
      dark.push(ink[at] === 1 && mask[at] === 0 ? 0 : 1 - (share[at] as number))
    }
  const { coordinates } = contours()
    .size([across, down])
    .smooth(true)
    .contour(dark, 1 - below)
  return coordinates.map((polygon) =>
    polygon.map((ring) => ring.slice(0, -1).flatMap(([x = 0, y = 0]) => [x + box.left, y + box.top])),
  )
}
