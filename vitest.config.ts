import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'core',
          include: ['tests/core/**/*.test.ts'],
          testTimeout: 60_000,
          // core is pure: nothing is left behind that another file could trip over, so modules are read once.
          isolate: false,
        },
      },
      { test: { name: 'renderer', include: ['tests/renderer/**/*.test.ts'] } },
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
          // One browser at a time, and alone on the machine: these tests watch a page live.
          fileParallelism: false,
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
          testTimeout: 120_000,
          hookTimeout: 120_000,
          globalSetup: ['tests/build-once.ts'],
        },
      },
    ],
  },
});
