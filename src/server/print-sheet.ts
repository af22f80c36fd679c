import * as z from 'zod'
import { readDocument } from '../engine/documents/index.ts'
import { planToJson } from '../engine/plan-json.ts'
import { printKilnSheet, printRunSheet } from '../print/index.ts'
import { type SlowWork, settlePlan } from '../settle/index.ts'
import type { PrintAsked, Printed } from './services.ts'

const unitsSchema = z.object({
  length: z.enum(['mm', 'in']),
  temperature: z.enum(['C', 'F']),
  mass: z.enum(['g', 'dwt', 'oz t']),
  pressure: z.enum(['inHg', 'mbar', 'kPa']),
})

/** Waits for every slow result, then prints: a sheet never says that something is still being worked out. */
export const printSheet = async (
  asked: PrintAsked,
  loaders: Omit<SlowWork, 'readModel'>,
): Promise<Printed> => {
  const { pour, shop, paper, now } = asked
  const reading = readDocument(z.object({ units: unitsSchema }), { units: asked.units })
  if (!reading.ok) return reading
  const units = { ...reading.value.units, currency: shop.currency }
  const printedAt = now.getTime()
  const work: SlowWork = {
    ...loaders,
    readModel: async ({ file, sha256 }) => {
      const bytes = sha256 === undefined ? undefined : await asked.readModel(sha256)
      return bytes === undefined
        ? { unreadable: `the model ${file} is not kept here`, remedy: 'send the model again' }
        : { bytes }
    },
  }
  const plan = await settlePlan(shop, pour, printedAt, work)
  const options = { paper, units, printedAt }
  const pdf = await (asked.sheet === 'kiln' ? printKilnSheet(plan, options) : printRunSheet(plan, options))
  return { ok: true, pdf, plan: planToJson(plan, units) }
}
