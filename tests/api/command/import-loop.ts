/**
 * Child of the kill test: runs the import command on list after list until it is killed or through. Says `try <list>` before each
 * import, `part <list>` after each batch of it that the database has taken, and `done <list>` after it was acknowledged; on a pipe these
 * writes are out when the call returns.
 */
import { join } from 'node:path';
import { runCommand } from '#api/command/run-command.ts';

const [url = '', folder = '', aircraft = '', files = '', ...lists] = process.argv.slice(2);

// A clock that goes on by seconds, so that the command tells its progress after every batch.
let clockMs = new Date('2026-06-15T12:00:00').getTime();
function now(): Date {
  clockMs += 2_000;
  return new Date(clockMs);
}

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
      err: {
        write: (text) =>
          / entries recorded$/.test(text.trim()) ? process.stdout.write(`part ${list}\n`) : process.stderr.write(text),
      },
      env: { DATABASE_URL: url },
      now,
      user: () => 'tess',
    },
  );
  if (exit !== 0) throw new Error(`the import of ${list} ended with ${exit}`);
  process.stdout.write(`done ${list}\n`);
}
