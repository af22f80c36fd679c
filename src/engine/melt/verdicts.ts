import { celsius, type Quantity, say, temperatureOf, type Verdict } from '../quantity/index.ts'

/** Above this metal heat a gypsum-bonded mould breaks down at the face. Common practice for bronze. */
const GYPSUM_WARNS = celsius(1061)
/** Above this no gypsum-bonded mould serves: pure calcium sulfate itself breaks down near here. */
const GYPSUM_STOPS = celsius(1200)
/** The table's heat and the diagram's may differ by this much: room temperature, superheat and rounding. */
const DIAGRAM_AGREES = 0.06

/** Can this torch melt this charge in the time the caster is willing to hold it? */
export const torchVerdict = (time: Quantity, willing: Quantity, torchIndex: number): Verdict => {
  const shared = {
    id: 'melt.torch',
    part: 'spin',
    title: say`Torch for this charge`,
    where: '/pour/torch',
  } as const
  const remedy = say`A larger torch or a furnace, or two smaller charges. Time a melt to narrow this.`
  if (time.low > willing.value)
    return {
      ...shared,
      verdict: 'stop',
      reason: say`This torch needs about ${time}, ${bounds(time)}, and you are willing to hold it ${willing}. It would lose its heat as fast as it takes it, and take up gas.`,
      remedy,
    }
  if (time.high > willing.value)
    return {
      ...shared,
      verdict: 'check',
      reason: say`About ${time} with the torch, ${bounds(time)}; you are willing to hold it ${willing}. Too close to call: the share of the flame that reaches the metal is a guess.`,
      remedy,
      where: `/shop/torches/${torchIndex}/intoMetal`,
    }
  return {
    ...shared,
    verdict: 'pass',
    reason: say`About ${time} with the torch, ${bounds(time)}, inside the ${willing} you are willing to hold it.`,
    remedy: say``,
  }
}

const bounds = (time: Quantity) =>
  say`${{ value: time.low, unit: time.unit }} to ${{ value: time.high, unit: time.unit }}`

const inTen = (share: number): string => `${Math.round(share * 100)} in 100`

const CRUCIBLE = {
  id: 'melt.crucible',
  part: 'charge',
  title: say`Room in the crucible`,
  where: '/pour/crucible',
} as const
const LESS_AT_ONCE = say`Take a larger crucible, or cast fewer pieces at once.`

/** While the charge is open the pieces alone may already be too much. */
export const crucibleTooSmall = (fillAtLeast: Quantity): Verdict => ({
  ...CRUCIBLE,
  verdict: 'stop',
  reason: say`The pieces alone are ${inTen(fillAtLeast.value)} of what the crucible holds, before any sprue or button.`,
  remedy: LESS_AT_ONCE,
})

export const crucibleVerdict = (fill: Quantity, most: Quantity): Verdict => {
  const shared = CRUCIBLE
  const remedy = LESS_AT_ONCE
  if (fill.value > 1)
    return {
      ...shared,
      verdict: 'stop',
      reason: say`The charge is ${inTen(fill.value)} of what the crucible holds. It would run over, and throw metal when the arm starts.`,
      remedy,
    }
  if (fill.value > most.value)
    return {
      ...shared,
      verdict: 'check',
      reason: say`The crucible would be ${inTen(fill.value)} full; this shop fills it ${inTen(most.value)} at most. A full one throws metal when the arm starts.`,
      remedy,
    }
  return {
    ...shared,
    verdict: 'pass',
    reason: say`The crucible is ${inTen(fill.value)} full, of ${inTen(most.value)} at most.`,
    remedy: say``,
  }
}

export const gypsumVerdict = (pouring: Quantity, marked: boolean): Verdict => {
  const shared = {
    id: 'melt.gypsum',
    part: 'charge',
    title: say`Metal heat and gypsum investment`,
    where: '/pour/investment/id',
  } as const
  if (pouring.value > GYPSUM_STOPS)
    return {
      ...shared,
      verdict: 'stop',
      reason: say`Metal at ${pouring} breaks gypsum-bonded investment down: sulphur in the metal and a rough face.`,
      remedy: say`Invest in a phosphate-bonded investment.`,
    }
  if (marked || pouring.value > GYPSUM_WARNS)
    return {
      ...shared,
      verdict: 'check',
      reason: say`Metal at ${pouring} is at the edge of what gypsum-bonded investment stands: expect some roughness and sulphur.`,
      remedy: say`Keep the flask cool and the superheat small, pour no hotter than ${temperatureOf(GYPSUM_WARNS)}, burn out thoroughly; or take a phosphate-bonded investment.`,
    }
  return {
    ...shared,
    verdict: 'pass',
    reason: say`Metal at ${pouring} is within what gypsum-bonded investment stands.`,
    remedy: say``,
  }
}

/** The alloy table's heat against the phase diagram's, worked out another way. */
export const diagramVerdict = (table: Quantity, diagram: Quantity): Verdict => {
  const apart = Math.abs(table.value / diagram.value - 1)
  const shared = {
    id: 'melt.heat',
    part: 'charge',
    title: say`Heat to melt, reckoned twice`,
    where: '/shop/alloys',
  } as const
  return apart > DIAGRAM_AGREES
    ? {
        ...shared,
        verdict: 'check',
        reason: say`The alloy's sheet says ${table}; the silver-copper diagram gives ${diagram} at this pouring heat.`,
        remedy: say`Look the heat up again, or take the diagram's.`,
      }
    : {
        ...shared,
        verdict: 'pass',
        reason: say`The alloy's sheet says ${table} and the silver-copper diagram gives ${diagram}.`,
        remedy: say``,
      }
}
