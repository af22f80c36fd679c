/** x' = a x + c y + e, y' = b x + d y + f, as both drawing formats write it. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number]

export const unmoved: Affine = [1, 0, 0, 1, 0, 0]
export const shift = (x: number, y: number): Affine => [1, 0, 0, 1, x, y]
export const stretch = (x: number, y: number): Affine => [x, 0, 0, y, 0, 0]
export const turn = (radians: number): Affine => {
  const [c, s] = [Math.cos(radians), Math.sin(radians)]
  return [c, s, -s, c, 0, 0]
}

/** First the last, then those before it: `chain(a, b)` takes a point to a(b(point)). */
export const chain = (...all: readonly Affine[]): Affine =>
  all.reduce(
    ([a, b, c, d, e, f], [g, h, i, j, k, l]): Affine => [
      a * g + c * h,
      b * g + d * h,
      a * i + c * j,
      b * i + d * j,
      a * k + c * l + e,
      b * k + d * l + f,
    ],
    unmoved,
  )

export const movedX = ([a, , c, , e]: Affine, x: number, y: number): number => a * x + c * y + e
export const movedY = ([, b, , d, , f]: Affine, x: number, y: number): number => b * x + d * y + f
