/**
 * The command run inside the test: its words in, its exit status and everything it said out. Clock, user and environment are the
 * test's own, so that nothing of the machine gets into an answer.
 */
import type { z } from 'zod';
import { runCommand } from '#api/command/run-command.ts';
import type { Exit } from '#api/command/surroundings.ts';
import { Problems, Report } from './report-shape.ts';

/** The shop's noon on this day is "now" unless a test says otherwise. */
export const TODAY = '2026-06-15';
export const USER = 'tess';

export type Said = { readonly exit: Exit; readonly out: string; readonly err: string };

export type RunOptions = {
  readonly env?: Readonly<Record<string, string>>;
  readonly today?: string;
  /** Milliseconds by which the clock goes on with every look at it; 0 unless a test needs time to pass. */
  readonly tickMs?: number;
};

export async function run(words: readonly string[], options: RunOptions = {}): Promise<Said> {
  let out = '';
  let err = '';
  let clockMs = new Date(`${options.today ?? TODAY}T12:00:00`).getTime();
  const exit = await runCommand(words, {
    out: {
      write(text) {
        out += text;
      },
    },
    err: {
      write(text) {
        err += text;
      },
    },
    env: options.env ?? {},
    now() {
      clockMs += options.tickMs ?? 0;
      return new Date(clockMs);
    },
    user: () => USER,
  });
  return { exit, out, err };
}

/** What it printed as JSON, in a known shape. */
export function jsonOf<Shape extends z.ZodType>(said: Said, shape: Shape): z.infer<Shape> {
  return shape.parse(JSON.parse(said.out));
}

/** The report of a run that went well. */
export function reportOf(said: Said): Report {
  if (said.exit > 1) throw new Error(`The command ended with ${said.exit}. ${said.err}${said.out}`);
  return jsonOf(said, Report);
}

/** The problems of a run with `--json` that was refused. */
export function problemsOf(said: Said): Problems['problems'] {
  if (said.exit !== 2) throw new Error(`The command ended with ${said.exit}. ${said.err}${said.out}`);
  return jsonOf(said, Problems).problems;
}

/** `file:line:column code` or `file#pointer code`, one for each problem, in the order told. */
export function placesOf(said: Said): string[] {
  return problemsOf(said).map(({ file = '', line, column, pointer, code }) =>
    [`${file}${pointer === undefined ? `:${line ?? 0}:${column ?? 0}` : `#${pointer}`}`, code].join(' '),
  );
}
