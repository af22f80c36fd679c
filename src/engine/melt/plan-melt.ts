import type { Pour, Roots, Shop } from '../documents/index.ts'
import {
  type Caution,
  type Problem,
  type Quantity,
  type RoomAnswer,
  root,
  say,
  type Verdict,
  type Words,
} from '../quantity/index.ts'
import { meltCautions } from './cautions.ts'
import {
  crucibleFill,
  diagramHeat,
  diagramLiquidus,
  diagramSolidus,
  heatIntoMetal,
  meltEnergy,
  meltTime,
  pouringHeat,
  thinAir,
} from './formulas.ts'
import { crucibleTooSmall, crucibleVerdict, diagramVerdict, gypsumVerdict, torchVerdict } from './verdicts.ts'

export interface MeltInput {
  readonly roots: Roots
  readonly shop: Shop
  readonly pour: Pour
  readonly alloyIndex: number
  readonly torchIndex: number
  readonly crucibleIndex: number
  /** metal to weigh [kg] */
  readonly charge?: Quantity
  /** what the charge cannot be less than, while it is not known */
  readonly leastCharge?: Quantity
  /** the air's pressure at the shop [Pa]; only an air-fed flame asks for it */
  readonly pressure?: Quantity
  /** fineness of the metal as made up [ppt]; the alloy's own aim where it is absent */
  readonly fineness?: Quantity
  /** true when the make-up puts fine silver and copper together for the first time */
  readonly fineWithCopper?: boolean
}

export interface MeltAnswer {
  readonly liquidus: Quantity
  readonly superheat: Quantity
  readonly pourTemperature: Quantity
  readonly energy?: Quantity
  readonly intoMetal?: Quantity
  readonly time?: Quantity
  readonly willing: Quantity
  readonly fill?: Quantity
  /** for alloys of silver and copper alone: the same heat and limit from the phase diagram */
  readonly diagram?: { readonly heat: Quantity; readonly liquidus: Quantity; readonly solidus: Quantity }
  /** how to melt, in order */
  readonly steps: readonly Words[]
  readonly answer: RoomAnswer
}

const ONLY_SILVER_AND_COPPER = new Set(['Ag', 'Cu'])

const planDiagram = (input: MeltInput, pouring: Quantity): MeltAnswer['diagram'] => {
  const { roots, shop, alloyIndex } = input
  const alloy = shop.alloys[alloyIndex]
  if (alloy === undefined || alloy.metal !== 'silver') return undefined
  if (!Object.keys(alloy.composition).every((part) => ONLY_SILVER_AND_COPPER.has(part))) return undefined
  const aim = `/shop/alloys/${alloyIndex}/fineness_ppt/aim`
  const fineness =
    input.fineness ?? (roots.has(aim) ? roots.at(aim, 'Fineness aimed at', { unit: 'ppt' }) : undefined)
  if (fineness === undefined) return undefined
  return {
    heat: diagramHeat({ fineness, pouring }, { id: 'melt.diagramHeat' }),
    liquidus: diagramLiquidus({ fineness }, { id: 'melt.diagramLiquidus' }),
    solidus: diagramSolidus({ fineness }, { id: 'melt.diagramSolidus' }),
  }
}

const planFlame = (input: MeltInput): Quantity | undefined => {
  const { roots, shop, torchIndex, pressure } = input
  const torch = `/shop/torches/${torchIndex}`
  const airFed = shop.torches[torchIndex]?.airFed === true
  if (airFed && pressure === undefined) return undefined
  const air =
    airFed && pressure !== undefined
      ? thinAir({ pressure }, { id: 'melt.thinAir' })
      : root({
          id: 'melt.bottledOxygen',
          title: 'Flame left in thin air',
          unit: '1',
          value: 1,
          kind: 'usual',
          source: 'fed with bottled oxygen, so thin air takes nothing from it',
        })
  return heatIntoMetal(
    {
      power: roots.at(`${torch}/power_kW`, "The flame's power"),
      share: roots.at(`${torch}/intoMetal`, 'Share of the flame that the metal takes'),
      air,
    },
    { id: 'melt.intoMetal' },
  )
}

