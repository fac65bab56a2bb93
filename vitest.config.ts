/**
 * Three groups, one after the other: `rules` (pure code and published figures), `real` (databases, processes), `browser` (a real one, before a real server).
 */
import { defineConfig } from 'vitest/config';

const setupFiles = ['tests/support/quiet-console.ts'];

export default defineConfig({
  test: {
    reporters: ['default', './tests/support/closing-line.ts'],
    projects: [
      {
        test: {
          name: 'rules',
          sequence: { groupOrder: 1 },
          maxWorkers: 2,
          include: ['tests/shared/**/*.test.ts', 'tests/published/**/*.test.ts'],
          setupFiles,
          // Random chains and simulations: a slow machine is no failure.
          testTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'browser',
          // A browser, a server and a database at once are enough for a small machine.
          sequence: { groupOrder: 3 },
          maxWorkers: 1,
          include: ['tests/browser/**/*.test.ts'],
          setupFiles,
          globalSetup: [
            'tests/support/postgres-server.ts',
            'tests/support/ready-folder.ts',
            'tests/support/built-client.ts',
          ],
          testTimeout: 60_000,
          hookTimeout: 120_000,
          // A screen on a busy machine takes longer than the second that is usual; who waits in vain waits for this long.
          expect: { poll: { timeout: 15_000 } },
        },
      },
      {
        test: {
          name: 'real',
          // They wait for processes and disks much of their time.
          sequence: { groupOrder: 2 },
          maxWorkers: 2,
          include: ['tests/db/**/*.test.ts', 'tests/api/**/*.test.ts', 'tests/project/**/*.test.ts'],
          setupFiles,
          globalSetup: ['tests/support/postgres-server.ts', 'tests/support/ready-folder.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
