/** Runs the command with this process's arguments, streams and environment. */
import { userInfo } from 'node:os';
import { localeRefusal } from '#api/words/chosen.ts';
import { runCommand } from './run-command.ts';
import { EXIT } from './surroundings.ts';

// Who reads only the beginning (`| head`) closes the pipe: that is no fault, and what was recorded is recorded.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });

if (localeRefusal === undefined)
  process.exitCode = await runCommand(process.argv.slice(2), {
    out: process.stdout,
    err: process.stderr,
    env: process.env,
    now: () => new Date(),
    user: () => userInfo().username,
  });
else {
  process.stderr.write(`${localeRefusal}\n`);
  process.exitCode = EXIT.badInput;
}
