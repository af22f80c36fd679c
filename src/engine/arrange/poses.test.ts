import { expect, test } from 'vitest'
import { revolved } from './body.ts'
import { trapsBubbles } from './bubbles.ts'
import { prepareKind } from './kind.ts'
import { posesOf, sharedUnderneath } from './poses.ts'
import { motionTo } from './stand.ts'

/** A dome of 9 mm radius, its flat back down in its own coordinates. */
const dome = revolved(
  Array.from({ length: 13 }, (_, k): [number, number] => [
    9 * Math.cos((k * Math.PI) / 24),
    4.5 * Math.sin((k * Math.PI) / 24),
  ]),
)

test('what a pose is judged to hold bubbles under is what its faces do, and a back that looks up holds none', () => {
  const kind = prepareKind({
    id: 'dome',
    name: 'Dome',
    copies: 1,
    mesh: dome,
    standIn: false,
    sprue: { diameter_mm: 3, count: 1, countAsked: true, because: 'of the test' },
    keepClear: [],
    locked: new Map(),
  })
  for (const tilt of [0, 10, 20, 90, 170, 180]) {
    const motion = motionTo({ angle: 0, up: 40, out: 20, tilt, roll: 0, twist: 0 }, [0, 0, 0])
    const { share } = trapsBubbles(dome, motion)
    expect(Math.abs(sharedUnderneath(kind, motion) - share), `tilted ${tilt}°`).toBeLessThan(0.05)
    if (tilt <= 10) expect(share).toBeGreaterThan(0.3)
    if (tilt === 20) expect(share).toBe(0)
  }
  const caught = posesOf(kind, 1).map(({ motion }) => trapsBubbles(dome, motion).share)
  expect(Math.max(...caught)).toBeLessThan(0.1)
})
