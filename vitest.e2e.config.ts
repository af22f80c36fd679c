import { defineConfig } from 'vitest/config'

/** A real browser walks the main job: one file at a time, for the browser takes what cores there are. */
export default defineConfig({
  test: {
    // a plan takes about a second anew on a busy machine, as long as a poll waits unasked
    expect: { poll: { timeout: 10_000 } },
    include: ['e2e/**/*.test.ts'],
    environment: 'node',
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
})
