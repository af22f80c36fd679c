import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { METRIC } from '../engine/quantity/index.ts'
import { samplePour, sampleShop } from '../engine/sample-pour.ts'
import { runCharge } from './charge.ts'

const folder = mkdtempSync(join(tmpdir(), 'charge-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const chargeWith = async (flasks: ReturnType<typeof sampleShop>['flasks']) => {
  const [path, shop] = [join(folder, 'pour.json'), join(folder, 'shop.json')]
  writeFileSync(path, JSON.stringify(samplePour()))
  writeFileSync(shop, JSON.stringify({ ...sampleShop(), flasks }))
  return runCharge(path, { shop, now: '2026-11-12T18:00:00Z', json: false, units: METRIC })
}

test('a charge for a tree that no flask holds is told as such, and one that may be poured is not', async () => {
  const { flasks } = sampleShop()
  const good = await chargeWith(flasks)
  expect(good.out).not.toContain('NOT READY')
  const hopeless = await chargeWith(flasks.map((one) => ({ ...one, insideHeight_mm: 30 })))
  expect(hopeless.out).toMatch(/: \d[\d.]*.g$/m)
  expect(hopeless.out).toMatch(
    /NOT READY: the plan is stopped elsewhere, by .*too large for any flask.*See plan/,
  )
}, 60_000)
