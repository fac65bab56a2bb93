/** What the doors to one aircraft's ledger share: its path and query, and the reading of the ledger behind them. */
import { z } from '@hono/zod-openapi';
import { aircraftAt, type DoorContext } from '#api/door.ts';
import { refusedInput, stillReading } from '#api/problem/problem.ts';
import type { LiveRead } from '#db/record/live-ledgers.ts';
import type { Overview } from '#shared/bulk/overview.ts';
import type { Ledger } from '#shared/ledger/fold.ts';

export const params = z.object({ aircraftId: z.string().openapi({ format: 'uuid' }) });
/** Query fields are texts; only plain digits are a number here. */
export const whole = (least: number, most = 2_147_483_647) =>
  z
    .string()
    .regex(/^\d{1,10}$/, 'must be a whole number')
    .transform(Number)
    .pipe(z.int().min(least).max(most));
export const asKnownAt = whole(1)
  .optional()
  .openapi({ type: 'integer', description: 'The ledger as known at that entry' });
export const known = z.strictObject({ asKnownAt });

/** Reads the aircraft of the path, as it stands or as it was known at an entry. */
export async function read<Report>(
  c: DoorContext,
  seq: number | undefined,
  work: (ledger: Ledger) => Report,
): Promise<Report> {
  return told(await c.get('services').ledgers.read(aircraftAt(c).id, seq, work));
}

/** Reads the headline of that aircraft, which is known before its ledger is. */
export async function readHeadline<Report>(
  c: DoorContext,
  seq: number | undefined,
  work: (overview: Overview) => Report,
): Promise<Report> {
  return told(await c.get('services').ledgers.headline(aircraftAt(c).id, seq, work));
}

function told<Report>(answer: LiveRead<Report>): Report {
  if (answer.ok) return answer.value;
  if ('reading' in answer) throw stillReading(answer.reading);
  throw refusedInput([{ path: ['asKnownAt'], refusal: answer.refusal }]);
}

export function seqOf(ledger: Ledger): number {
  return ledger.entries.at(-1)?.seq ?? 0;
}
