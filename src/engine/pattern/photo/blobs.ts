/** Touching pixels of one kind. The box is inclusive. */
export interface Blob {
  readonly pixels: number
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  readonly runs: readonly number[]
}

/**
 * Gathers touching pixels whose mask equals `kind`.
 * @param diagonal  whether pixels that meet at a corner only touch
 * @returns blobs, each with its runs: index of the first pixel and of the one after the last, in pairs
 */
export function findBlobs(
  mask: Uint8Array,
  width: number,
  height: number,
  kind: 0 | 1,
  diagonal: boolean,
): Blob[] {
  const starts: number[] = []
  const ends: number[] = []
  const parent: number[] = []
  const top = (run: number): number => {
    let at = run
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] as number] as number
      at = parent[at] as number
    }
    return at
  }
  const reach = diagonal ? 1 : 0
  let above = 0
  let aboveEnd = 0
  for (let y = 0; y < height; y += 1) {
    const first = starts.length
    const end = (y + 1) * width
    let at = y * width
    while (at < end) {
      if (mask[at] !== kind) {
        at += 1
        continue
      }
      const from = at
      while (at < end && mask[at] === kind) at += 1
      const run = starts.length
      starts.push(from)
      ends.push(at)
      parent.push(run)
      while (above < aboveEnd && (ends[above] as number) + width <= from - reach) above += 1
      for (let k = above; k < aboveEnd && (starts[k] as number) + width < at + reach; k += 1) {
        const [a, b] = [top(k), top(run)]
        if (a < b) parent[b] = a
        else parent[a] = b
      }
    }
    above = first
    aboveEnd = starts.length
  }
  return gather(starts, ends, top, width)
}

function gather(starts: number[], ends: number[], top: (run: number) => number, width: number): Blob[] {
  const blobs = new Map<number, { -readonly [Key in keyof Blob]: Blob[Key] } & { runs: number[] }>()
  for (let run = 0; run < starts.length; run += 1) {
    const [from, to] = [starts[run] as number, ends[run] as number]
    const y = Math.floor(from / width)
    const [left, right] = [from - y * width, to - 1 - y * width]
    const blob = blobs.get(top(run))
    if (blob === undefined)
      blobs.set(top(run), { pixels: to - from, left, right, top: y, bottom: y, runs: [from, to] })
    else {
      blob.pixels += to - from
      blob.left = Math.min(blob.left, left)
      blob.right = Math.max(blob.right, right)
      blob.bottom = y
      blob.runs.push(from, to)
    }
  }
  return [...blobs.values()]
}

export function paint(mask: Uint8Array, blob: Blob, kind: 0 | 1): void {
  for (let k = 0; k < blob.runs.length; k += 2)
    mask.fill(kind, blob.runs[k] as number, blob.runs[k + 1] as number)
}
