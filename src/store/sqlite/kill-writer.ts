import { writeSync } from 'node:fs'
import { somePour } from '../some-pour.ts'
import { openStore } from './open-store.ts'

// Run as a process of its own by the kill test: saves without end, and says aloud each save that returned.
const opened = await openStore({ folder: process.argv[2] ?? '' })
if (!opened.ok) throw new Error(opened.problem.what)
const { pours } = opened.store
for (let count = 0; ; count += 1) {
  const kept = await pours.create(somePour({ name: `pour ${count}` }))
  writeSync(1, `${kept.id} 1\n`)
  await pours.save(kept.id, { ...kept.pour, name: `pour ${count}, saved` }, { basedOn: 1 })
  writeSync(1, `${kept.id} 2\n`)
}
