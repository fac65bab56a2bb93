/** Runs the command with this process's arguments, streams and environment. */
import { userInfo } from 'node:os';
import { runCommand } from './run-command.ts';

process.exitCode = await runCommand(process.argv.slice(2), {
  out: process.stdout,
  err: process.stderr,
  env: process.env,
  now: () => new Date(),
  user: () => userInfo().username,
});
