/**
 * Sets drawn by lot, arranged and re-measured by brute force: how many are placed, refused or missed.
 * Run: npx esbuild bench/arrange-sets.ts --bundle --platform=node --format=esm --packages=external --outfile=.cache/sets.mjs && node .cache/sets.mjs 1 500
 */
import { runSet } from '../checks/arrange-sets.ts'

const [from = 1, to = 500] = process.argv.slice(2).map(Number)
const counts = new Map<string, number>()
for (let seed = from; seed <= to; seed += 1) {
  const { sort, verdict, violations } = runSet(seed)
  const key = `${sort}, ${verdict}`
  counts.set(key, (counts.get(key) ?? 0) + 1)
  if (violations.length > 0 || verdict === 'wrong')
    console.log(`set ${seed}: ${verdict} ${violations.join('; ')}`)
  if (seed % 25 === 0 || seed === to)
    console.log(`${from} to ${seed}: ${[...counts].map(([name, count]) => `${name} ${count}`).join(' · ')}`)
}
