/**
 * Root of a continuous function between two points where its signs differ (false position, Illinois form:
 * an end that stays is halved in weight, so neither end can stall).
 * @returns the root, to about 1e-14 of the interval; NaN when the signs do not differ or a value is NaN
 */
export function solveBetween(f: (x: number) => number, from: number, to: number): number {
  let [a, b] = [from, to]
  let [fa, fb] = [f(a), f(b)]
  if (fa === 0) return a
  if (fb === 0) return b
  if (!(fa * fb < 0)) return Number.NaN
  for (let step = 0; step < 200; step++) {
    // every fourth step halves the interval, so that a badly scaled function still converges
    const x = step % 4 === 3 ? (a + b) / 2 : b - (fb * (b - a)) / (fb - fa)
    const fx = f(x)
    if (Number.isNaN(fx)) return Number.NaN
    if (fx === 0 || Math.abs(b - a) <= 1e-14 * Math.abs(x)) return x
    if (fx * fb < 0) {
      a = b
      fa = fb
    } else fa /= 2
    b = x
    fb = fx
  }
  return b
}

/** Where a function that only falls reaches `level`, doubling the far end from `scale` until it is passed. */
export function whenFallen(f: (x: number) => number, level: number, scale: number): number {
  let far = scale
  for (let doubling = 0; doubling < 60 && f(far) > level; doubling++) far *= 2
  return solveBetween((x) => f(x) - level, 0, far)
}
