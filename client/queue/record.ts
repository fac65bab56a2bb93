/**
 * The one way of a weighing from the screen: first onto this device, then to the server. Whatever happens between the press and the answer, it
 * is in the queue or acknowledged.
 */

import { type ProblemReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError } from '../door/ask.ts';
import { putInQueue, queueNow, readQueue, takeFromQueue } from './queue-store.ts';
import { isRefused, type NewQueued, type Queued } from './queued.ts';
import { type Stopped, sendQueue } from './send.ts';

export type Outcome =
  | { readonly is: 'recorded'; readonly report: RecordedReport }
  /** It waits on this device; the person goes on. */
  | { readonly is: 'kept'; readonly why: Stopped | undefined };

/** So long the person at the scale waits for the server; after that the weighing goes on by itself. */
const PATIENCE_MS = 8000;

/**
 * Throws `ProblemError` where the server refuses it, while the person still has it before them: then nothing of it stays in the queue. Without
 * a store on this device it is sent all the same, and only the want of an answer is an error.
 */
export async function recordWeighing(one: NewQueued, replaces?: Queued): Promise<Outcome> {
  try {
    await putInQueue(one, replaces);
  } catch {
    return { is: 'recorded', report: await sendAlone(one) };
  }
  const late = Symbol('late');
  const round = await Promise.race([
    sendQueue(one.person.id),
    new Promise<typeof late>((resolve) => setTimeout(resolve, PATIENCE_MS, late)),
  ]);
  if (round === late) return { is: 'kept', why: 'unreachable' };
  const there = (await readQueue()).find(({ id }) => id === one.id);
  if (there === undefined)
    return { is: 'recorded', report: round.recorded.get(one.id)?.report ?? (await sendAlone(one)) };
  if (there.refused !== undefined) await giveBack(there, there.refused, replaces);
  if (round.stopped === 'signed out' && isAlone(there)) await giveBack(there, SIGNED_OUT, replaces);
  return { is: 'kept', why: round.stopped };
}

/** It is before the person, who puts it right: the queue is as it was before. */
async function giveBack(there: Queued, problem: ProblemReport, replaces: Queued | undefined): Promise<never> {
  if (replaces === undefined) await takeFromQueue(there);
  else await putInQueue(replaces, there);
  throw new ProblemError(problem);
}

/** Nothing else waits: then the weighing stays where it was typed, and is saved once more after signing in. */
function isAlone({ id }: Queued): boolean {
  return queueNow().every((other) => other.id === id || isRefused(other));
}

/** Also where another tab has sent it a moment ago: asked again with its id, the server answers as the first time (rule L3). */
function sendAlone(one: NewQueued): Promise<RecordedReport> {
  return ask(`/api/aircraft/${one.aircraftId}/entries`, {
    method: 'POST',
    body: { id: one.id, ...one.words },
    reply: RecordedReport,
    asPerson: one.person.id,
  });
}

const SIGNED_OUT: ProblemReport = {
  type: 'about:blank',
  title: say`Not signed in`,
  status: 401,
  detail: say`The session has ended.`,
  code: 'not-signed-in',
  remedy: say`Sign in and save it again.`,
};
