import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Vitest by itself leaves a core for the one who watches: half of a machine of two.
    maxWorkers: availableParallelism(),
    projects: [
      {
        test: {
          name: 'core',
          include: ['tests/core/**/*.test.ts'],
          testTimeout: 120_000,
          // core is pure: nothing is left behind that another file could trip over, so modules are read once.
          isolate: false,
        },
      },
      { test: { name: 'renderer', include: ['tests/renderer/**/*.test.ts'], testTimeout: 60_000 } },
      {
        test: {
          name: 'main',
          include: ['tests/main/**/*.test.ts'],
          testTimeout: 60_000,
          globalSetup: ['tests/build-once.ts'],
        },
      },
      {
        test: {
          name: 'e2e',
          include: ['tests/e2e/**/*.test.ts'],
          // After all others, and two browsers at most: these tests watch a page live.
          maxWorkers: Math.min(2, availableParallelism()),
          sequence: { groupOrder: 1 },
          testTimeout: 120_000,
          hookTimeout: 120_000,
          globalSetup: ['tests/build-once.ts'],
        },
      },
    ],
  },
});
