import * as z from 'zod'
import type { ChargeRequest } from '../engine/charge/make-up/index.ts'

const content = z.strictObject({ value: z.number(), low: z.number(), high: z.number() })
const composition = z.record(z.string().min(1).max(3), content)

const lot = z.strictObject({
  id: z.string().min(1).max(80),
  name: z.string().min(1).max(200),
  kind: z.enum(['fine', 'alloying', 'casting grain', 'master alloy', 'returns', 'scrap', 'coin']),
  mass_kg: z.number(),
  composition,
  price_per_kg: z.number(),
  wholePieces_kg: z.array(z.number()).max(200).optional(),
  leastUse_kg: z.number().optional(),
  mustUse_kg: z.number().optional(),
  generation: z.number().optional(),
  mayUse: z.boolean(),
  owner: z.string().max(200),
})

const shares = z.record(z.string().min(1).max(3), z.number())

/** The form of a make-up request; whether its numbers make sense is the make-up's own question. */
export const makeUpRequestSchema: z.ZodType<ChargeRequest> = z.strictObject({
  target_kg: z.number(),
  scaleStep_kg: z.number(),
  alloy: z.strictObject({
    id: z.string().min(1).max(80),
    name: z.string().min(1).max(200),
    principal: z.enum(['Ag', 'Au', 'Cu']),
    limits: z.record(z.string().min(1).max(3), z.strictObject({ low: z.number(), high: z.number() })),
    finenessTarget_ppt: z.number().optional(),
    finenessLeast_ppt: z.number().optional(),
    finenessMost_ppt: z.number().optional(),
    forbidden: shares.optional(),
  }),
  lots: z.array(lot).max(2000),
  returnedMost: z.number().optional(),
  preferOldReturns: z.boolean().optional(),
  guard: z.enum(['fifth percentile', 'worst case', 'expected']).optional(),
  mostLots: z.number().optional(),
  clientMetal: z.array(z.string().max(200)).max(200).optional(),
  buyable: z.array(lot).max(2000).optional(),
})
