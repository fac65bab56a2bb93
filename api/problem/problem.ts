/** The server's way of saying no: thrown by a door, turned into an answer by `to-problem.ts` alone. */
import { type Explained, explain, type Refusal, type RefusalCode } from '#shared/problem/registry.ts';
import { pointerTo } from '#shared/words/path-problem.ts';
import type { HttpProblemCode } from './http-problems.ts';

/** A problem at a place in what was sent. `pointer` is a JSON Pointer (RFC 6901). */
export type Placed = Explained & { readonly pointer: string; readonly code: string };

/** How far something has come that is still going on, in entries. */
export type Progress = { readonly done: number; readonly of: number };

export class Problem extends Error {
  readonly code: HttpProblemCode;
  readonly problems: readonly Placed[];
  readonly retryAfterS: number | undefined;
  readonly progress: Progress | undefined;

  constructor(
    code: HttpProblemCode,
    more: {
      readonly problems?: readonly Placed[];
      readonly retryAfterS?: number;
      readonly progress?: Progress;
      readonly cause?: unknown;
    } = {},
  ) {
    super(code, more.cause === undefined ? undefined : { cause: more.cause });
    this.code = code;
    this.problems = more.problems ?? [];
    this.retryAfterS = more.retryAfterS;
    this.progress = more.progress;
  }
}

/** What stands in the ledger and would have to give way; everything else is for the sender to change. */
const CONFLICTS: ReadonlySet<RefusalCode> = new Set([
  'entry-id-reused',
  'already-corrected',
  'number-taken',
  'aircraft-name-taken',
  'aircraft-here-already',
  'part-has-entries',
  'proposal-id-reused',
  'proposal-moved-on',
  'brief-id-reused',
  'brief-closed',
  'brief-moved-on',
]);

/** Refusals of the pure rules, each with the path of what it is about. */
export function refusedInput(
  refused: readonly { readonly path: readonly string[]; readonly refusal: Refusal }[],
): Problem {
  const [first] = refused;
  if (refused.length === 1 && first?.refusal.code === 'no-such-entry')
    return new Problem('no-such-entry', { problems: refused.map(placed) });
  const isConflict = refused.every(({ refusal }) => CONFLICTS.has(refusal.code));
  return new Problem(isConflict ? 'ledger-conflict' : 'input-refused', { problems: refused.map(placed) });
}

function placed({ path, refusal }: { readonly path: readonly string[]; readonly refusal: Refusal }): Placed {
  return { pointer: pointerTo(path), code: refusal.code, ...explain(refusal) };
}

/** A long ledger is still being read. */
export function stillReading(progress: Progress): Problem {
  return new Problem('reading-ledger', { progress, retryAfterS: 1 });
}
