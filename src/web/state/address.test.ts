import { resolveObjectURL } from 'node:buffer'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { addressOf, letGoOf } from './address.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

test('an address that is let go still answers a picture that was just asked for by it, and not for ever', async () => {
  const address = addressOf('<svg/>', 'image/svg+xml')
  letGoOf(address)
  vi.advanceTimersByTime(1000)
  expect(await resolveObjectURL(address)?.text()).toBe('<svg/>')
  vi.advanceTimersByTime(60_000)
  expect(resolveObjectURL(address)).toBeUndefined()
})

test('bytes are those given, whatever larger room they were cut from', async () => {
  const room = Uint8Array.from([9, 1, 2, 3, 9])
  const address = addressOf(room.subarray(1, 4), 'model/stl')
  const read = await resolveObjectURL(address)?.arrayBuffer()
  expect([...new Uint8Array(read ?? new ArrayBuffer(0))]).toEqual([1, 2, 3])
  letGoOf(address)
})
