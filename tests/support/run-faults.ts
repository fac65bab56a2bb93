/** `npm run test:faults`: all fault tests in their long form. What is given after `--` goes to vitest, as a file or `-t 'a title'`. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';

const root = join(import.meta.dirname, '../..');
const given = process.argv.slice(2);
const files = given.some((word) => word.startsWith('tests/'))
  ? []
  : ['tests/db/faults', 'tests/api/faults', 'tests/api/command/kill.test.ts'];
const vitest = spawn(
  process.execPath,
  [
    join(root, 'node_modules/vitest/vitest.mjs'),
    'run',
    '--project',
    'real',
    '--no-file-parallelism',
    ...files,
    ...given,
  ],
  {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, TAREBOOK_FAULT_ROUNDS: process.env['TAREBOOK_FAULT_ROUNDS'] ?? '50' },
  },
);
vitest.once('exit', (code) => {
  process.exitCode = code ?? 1;
});
