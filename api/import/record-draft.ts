/** Records a draft and tells on the way: a stream of lines of JSON. */
import type { Context } from 'hono';
import type { Kysely } from 'kysely';
import { Problem } from '#api/problem/problem.ts';
import { toProblem } from '#api/problem/to-problem.ts';
import type { Database } from '#db/database.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { ProblemReport } from '#shared/contract/aircraft.ts';
import type { ImportProgress } from '#shared/contract/import.ts';
import type { DraftAnswer } from './draft.ts';

type Recording = {
  readonly db: Kysely<Database>;
  readonly aircraftId: string;
  readonly first: DraftAnswer;
  /** The draft made anew, where somebody recorded in the meantime; throws where it is no longer what was shown. */
  readonly again: () => Promise<DraftAnswer>;
  readonly c: Context;
  readonly err: { write(text: string): unknown };
  readonly watch: { recorded(entries: number): void };
};

const MOST_TRIES = 20;

/** Carries out of the transaction that nobody listens any more. */
class Cancelled extends Error {}

export function recordingOf(recording: Recording): ReadableStream<Uint8Array> {
  let isCancelled = false;
  const encoder = new TextEncoder();
  return new ReadableStream<Uint8Array>({
    async start(controller) {
      const tell = (line: ImportProgress) => {
        if (!isCancelled) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      // The first line goes out at once: whoever waits for it then holds the rest, and can let go of it.
      tell({ recorded: 0, total: recording.first.contents.length });
      void record(recording, tell, () => isCancelled)
        .then((recorded) => tell({ done: { recorded, knownRows: knownRowsOf(recording.first) } }))
        .catch(async (error: unknown) => {
          if (!(error instanceof Cancelled)) tell({ failed: await reportOf(error, recording) });
        })
        .finally(() => {
          if (!isCancelled) controller.close();
        });
    },
    cancel() {
      isCancelled = true;
    },
  });
}

async function record(
  { db, aircraftId, first, again, watch }: Recording,
  tell: (line: ImportProgress) => void,
  isCancelled: () => boolean,
): Promise<number> {
  let draft = first;
  for (let tries = 1; ; tries += 1) {
    const { contents, headSeq } = draft;
    if (contents.length === 0) return 0;
    if (isCancelled()) throw new Cancelled();
    const onProgress = (recorded: number, total: number) => {
      // Thrown inside the transaction, which takes back what it has. After the last batch there is nothing left to take back.
      if (isCancelled() && recorded < total) throw new Cancelled();
      tell({ recorded, total });
    };
    const answer = await appendEntries(db, { aircraftId, contents, expectedSeq: headSeq, onProgress });
    if (answer.ok) {
      const recorded = answer.entries.filter(({ replayed }) => !replayed).length;
      watch.recorded(recorded);
      return recorded;
    }
    if (answer.refusal.code !== 'ledger-moved-on' || tries === MOST_TRIES) throw new Problem('list-moved-on');
    draft = await again();
  }
}

function knownRowsOf({ lists }: DraftAnswer): number {
  return Object.values(lists).reduce((sum, list) => sum + (list?.knownRows ?? 0), 0);
}

async function reportOf(error: unknown, { c, err }: Recording): Promise<ProblemReport> {
  return ProblemReport.parse(await toProblem(error, c, err).json());
}
