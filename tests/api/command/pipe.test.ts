/** The command before a reader that goes away. */
import { spawn } from 'node:child_process';
import { expect, it } from 'vitest';

it('[K1] a reader that closes the pipe early is no fault', { timeout: 60_000 }, async () => {
  const child = spawn(
    process.execPath,
    ['api/command/start.ts', 'import', '--memory', '--aircraft', 'Piped', '--datum', 'the bow'],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  child.stdout.destroy();
  let told = '';
  child.stderr.on('data', (chunk: Buffer) => {
    told += chunk.toString();
  });
  const exit = await new Promise((resolve) => child.once('close', resolve));
  expect({ exit, told }).toEqual({ exit: 0, told: '' });
});
