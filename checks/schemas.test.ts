import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { schemas, written } from '../scripts/schemas.ts'
import { planPour } from '../src/engine/plan.ts'
import { planToJson } from '../src/engine/plan-json.ts'
import { planJsonSchema } from '../src/engine/plan-schema.ts'
import { SAMPLE_NOW, samplePour, sampleShop } from '../src/engine/sample-pour.ts'

describe('the published schemas', () => {
  for (const [name, schema] of Object.entries(schemas))
    it(`${name} in schemas/ is the one the program reads by (npm run schemas writes them)`, () => {
      expect(readFileSync(`schemas/${name}`, 'utf8')).toBe(written(schema))
    })

  it('hold the plan of a pour, whole or open', () => {
    const given = { now: SAMPLE_NOW }
    const whole = planToJson(planPour(sampleShop(), samplePour(), given))
    const open = planToJson(planPour(sampleShop(), samplePour({ pieces: [] }), given))
    expect(planJsonSchema.safeParse(whole).error?.issues ?? []).toEqual([])
    expect(planJsonSchema.safeParse(open).error?.issues ?? []).toEqual([])
  })
})
