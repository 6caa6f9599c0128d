import { defineConfig } from 'vitest/config';

/** `dir` keeps Vitest out of dist/, where the compiled tests lie. */
export default defineConfig({
  test: {
    dir: 'tests',
    include: ['**/*.test.ts', '**/*.test.tsx'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    reporters: ['default', './tests/support/closing-line.ts'],
  },
});
