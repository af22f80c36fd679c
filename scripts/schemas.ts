import { mkdirSync, writeFileSync } from 'node:fs'
import * as z from 'zod'
import { heatCaseSchema, heightsSchema, pourFileSchema, shopSchema } from '../src/engine/documents/index.ts'
import {
  arrangeJsonSchema,
  burnoutJsonSchema,
  burnoutLogJsonSchema,
  burnoutStoppedJsonSchema,
  chargeJsonSchema,
  measureJsonSchema,
  patternJsonSchema,
  planJsonSchema,
} from '../src/engine/plan-schema.ts'

/** The published JSON Schemas, each made from the schema that the program itself reads or is held to. */
export const schemas = {
  'pour.schema.json': z.toJSONSchema(pourFileSchema, { io: 'input' }),
  'shop.schema.json': z.toJSONSchema(shopSchema, { io: 'input' }),
  'heights.schema.json': z.toJSONSchema(heightsSchema, { io: 'input' }),
  'plan.schema.json': z.toJSONSchema(planJsonSchema),
  'burnout.schema.json': z.toJSONSchema(burnoutJsonSchema),
  'burnout-log.schema.json': z.toJSONSchema(burnoutLogJsonSchema),
  'burnout-stopped.schema.json': z.toJSONSchema(burnoutStoppedJsonSchema),
  'charge.schema.json': z.toJSONSchema(chargeJsonSchema),
  'heat-case.schema.json': z.toJSONSchema(heatCaseSchema, { io: 'input' }),
  'arrange.schema.json': z.toJSONSchema(arrangeJsonSchema),
  'measure.schema.json': z.toJSONSchema(measureJsonSchema),
  'pattern.schema.json': z.toJSONSchema(patternJsonSchema),
}

export const written = (schema: unknown): string => `${JSON.stringify(schema, null, 2)}\n`

if (process.argv[2] === 'write') {
  mkdirSync('schemas', { recursive: true })
  for (const [name, schema] of Object.entries(schemas)) writeFileSync(`schemas/${name}`, written(schema))
}
