import { defineConfig } from 'vitest/config'

/** A real browser walks the main job: two files at a time, since a page waits now for its worker, now for its app. */
export default defineConfig({
  test: {
    // only a hang takes as long: two browsers, their apps and workers share what cores there are
    expect: { poll: { timeout: 30_000 } },
    include: ['e2e/**/*.test.ts'],
    environment: 'node',
    maxWorkers: 2,
    testTimeout: 240_000,
    hookTimeout: 240_000,
  },
})
