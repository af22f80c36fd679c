/** Runs of points on the sheet, flat: x, y, x, y. */
export type Run = readonly number[]

/** A length to be drawn between two ends; ends with the same number are the same place. */
export interface Stroke {
  readonly from: number
  readonly to: number
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** Joins strokes end to end into as few runs as their places allow: three meeting end the run there. */
export const joinStrokes = (strokes: readonly Stroke[]): readonly Run[] => {
  const meeting = new Map<number, number[]>()
  const meet = (place: number, stroke: number): void => {
    const here = meeting.get(place)
    if (here === undefined) meeting.set(place, [stroke])
    else here.push(stroke)
  }
  strokes.forEach((stroke, index) => {
    meet(stroke.from, index)
    meet(stroke.to, index)
  })
  const used = new Uint8Array(strokes.length)
  const walk = (start: number, first: number): Run => {
    const run: number[] = []
    let place = start
    let index: number | undefined = first
    while (index !== undefined) {
      const stroke: Stroke | undefined = strokes[index]
      if (stroke === undefined) break
      used[index] = 1
      const forward = stroke.from === place
      if (run.length === 0) run.push(forward ? stroke.x0 : stroke.x1, forward ? stroke.y0 : stroke.y1)
      run.push(forward ? stroke.x1 : stroke.x0, forward ? stroke.y1 : stroke.y0)
      place = forward ? stroke.to : stroke.from
      const here: number[] = meeting.get(place) ?? []
      index = here.length === 2 ? here.find((one) => used[one] === 0) : undefined
    }
    return run
  }
  const runs: Run[] = []
  for (const [place, here] of meeting)
    if (here.length !== 2) for (const index of here) if (used[index] === 0) runs.push(walk(place, index))
  // what is left closes on itself
  strokes.forEach((stroke, index) => {
    if (used[index] === 0) runs.push(walk(stroke.from, index))
  })
  return runs
}

/** The same run with every point left out that lies within `tolerance` of the line without it. */
export const simplify = (run: Run, tolerance: number): Run => {
  const count = run.length / 2
  if (count < 3) return run
  const x = (index: number): number => run[index * 2] as number
  const y = (index: number): number => run[index * 2 + 1] as number
  const kept = new Uint8Array(count)
  kept[0] = 1
  kept[count - 1] = 1
  const spans: [number, number][] = [[0, count - 1]]
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [from, to] = span
    const [dx, dy] = [x(to) - x(from), y(to) - y(from)]
    const length = Math.hypot(dx, dy)
    let farthest = tolerance
    let split = -1
    for (let index = from + 1; index < to; index += 1) {
      const [px, py] = [x(index) - x(from), y(index) - y(from)]
      const away = length === 0 ? Math.hypot(px, py) : Math.abs(px * dy - py * dx) / length
      if (away > farthest) {
        farthest = away
        split = index
      }
    }
    if (split < 0) continue
    kept[split] = 1
    spans.push([from, split], [split, to])
  }
  const slim: number[] = []
  for (let index = 0; index < count; index += 1) if (kept[index] === 1) slim.push(x(index), y(index))
  return slim
}

export const lengthOfRun = (run: Run): number => {
  let total = 0
  for (let index = 2; index < run.length; index += 2)
    total += Math.hypot(
      (run[index] as number) - (run[index - 2] as number),
      (run[index + 1] as number) - (run[index - 1] as number),
    )
  return total
}

/** Path data of runs, to `decimals` of the unit they are in. */
export const pathOfRuns = (runs: readonly Run[], decimals: number, closed = false): string => {
  const unit = 10 ** decimals
  const short = (value: number): number => Math.round(value * unit) / unit
  let path = ''
  for (const run of runs) {
    for (let index = 0; index < run.length; index += 2)
      path += `${index === 0 ? 'M' : 'L'}${short(run[index] as number)} ${short(run[index + 1] as number)}`
    if (closed) path += 'Z'
  }
  return path
}
