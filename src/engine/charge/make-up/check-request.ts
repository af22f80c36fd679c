import type { ChargeRequest, Content, Lot } from './lots.ts'
import type { ChargeProblem } from './problems.ts'
import { problem } from './problems.ts'
import { isWholeSteps, stepsCovering, toKilograms, toSteps } from './round-to-scale.ts'

// More steps than this in one charge is a slip of the units, not a charge (10 kg on a 0.01 g scale).
const mostSteps = 1_000_000
const mostLots = 500

/** Everything in a request that is not a usable number, all at once. */
export const checkRequest = (request: ChargeRequest): ChargeProblem[] => {
  const problems: ChargeProblem[] = []
  const expect = (holds: boolean, where: string, found: unknown, wanted: string): void => {
    if (!holds) problems.push(problem({ kind: 'bad-request', where, found: String(found), wanted }))
  }
  const isShare = (value: number): boolean => value >= 0 && value <= 1
  const isMass = (value: number): boolean => Number.isFinite(value) && value >= 0

  const { target_kg, scaleStep_kg, alloy } = request
  // Sums of masses carry float noise far below a step.
  const forgiven = scaleStep_kg / 1000
  const stepHolds = Number.isFinite(scaleStep_kg) && scaleStep_kg > 0
  const targetHolds = Number.isFinite(target_kg) && target_kg > 0
  expect(stepHolds, 'scaleStep_kg', scaleStep_kg, 'a scale step above 0')
  expect(targetHolds, 'target_kg', target_kg, 'a mass above 0')
  if (stepHolds && targetHolds) {
    expect(isWholeSteps(target_kg, scaleStep_kg), 'target_kg', target_kg, 'a whole number of scale steps')
    const steps = toSteps(target_kg, scaleStep_kg)
    expect(steps <= mostSteps, 'target_kg', `${steps} scale steps`, `at most ${mostSteps} scale steps`)
  }
  const { returnedMost, mostLots: lotsWanted } = request
  if (returnedMost !== undefined)
    expect(isShare(returnedMost), 'returnedMost', returnedMost, 'a share from 0 to 1')
  if (lotsWanted !== undefined)
    expect(Number.isInteger(lotsWanted) && lotsWanted > 0, 'mostLots', lotsWanted, 'a whole number above 0')

  for (const key of ['finenessTarget_ppt', 'finenessLeast_ppt', 'finenessMost_ppt'] as const) {
    const value = alloy[key]
    if (value !== undefined)
      expect(value >= 0 && value <= 1000, `alloy.${key}`, value, 'parts per thousand from 0 to 1000')
  }
  for (const [element, { low, high }] of Object.entries(alloy.limits))
    expect(
      isShare(low) && isShare(high) && low <= high,
      `alloy.limits.${element}`,
      `${low} to ${high}`,
      'a low and a high mass fraction from 0 to 1, in that order',
    )
  for (const [element, most] of Object.entries(alloy.forbidden ?? {}))
    expect(isShare(most), `alloy.forbidden.${element}`, most, 'a mass fraction from 0 to 1')

  const isContent = ({ value, low, high }: Content): boolean =>
    isShare(low) && isShare(high) && low <= value && value <= high
  const checkLot = (lot: Lot, at: string): void => {
    expect(isMass(lot.mass_kg), `${at}.mass_kg`, lot.mass_kg, 'a mass of 0 or more')
    expect(
      Number.isFinite(lot.price_per_kg) && lot.price_per_kg >= 0,
      `${at}.price_per_kg`,
      lot.price_per_kg,
      'a price of 0 or more',
    )
    for (const key of ['leastUse_kg', 'mustUse_kg'] as const) {
      const mass = lot[key]
      if (mass !== undefined) expect(isMass(mass), `${at}.${key}`, mass, 'a mass of 0 or more')
    }
    lot.wholePieces_kg?.forEach((mass, index) => {
      expect(Number.isFinite(mass) && mass > 0, `${at}.wholePieces_kg.${index}`, mass, 'a mass above 0')
    })
    const stock = lot.wholePieces_kg?.reduce((sum, piece) => sum + piece, 0) ?? lot.mass_kg
    const must = lot.mustUse_kg ?? 0
    expect(!(must > stock + forgiven), `${at}.mustUse_kg`, must, `at most the lot's ${stock} kg`)
    const named = lot.owner === 'shop' || (request.clientMetal ?? []).includes(lot.owner)
    expect(must === 0 || named, `${at}.mustUse_kg`, must, `${lot.owner} named in clientMetal`)
    expect(must === 0 || lot.mayUse, `${at}.mustUse_kg`, must, 'leave to use the lot')
    if (lot.generation !== undefined)
      expect(isMass(lot.generation), `${at}.generation`, lot.generation, 'a count of 0 or more')
    for (const [element, content] of Object.entries(lot.composition))
      expect(
        isContent(content),
        `${at}.composition.${element}`,
        `${content.low}, ${content.value}, ${content.high}`,
        'low, value and high as mass fractions from 0 to 1, in that order',
      )
    const sum = Object.values(lot.composition).reduce((total, content) => total + content.value, 0)
    expect(!(sum > 1 + 1e-6), `${at}.composition`, `${sum} in all`, 'fractions that sum to at most 1')
  }
  expect(request.lots.length <= mostLots, 'lots', `${request.lots.length} lots`, `at most ${mostLots} lots`)
  const mustSteps = request.lots.reduce(
    (sum, lot) => sum + stepsCovering(lot.mustUse_kg ?? 0, scaleStep_kg),
    0,
  )
  if (stepHolds && targetHolds && mustSteps > toSteps(target_kg, scaleStep_kg)) {
    const found = `${toKilograms(mustSteps, scaleStep_kg)} kg to be used at least`
    expect(false, 'lots', found, `at most the charge's ${target_kg} kg`)
  }
  const seen = new Set<string>()
  const lists = { lots: request.lots, buyable: request.buyable ?? [] }
  for (const [list, lots] of Object.entries(lists)) {
    lots.forEach((lot, index) => {
      expect(!seen.has(lot.id), `${list}.${index}.id`, lot.id, 'an id that no other lot has')
      seen.add(lot.id)
      checkLot(lot, `${list}.${lot.id}`)
    })
  }
  return problems
}
