/**
 * Child of the kill test: runs the import command on list after list until it is killed or through. Says `try <list>` before each
 * import and `done <list>` after it was acknowledged; on a pipe these writes are out when the call returns.
 */
import { join } from 'node:path';
import { runCommand } from '#api/command/run-command.ts';

const [url = '', folder = '', aircraft = '', files = '', ...lists] = process.argv.slice(2);

for (const list of lists) {
  process.stdout.write(`try ${list}\n`);
  const exit = await runCommand(
    [
      'import',
      ...(folder === '' ? [] : ['--data', folder]),
      ...['--aircraft', aircraft, '--show', 'headline'],
      ...['--parts', join(files, `${list}.parts.csv`), '--weighings', join(files, `${list}.weighings.csv`)],
    ],
    {
      out: { write: () => undefined },
      err: process.stderr,
      env: { DATABASE_URL: url },
      now: () => new Date('2026-06-15T12:00:00'),
      user: () => 'tess',
    },
  );
  if (exit !== 0) throw new Error(`the import of ${list} ended with ${exit}`);
  process.stdout.write(`done ${list}\n`);
}