const stepsOf = (input: MeltInput, pourTemperature: Quantity): Words[] => {
  const { shop, pour, alloyIndex } = input
  const alloy = shop.alloys[alloyIndex]
  const fineWithCopper =
    input.fineWithCopper ??
    (!pour.charge.fromStock && alloy?.metal === 'silver' && alloy.composition.Cu !== undefined)
  const steps: Words[] = [
    say`Glaze a new crucible with borax before its first melt, and keep one crucible to one alloy.`,
    say`Heat crucible, tongs and stirring rod until they are bone dry before any metal goes in.`,
    say`A pinch of borax before, a pinch on top, a pinch at the end. More rides in as glassy pits.`,
    say`A slightly soft, reducing flame, kept on the metal until the arm is let go.`,
  ]
  if (fineWithCopper)
    steps.push(
      say`Fine silver with copper wants stirring: melt the silver first, feed the copper in under the flame, stir with a hot graphite or quartz rod. Better, alloy it beforehand, pour it as grain and melt it again, so that it is even.`,
    )
  steps.push(
    say`Ready at ${pourTemperature}: rolling like quicksilver, bright, all of it moving. Only then open the kiln, the flame kept on; flask seated and wired, let go at once. Held longer the metal takes up gas and oxide.`,
  )
  return steps
}

/**
 * How hot, how much heat, how long, and whether this torch and this crucible can do it. The torch's time
 * rests on a guessed share of the flame: its range is wide until a melt has been timed.
 */
export const planMelt = (input: MeltInput): MeltAnswer => {
  const { roots, shop, pour, alloyIndex, torchIndex, crucibleIndex, charge } = input
  const alloy = `/shop/alloys/${alloyIndex}`
  const liquidus = roots.at(`${alloy}/liquidus_C`, 'Wholly liquid above')
  const superheat = roots.at(`${alloy}/superheat_K`, 'Superheat')
  const pourTemperature = pouringHeat({ liquidus, superheat }, { id: 'melt.pourTemperature' })
  const heat = roots.at(`${alloy}/heatToPour_kJ_kg`, 'Heat from the bench to pouring')
  const diagram = planDiagram(input, pourTemperature)
  const energy = charge && meltEnergy({ charge, heat }, { id: 'melt.energy' })
  const intoMetal = planFlame(input)
  const time = energy && intoMetal && meltTime({ energy, into: intoMetal }, { id: 'melt.time' })
  const willing = roots.at(`/shop/torches/${torchIndex}/minutesWilling`, 'Time you are willing to melt for', {
    unit: 's',
    scale: 60,
  })
  const atLeast = charge ?? input.leastCharge
  const filled =
    atLeast &&
    crucibleFill(
      {
        charge: atLeast,
        holds: roots.at(`/shop/crucibles/${crucibleIndex}/holds_g`, 'What the crucible holds'),
      },
      { id: 'melt.crucibleFill' },
    )
  const fill = charge && filled
  const fillMost = roots.at('/shop/rules/crucibleFillMost', 'Fill a crucible no more than')

  const verdicts: Verdict[] = []
  if (time) verdicts.push(torchVerdict(time, willing, torchIndex))
  if (fill) verdicts.push(crucibleVerdict(fill, fillMost))
  else if (filled && filled.value > 1) verdicts.push(crucibleTooSmall(filled))
  const bond = shop.investments.find((investment) => investment.id === pour.investment.id)?.bond
  if (bond === 'gypsum')
    verdicts.push(gypsumVerdict(pourTemperature, shop.alloys[alloyIndex]?.tooHotForGypsum === true))
  if (diagram) verdicts.push(diagramVerdict(heat, diagram.heat))

  const problems: Problem[] = []
  if (charge === undefined)
    problems.push({
      kind: 'charge-missing',
      where: '/pour/charge',
      what: say`The charge is not known yet, so neither is the heat nor the time to melt it.`,
      remedy: say`Give every piece a weight, or enter the charge.`,
    })
  if (intoMetal === undefined)
    problems.push({
      kind: 'pressure-missing',
      where: '/shop/place/pressure',
      what: say`This flame draws its air from the room, and the air's pressure here is not known.`,
      remedy: say`Enter the altitude or the barometer under Shop.`,
    })

  const cautions: Caution[] = meltCautions(shop.alloys[alloyIndex]?.zincFume === true)
  return {
    liquidus,
    superheat,
    pourTemperature,
    energy,
    intoMetal,
    time,
    willing,
    fill,
    diagram,
    steps: stepsOf(input, pourTemperature),
    answer: { verdicts, cautions, problems },
  }
}
