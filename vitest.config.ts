import { defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** The files that take longest by far; begun last, one of them would run on alone. */
const LONG = /arrange-sets-\d|cli\/arrange\.|cli\/burnout\.|run-sheet\.|arrange\/arrange\./

class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification): boolean => LONG.test(moduleId)
    const sorted = await super.sort(files)
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))]
  }
}

export default defineConfig({
  test: {
    include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'checks/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
    pool: 'threads',
    maxWorkers: '100%',
    // the engine keeps no state, so one reading of it serves every file of a worker
    isolate: false,
    unstubGlobals: true,
    sequence: { sequencer: LongFirst },
  },
})
