/** Runs the command with this process's arguments, streams and environment. */
import { userInfo } from 'node:os';
import { runCommand } from './run-command.ts';

// Who reads only the beginning (`| head`) closes the pipe: that is no fault, and what was recorded is recorded.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });

process.exitCode = await runCommand(process.argv.slice(2), {
  out: process.stdout,
  err: process.stderr,
  env: process.env,
  now: () => new Date(),
  user: () => userInfo().username,
});
