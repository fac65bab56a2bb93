/**
 * Two groups: `rules` (pure code, no database; seconds) and `real` (databases, processes, published files).
 */
import { defineConfig } from 'vitest/config';

const setupFiles = ['tests/support/quiet-console.ts'];

export default defineConfig({
  test: {
    reporters: ['default', './tests/support/closing-line.ts'],
    projects: [
      { test: { name: 'rules', include: ['tests/shared/**/*.test.ts', 'tests/published/**/*.test.ts'], setupFiles } },
      {
        test: {
          name: 'real',
          include: ['tests/db/**/*.test.ts', 'tests/api/**/*.test.ts', 'tests/project/**/*.test.ts'],
          setupFiles,
          globalSetup: ['tests/support/postgres-server.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
