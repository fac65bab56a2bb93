/**
 * The one place where an error becomes an answer: RFC 9457 problem details. A bug tells the sender nothing but a number, under which
 * the log has the rest.
 */
import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type { z } from 'zod';
import { storeTrouble } from '#db/engine/store-trouble.ts';
import { TooBusy } from '#db/people/password.ts';
import type { ProblemReport } from '#shared/contract/aircraft.ts';
import { explain } from '#shared/problem/registry.ts';
import { pointerTo } from '#shared/words/path-problem.ts';
import { HTTP_PROBLEMS, type HttpProblemCode } from './http-problems.ts';
import { type Placed, Problem } from './problem.ts';

/**
 * More than any form has fields. A body of a hundred thousand unknown fields would else be answered at twelve times its length, to
 * anybody who sends one.
 */
const MOST_TOLD = 200;

export function toProblem(error: unknown, c: Context, log: { write(text: string): unknown }): Response {
  const problem = asProblem(error);
  const known = HTTP_PROBLEMS[problem.code];
  const isOurs = known.status >= 500;
  const requestId: string = c.get('requestId');
  if (problem.code === 'database-away' || problem.code === 'disk-full')
    log.write(`${known.title} (request ${requestId}): ${problem.cause}\n`);
  const [first] = problem.problems;
  const told = problem.problems.slice(0, MOST_TOLD);
  const detail = problem.problems.length === 1 && first !== undefined ? first.words : known.words;
  const report: ProblemReport = {
    type: `/api#${problem.code}`,
    title: known.title,
    status: known.status,
    detail: problem.code === 'server-fault' ? `${detail} (${logged(error, c, log)})` : withProgress(detail, problem),
    code: problem.code,
    remedy: problem.problems.length === 1 && first !== undefined ? first.remedy : known.remedy,
    ...(told.length === 0 ? {} : { problems: told }),
    ...(problem.progress === undefined ? {} : { progress: problem.progress }),
    ...(isOurs ? { requestId } : {}),
  };
  return c.body(JSON.stringify(report), known.status, {
    'Content-Type': 'application/problem+json',
    'Cache-Control': 'no-store',
    ...(problem.retryAfterS === undefined ? {} : { 'Retry-After': String(problem.retryAfterS) }),
  });
}

function withProgress(words: string, { progress }: Problem): string {
  if (progress === undefined) return words;
  const [done, of] = [progress.done, progress.of].map((count) => count.toLocaleString('en'));
  return `${words.replace(/\.$/, '')}: ${done} of ${of} entries.`;
}

/** Every issue of a body, a query or a path, each with its place. */
export function refusedShape(error: z.core.$ZodError): Problem {
  return new Problem('input-refused', { problems: error.issues.flatMap(placedIssues) });
}

function asProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (error instanceof TooBusy) return new Problem('busy', { retryAfterS: 3 });
  if (error instanceof HTTPException) {
    const code = EXCEPTIONS[error.status];
    if (code !== undefined) return new Problem(code);
  }
  if (isBrokenOff(error)) return new Problem('not-json');
  const trouble = storeTrouble(error);
  if (trouble === 'away') return new Problem('database-away', { cause: error, retryAfterS: 2 });
  if (trouble === 'disk full') return new Problem('disk-full', { cause: error, retryAfterS: 10 });
  return new Problem('server-fault', { cause: error });
}

/** The sender went away in the middle of its body. Nobody hears the answer; what is no trouble of the store must not be logged as that. */
function isBrokenOff(error: unknown): boolean {
  return error instanceof Error && error.message === 'aborted' && 'code' in error && error.code === 'ECONNRESET';
}

/** What the framework throws by itself. */
const EXCEPTIONS: Readonly<Record<number, HttpProblemCode>> = { 400: 'not-json', 413: 'too-large', 415: 'media-type' };

function placedIssues(issue: z.core.$ZodIssue): readonly Placed[] {
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({
      pointer: pointerTo([...issue.path, key]),
      code: 'field-unknown',
      words: 'This field is not known here.',
      remedy: 'Leave it out.',
    }));
  const isMissing = issue.code === 'invalid_type' && issue.message.endsWith('received undefined');
  const refusal = isMissing ? ({ code: 'missing' } as const) : ({ code: 'shape-refused', why: issue.message } as const);
  return [{ pointer: pointerTo(issue.path), code: refusal.code, ...explain(refusal) }];
}

function logged(error: unknown, c: Context, log: { write(text: string): unknown }): string {
  const id = c.get('requestId');
  const words = error instanceof Error ? (error.stack ?? error.message) : String(error);
  // The path is the sender's: with a line end in it, it would forge a line of the log.
  log.write(`Fault ${id} at ${c.req.method} ${encodeURI(c.req.path.toWellFormed())}: ${words}\n`);
  return `fault ${id}`;
}
