/** A graduated scale: long ticks with numbers, short ones between. */
export interface Axis {
  readonly from: number
  readonly to: number
  readonly step: number
  readonly long: readonly number[]
  readonly short: readonly number[]
}

const FINE: Readonly<Record<number, number>> = { 1: 5, 2: 4, 5: 5 }

/** Round limits and steps of 1, 2 or 5 that hold `least` to `most` in about `parts` long divisions. */
export const axisFor = (least: number, most: number, parts = 6): Axis => {
  const span = most > least ? most - least : Math.max(Math.abs(most) * 0.1, 1)
  const rough = span / parts
  const ten = 10 ** Math.floor(Math.log10(rough))
  const first = [1, 2, 5, 10].find((times) => times * ten >= rough * 0.999) ?? 10
  const step = first * ten
  const from = Math.floor(least / step + 1e-9) * step
  const to = Math.max(Math.ceil(most / step - 1e-9) * step, from + step)
  const count = Math.round((to - from) / step)
  const lead = Number(String(step / 10 ** Math.floor(Math.log10(step) + 1e-9)).charAt(0))
  const fine = FINE[lead] ?? 5
  const long: number[] = []
  const short: number[] = []
  for (let index = 0; index <= count; index += 1) {
    long.push(Number((from + index * step).toPrecision(12)))
    if (index === count) break
    for (let part = 1; part < fine; part += 1) short.push(from + index * step + (part * step) / fine)
  }
  return { from, to, step, long, short }
}

/** Places a value between two ends of a drawing. */
export const placing =
  (axis: Pick<Axis, 'from' | 'to'>, start: number, end: number) =>
  (value: number): number =>
    start + ((value - axis.from) / (axis.to - axis.from)) * (end - start)

/** As many decimals as the step needs. */
export const tickText = (value: number, step: number): string => {
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9))
  const text = Math.abs(value) < step * 1e-6 ? '0' : value.toFixed(decimals)
  return text.replace(/\B(?=(\d{3})+(?!\d))/g, decimals === 0 ? ',' : '')
}
