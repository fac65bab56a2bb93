/**
 * Sends what waits, one after another, until the queue is empty or the server is gone. A weighing stays in the queue until the server has
 * acknowledged it; sent again with its id it is answered as the first time (rule L3), so a lost answer makes no second entry.
 */
import { z } from 'zod';
import { type ProblemReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ask, ProblemError } from '../door/ask.ts';
import { today } from '../words/days.ts';
import { changeInQueue, readQueue, takeFromQueue } from './queue-store.ts';
import { nextToSend, type Queued } from './queued.ts';

/** Why a round ended before the queue was empty. */
export type Stopped = 'unreachable' | 'signed out' | 'another person';

export type Round = {
  readonly stopped: Stopped | undefined;
  /** What the server answered to each that was acknowledged; undefined where this page cannot read the answer. */
  readonly recorded: ReadonlyMap<string, Recorded>;
};

type Recorded = { readonly aircraftId: string; readonly report: RecordedReport | undefined };

/** One round for the person who is signed in, after the one that is under way. */
export function sendQueue(personId: string): Promise<Round> {
  const round = inTurn.then(async () => {
    const made = await oneAtATime(() => sendWhatWaits(personId));
    stopped = made.stopped;
    for (const listener of listeners) listener();
    return made;
  });
  inTurn = round.catch(() => undefined);
  return round;
}

let stopped: Stopped | undefined;
const listeners = new Set<() => void>();

/** Why the last round ended before the queue was empty. */
export function stoppedNow(): Stopped | undefined {
  return stopped;
}

export function watchStopped(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

let inTurn: Promise<unknown> = Promise.resolve();

/**
 * In all tabs. Locks are there over TLS only. Without them two tabs may send the same weighing: the second is answered as a repeat, and each tab still
 * sends in order.
 */
function oneAtATime<Answer>(work: () => Promise<Answer>): Promise<Answer> {
  if (!('locks' in navigator)) return work();
  return navigator.locks.request('tarebook queue', work) as Promise<Answer>;
}

async function sendWhatWaits(personId: string): Promise<Round> {
  const recorded = new Map<string, Recorded>();
  const failed = new Set<string>();
  for (;;) {
    const next = nextToSend(await readQueue(), personId, failed);
    if (next === undefined) return { stopped: undefined, recorded };
    const answer = await send(next);
    if (answer.is === 'recorded') {
      recorded.set(next.id, { aircraftId: next.aircraftId, report: answer.report });
      await takeFromQueue(next);
    } else if (answer.is === 'refused') await changeInQueue(next, { refused: answer.problem, hasFailed: false });
    else if (answer.is === 'failed') {
      failed.add(next.id);
      await changeInQueue(next, { hasFailed: true });
    } else return { stopped: answer.is, recorded };
  }
}

type Answer =
  | { readonly is: 'recorded'; readonly report: RecordedReport | undefined }
  | { readonly is: 'refused'; readonly problem: ProblemReport }
  /** The server broke over this one; another may go through. */
  | { readonly is: 'failed' }
  | { readonly is: Stopped };

async function send(one: Queued): Promise<Answer> {
  try {
    return { is: 'recorded', report: await post(one, statesDay(one)) };
  } catch (error) {
    if (!(error instanceof ProblemError)) return { is: 'failed' };
    const answer = answerOf(error.report);
    // The first answer was lost, and the server had given the entry its own day, which was another than this device's.
    if (answer.is === 'refused' && statesDay(one) && isReused(error.report)) {
      const again = await post(one, false).catch(() => undefined);
      if (again !== undefined) return { is: 'recorded', report: again };
    }
    return answer;
  }
}

/** Sent at once, the day is the server's to say; later, the day on which it was weighed is stated. */
const AT_ONCE_MS = 600_000;

function statesDay({ weighedAt, day }: Queued): boolean {
  const ageMs = Date.now() - Date.parse(weighedAt);
  return !(ageMs >= 0 && ageMs < AT_ONCE_MS && day === today());
}

/** What is sent must be answered in this time; the answer of a slow server is asked for again, and known for the same. */
const PATIENCE_MS = 30_000;

const Acknowledged = z.looseObject({ entry: z.looseObject({ seq: z.int() }) });

async function post(one: Queued, withDay: boolean): Promise<RecordedReport | undefined> {
  const answer = await ask(`/api/aircraft/${one.aircraftId}/entries`, {
    method: 'POST',
    body: { id: one.id, ...one.words, ...(withDay ? { happenedOn: one.day } : {}) },
    // A newer server may say more or other things of it; that it is recorded is all that has to be understood.
    reply: Acknowledged,
    asPerson: one.person.id,
    signal: AbortSignal.timeout(PATIENCE_MS),
  });
  const read = RecordedReport.safeParse(answer);
  return read.success ? read.data : undefined;
}

/** Answers that say nothing of what was sent, but of the way to the server or of a moment. */
const WAIT_AND_TRY = new Set([0, 408, 425, 429, 502, 503, 504]);

export function answerOf(report: ProblemReport): Exclude<Answer, { is: 'recorded' }> {
  if (WAIT_AND_TRY.has(report.status)) return { is: 'unreachable' };
  if (report.status === 401) return { is: 'signed out' };
  if (report.code === 'other-person') return { is: 'another person' };
  if (report.status >= 500) return { is: 'failed' };
  return { is: 'refused', problem: report };
}

function isReused(report: ProblemReport): boolean {
  return report.problems?.some(({ code }) => code === 'entry-id-reused') === true;
}
