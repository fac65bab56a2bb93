/** The test server does not turn a failed run into a good one. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';

it('[S1] a run that failed ends with its own exit code after the test server has stopped', async () => {
  const { TAREBOOK_TEST_DATABASE_URL: _given, ...env } = process.env;
  const child = spawn(process.execPath, [join(import.meta.dirname, 'failing-run.ts')], { env, stdio: 'ignore' });
  const code = await new Promise((resolve) => {
    child.once('exit', resolve);
  });
  expect(code).toBe(3);
});
