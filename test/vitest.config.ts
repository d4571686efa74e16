import { defineConfig } from 'vitest/config';

// Three projects: numbers and decisions beside the code need nothing; `database` needs the PostgreSQL that
// test/db/global-setup.ts starts once; `browser` needs the built web client and a Chromium.
const resolve = { conditions: ['source'] };

export default defineConfig({
  test: {
    projects: [
      { resolve, ssr: { resolve }, test: { name: 'unit', testTimeout: 90_000, hookTimeout: 60_000, sequence: { groupOrder: 0 }, include: ['libs/**/*.spec.ts', 'apps/**/*.spec.ts', 'seed/**/*.spec.ts', 'test/architecture/*.spec.ts', 'test/trace-plants/*.spec.ts'] } },
      {
        resolve, ssr: { resolve },
        test: {
          name: 'database', sequence: { groupOrder: 1 }, include: ['test/api/**/*.spec.ts', 'test/path/**/*.spec.ts', 'test/start/**/*.spec.ts'], globalSetup: ['test/db/global-setup.ts'],
          pool: 'forks', maxWorkers: 2, testTimeout: 90_000, hookTimeout: 120_000,
        },
      },
      {
        resolve, ssr: { resolve },
        test: {
          name: 'browser', sequence: { groupOrder: 2 }, include: ['test/browser/**/*.spec.ts'], globalSetup: ['test/browser/global-setup.ts'],
          pool: 'forks', maxWorkers: 1, testTimeout: 180_000, hookTimeout: 180_000,
        },
      },
    ],
  },
});
