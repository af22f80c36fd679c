import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'checks/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
    pool: 'threads',
    maxWorkers: '100%',
  },
})
